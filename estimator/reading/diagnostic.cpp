#include "reading/diagnostic.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <string_view>
#include <tuple>

namespace portweigh::reading {
namespace {

constexpr std::size_t longest_shown_line = 240;

// A value quoted from a file must not move the cursor of a terminal or break a message in two.
std::string printable(std::string_view text) {
  std::string result(text);
  for (char& c : result) {
    const auto byte = static_cast<unsigned char>(c);
    if ((byte < 0x20 && c != '\t') || byte == 0x7F) c = '?';
  }
  return result;
}

bool is_continuation(char c) {
  return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// Blanks up to the column, tabs kept so that the caret stays below its character.
std::string caret_below(std::string_view line, int column) {
  std::string blanks;
  int at = 1;
  for (const char c : line) {
    if (is_continuation(c)) continue;
    if (at >= column) break;
    blanks += c == '\t' ? '\t' : ' ';
    ++at;
  }
  blanks.append(static_cast<std::size_t>(std::max(0, column - at)), ' ');
  return blanks + '^';
}

std::string all_lines(const Diagnostics& diagnostics) {
  std::string text;
  for (const auto& diagnostic : diagnostics.all()) {
    if (!text.empty()) text += '\n';
    text += to_text(diagnostic);
  }
  return text;
}

Diagnostics only(Diagnostic diagnostic) {
  Diagnostics diagnostics;
  diagnostics.add(std::move(diagnostic));
  return diagnostics;
}

}  // namespace

std::string to_text(const Diagnostic& diagnostic) {
  std::string text = printable(diagnostic.file);
  if (diagnostic.line > 0) text += fmt::format(":{}:{}", diagnostic.line, diagnostic.column);
  text += ": " + printable(diagnostic.message);
  const auto& line = diagnostic.source_line;
  if (diagnostic.line > 0 && !line.empty() && line.size() <= longest_shown_line) {
    text += "\n  " + printable(line) + "\n  " + caret_below(line, diagnostic.column);
  }
  return text;
}

void Diagnostics::add(Diagnostic diagnostic) {
  all_.push_back(std::move(diagnostic));
}

void Diagnostics::append(const Diagnostics& other) {
  all_.insert(all_.end(), other.all_.begin(), other.all_.end());
}

void Diagnostics::sort() {
  std::map<std::string, std::size_t> file_order;
  for (const auto& diagnostic : all_) file_order.emplace(diagnostic.file, file_order.size());
  std::stable_sort(all_.begin(), all_.end(), [&](const Diagnostic& a, const Diagnostic& b) {
    return std::tuple(file_order.at(a.file), a.line, a.column) <
           std::tuple(file_order.at(b.file), b.line, b.column);
  });
  const auto is_same = [](const Diagnostic& a, const Diagnostic& b) {
    return std::tie(a.file, a.line, a.column, a.message) == std::tie(b.file, b.line, b.column, b.message);
  };
  all_.erase(std::unique(all_.begin(), all_.end(), is_same), all_.end());
}

InputError::InputError(Diagnostics diagnostics)
    : std::runtime_error(all_lines(diagnostics)), diagnostics_(std::move(diagnostics)) {}

InputError::InputError(Diagnostic diagnostic) : InputError(only(std::move(diagnostic))) {}

}  // namespace portweigh::reading

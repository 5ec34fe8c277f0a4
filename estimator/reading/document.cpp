#include "reading/document.hpp"

#include <toml++/toml.h>

#include <fmt/core.h>

#include <algorithm>
#include <fstream>

#include "reading/document_state.hpp"
#include "reading/suggest.hpp"
#include "reading/table_reader.hpp"

namespace portweigh::reading {
namespace {

// Longer lines hold thousands of nested tables ("a.a.a...") or no text a person wrote.
constexpr std::size_t longest_line = 16384;

std::vector<std::size_t> find_line_starts(std::string_view text) {
  std::vector<std::size_t> starts = {0};
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\n') starts.push_back(i + 1);
  }
  return starts;
}

void refuse_long_lines(DocumentState& state) {
  for (std::size_t i = 0; i < state.line_starts.size(); ++i) {
    const auto end = i + 1 < state.line_starts.size() ? state.line_starts[i + 1] : state.text.size();
    if (end - state.line_starts[i] > longest_line) {
      throw InputError(
          {state.name, static_cast<int>(i + 1), 1,
           fmt::format("a line of {} bytes, expected at most {}", end - state.line_starts[i], longest_line),
           ""});
    }
  }
}

InputError without_place(const std::filesystem::path& path, std::string message) {
  return InputError({path.string(), 0, 0, std::move(message), ""});
}

}  // namespace

std::string DocumentState::line(std::size_t number) const {
  if (number == 0 || number > line_starts.size()) return {};
  const auto start = line_starts[number - 1];
  auto end = number < line_starts.size() ? line_starts[number] - 1 : text.size();
  if (end > start && text[end - 1] == '\r') --end;
  return text.substr(start, end - start);
}

void DocumentState::report(const toml::source_position& where, std::string message) {
  // The root table has no place of its own.
  const auto line_number = std::max<std::size_t>(where.line, 1);
  const auto column = std::max<std::size_t>(where.column, 1);
  diagnostics.add(
      {name, static_cast<int>(line_number), static_cast<int>(column), std::move(message), line(line_number)});
}

void DocumentState::finish(const toml::table& of) {
  auto& known = asked[&of];
  if (known.is_finished) return;
  known.is_finished = true;
  std::sort(known.keys.begin(), known.keys.end());
  for (auto&& [key, value] : of) {
    if (!std::binary_search(known.keys.begin(), known.keys.end(), key.str())) {
      report(key.source().begin, unknown_name_message("key", key.str(), known.keys));
    }
  }
}

Document::Document(std::unique_ptr<DocumentState> state) : state_(std::move(state)) {}
Document::~Document() = default;
Document::Document(Document&&) noexcept = default;
Document& Document::operator=(Document&&) noexcept = default;

std::string read_text_file(const std::filesystem::path& path, std::uintmax_t largest_bytes) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) throw without_place(path, "no such file");
  if (error) throw FileError(fmt::format("{}: cannot read: {}", path.string(), error.message()));
  if (std::filesystem::is_directory(status)) throw without_place(path, "is a folder, expected a file");
  std::ifstream stream(path, std::ios::binary);
  if (!stream) throw FileError(fmt::format("{}: cannot read", path.string()));
  // Read, not asked for its size: the file may be a pipe.
  std::string text;
  char buffer[65536];
  while (text.size() <= largest_bytes && (stream.read(buffer, sizeof buffer) || stream.gcount() > 0)) {
    text.append(buffer, static_cast<std::size_t>(stream.gcount()));
  }
  if (stream.bad()) throw FileError(fmt::format("{}: cannot read", path.string()));
  if (text.size() > largest_bytes) {
    throw without_place(path, fmt::format("larger than {} bytes, expected a smaller file", largest_bytes));
  }
  return text;
}

Document Document::load(const std::filesystem::path& path) {
  return parse(read_text_file(path), path.string());
}

Document Document::parse(std::string text, std::string name) {
  auto state = std::make_unique<DocumentState>();
  state->name = std::move(name);
  state->text = std::move(text);
  state->line_starts = find_line_starts(state->text);
  refuse_long_lines(*state);
  try {
    state->table = toml::parse(std::string_view(state->text), std::string_view(state->name));
  } catch (const toml::parse_error& error) {
    state->report(error.source().begin, std::string(error.description()));
    throw InputError(state->diagnostics);
  }
  return Document(std::move(state));
}

TableReader Document::root() {
  return {*state_, &state_->table, "", ""};
}
const toml::table& Document::table() const {
  return state_->table;
}
const std::string& Document::name() const {
  return state_->name;
}
const Diagnostics& Document::diagnostics() const {
  return state_->diagnostics;
}

void Document::report(const toml::source_region& where, std::string message) {
  state_->report(where.begin, std::move(message));
}

void Document::throw_if_errors(const Diagnostics& others) {
  std::vector<const toml::table*> opened;
  for (const auto& [table, keys] : state_->asked) opened.push_back(table);
  for (const auto* table : opened) state_->finish(*table);
  state_->diagnostics.sort();
  Diagnostics all = state_->diagnostics;
  all.append(others);
  if (!all.is_empty()) throw InputError(std::move(all));
}

}  // namespace portweigh::reading

#include "report/terminal/text_table.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

namespace portweigh::report {
namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t at = 0; at < text.size();) {
    const std::size_t end = std::min(text.find('\n', at), text.size());
    lines.push_back(text.substr(at, end - at));
    at = end + 1;
  }
  return lines;
}

// A cell as lines of at most `width`; it keeps its indent.
std::vector<std::string> broken(const std::string& cell, std::size_t width) {
  if (display_width(cell) <= width) return {cell};
  const std::size_t indent = cell.find_first_not_of(' ');
  const int room = static_cast<int>(width - std::min(indent, width - 1));
  std::vector<std::string> lines;
  for (const std::string& line : lines_of(wrap(cell.substr(indent), room, "  "))) {
    for (const std::string& part : lines_of(wrap_name(line, room, "  "))) {
      lines.push_back(std::string(indent, ' ') + part);
    }
  }
  return lines;
}

}  // namespace

std::size_t display_width(std::string_view text) {
  std::size_t width = 0;
  bool is_escape = false;
  for (const char c : text) {
    if (c == '\x1b') is_escape = true;
    const bool starts_character = (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    width += !is_escape && starts_character ? 1 : 0;
    if (c == 'm') is_escape = false;
  }
  return width;
}

void TextTable::add_row(std::vector<std::string> cells) {
  if (cells.size() > columns_.size()) {
    throw std::logic_error(fmt::format("{} cells for {} columns", cells.size(), columns_.size()));
  }
  cells.resize(columns_.size());
  rows_.push_back(std::move(cells));
}

std::vector<std::size_t> TextTable::natural_widths() const {
  std::vector<std::size_t> widths;
  for (std::size_t c = 0; c < columns_.size(); ++c) {
    std::size_t width = display_width(columns_[c].title);
    for (const auto& row : rows_) width = std::max(width, display_width(row[c]));
    widths.push_back(width);
  }
  return widths;
}

std::string TextTable::to_text() const {
  return to_text(natural_widths());
}

std::string TextTable::to_text(int columns) const {
  constexpr std::size_t least = 12;
  std::vector<std::size_t> widths = natural_widths();
  std::size_t total = gap_ * (widths.size() - 1);
  for (const std::size_t width : widths) total += width;
  for (; total > static_cast<std::size_t>(columns); --total) {
    std::size_t* widest = nullptr;
    for (std::size_t c = 0; c < widths.size(); ++c) {
      const bool can_shrink = columns_[c].align == Align::left && widths[c] > least;
      if (can_shrink && (widest == nullptr || widths[c] > *widest)) widest = &widths[c];
    }
    if (widest == nullptr) break;
    --*widest;
  }
  return to_text(widths);
}

std::string TextTable::to_text(const std::vector<std::size_t>& widths) const {
  std::string text;
  const auto add_line = [&](const std::vector<std::vector<std::string>>& cells, std::size_t at) {
    std::string line;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      const std::string cell = at < cells[c].size() ? cells[c][at] : "";
      const std::size_t width = display_width(cell);
      const std::string padding(widths[c] > width ? widths[c] - width : 0, ' ');
      if (c > 0) line += std::string(gap_, ' ');
      line += columns_[c].align == Align::left ? cell + padding : padding + cell;
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  };
  const auto add_row = [&](const auto& cell_of) {
    std::vector<std::vector<std::string>> cells;
    std::size_t height = 1;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
      cells.push_back(broken(cell_of(c), widths[c]));
      height = std::max(height, cells.back().size());
    }
    for (std::size_t at = 0; at < height; ++at) add_line(cells, at);
  };
  add_row([&](std::size_t c) -> const std::string& { return columns_[c].title; });
  for (const auto& row : rows_) add_row([&](std::size_t c) -> const std::string& { return row[c]; });
  return text;
}

std::string wrap(std::string_view text, int columns, std::string_view indent) {
  std::string result;
  std::string line;
  std::size_t position = 0;
  while (position <= text.size()) {
    std::size_t end = std::min(text.find(' ', position), text.size());
    // A number keeps its percent sign.
    while (text.substr(end).starts_with(" %")) end = std::min(text.find(' ', end + 1), text.size());
    const std::string_view word = text.substr(position, end - position);
    const bool is_first = line.empty() || line == indent;
    if (!is_first && display_width(line) + 1 + display_width(word) > static_cast<std::size_t>(columns)) {
      result += line + "\n";
      line = indent;
      line += word;
    } else {
      if (!is_first) line += ' ';
      line += word;
    }
    position = end + 1;
  }
  return result + line + "\n";
}

std::string wrap_name(std::string_view text, int columns, std::string_view indent) {
  const auto width = static_cast<std::size_t>(columns);
  std::string result;
  std::string line;
  while (!text.empty()) {
    const std::size_t at = text.find_first_of("/+,.|_");
    const std::string_view piece = text.substr(0, at == std::string_view::npos ? text.size() : at + 1);
    if (display_width(line) + display_width(piece) > width && line.size() > indent.size()) {
      result += line + "\n";
      line = indent;
    }
    line += piece;
    text.remove_prefix(piece.size());
  }
  return result + line + "\n";
}

std::string margin_bar(double margin, int width) {
  const double clamped = std::clamp(margin, -1.0, 1.0);
  const auto filled = static_cast<std::size_t>(std::lround(std::abs(clamped) * width));
  const char mark = clamped < 0 ? '!' : '=';
  std::string bar(std::max<std::size_t>(filled, clamped < 0 ? 1 : 0), mark);
  bar.resize(static_cast<std::size_t>(width), clamped < 0 ? ' ' : '.');
  return bar;
}

}  // namespace portweigh::report

// Aligned tables and wrapped text for terminals.
//
// Columns are as wide as their widest cell; numbers are right-aligned. Widths count characters, not bytes.
// Tested by tests/report/terminal/text_table_test.cpp.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace portweigh::report {

enum class Align { left, right };

struct Column {
  std::string title;
  Align align = Align::right;
};

class TextTable {
 public:
  explicit TextTable(std::vector<Column> columns, std::size_t gap = 2)
      : columns_(std::move(columns)), gap_(gap) {}
  // Missing cells are empty; surplus cells throw std::logic_error.
  void add_row(std::vector<std::string> cells);
  std::size_t size() const { return rows_.size(); }
  // Lines end with a newline; `gap` spaces between columns; no trailing spaces.
  std::string to_text() const;
  // The same, but no wider than `columns` where that can be had: the widest left-aligned columns are narrowed
  // and their cells broken, at spaces or as names are.
  std::string to_text(int columns) const;

 private:
  std::vector<std::size_t> natural_widths() const;
  std::string to_text(const std::vector<std::size_t>& widths) const;

  std::vector<Column> columns_;
  std::size_t gap_;
  std::vector<std::vector<std::string>> rows_;
};

// Breaks at spaces so that no line is longer than `columns`, unless one word is; later lines get the indent.
// A percent sign stays with its number.
std::string wrap(std::string_view text, int columns, std::string_view indent);

// The same for one long name, which breaks after / + , . | and _.
std::string wrap_name(std::string_view text, int columns, std::string_view indent);

// Number of characters (code points) of a UTF-8 text, without the escape sequences of colours.
std::size_t display_width(std::string_view text);

// A bar of `width` characters for a margin between -1 and 1: "######----" or "!!!!      " where it is
// negative.
std::string margin_bar(double margin, int width);

}  // namespace portweigh::report

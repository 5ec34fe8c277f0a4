// Where a number comes from: the place in a file and the words that justify it.
#pragma once

#include <string>

namespace portweigh::figures {

struct Source {
  std::string text;  // "typical of 65 nm low-power fabrics"; empty if nobody said
  std::string file;  // empty for computed inputs ("covering run")
  int line = 0;      // from 1; 0 when there is no file
  int column = 0;    // from 1; 0 when there is no file

  friend bool operator==(const Source&, const Source&) = default;
};

// A value with its spread, in SI units. low <= typical <= high.
struct Range {
  double low = 0.0;
  double typical = 0.0;
  double high = 0.0;

  friend bool operator==(const Range&, const Range&) = default;
};

[[nodiscard]] inline Range exactly(double value_si) {
  return {value_si, value_si, value_si};
}

// catalog/x.toml:12:1, or the empty string when there is no file.
[[nodiscard]] inline std::string place_of(const Source& source) {
  if (source.file.empty() || source.line == 0) return source.file;
  return source.file + ":" + std::to_string(source.line) + ":" + std::to_string(source.column);
}

}  // namespace portweigh::figures

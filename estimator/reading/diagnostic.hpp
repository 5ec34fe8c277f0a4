// Mistakes in input files, told the way a compiler tells them, all of a file in one run.
//
//   catalog/pl-2k.toml:12:1: unknown key "leakge", expected one of clock, leakage; nearest: "leakage"
//     leakge = "2 mW"
//     ^
// InputError is the one exception for input mistakes; it is thrown by readers and caught in the verb (exit
// code 2). FileError is for files that can't be read or written (exit code 3). A file the user named that
// doesn't exist is bad input, so InputError. Tested by tests/reading/diagnostic_test.cpp.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace portweigh::reading {

struct Diagnostic {
  std::string file;
  int line = 0;    // from 1; 0 if the mistake has no place in the file
  int column = 0;  // from 1, in characters (not bytes)
  std::string message;
  std::string source_line;  // the line as written, without its end; empty if unknown
};

// "file:line:column: message", then the line and a caret below, when known. No newline at the end.
[[nodiscard]] std::string to_text(const Diagnostic& diagnostic);

class Diagnostics {
 public:
  void add(Diagnostic diagnostic);
  void append(const Diagnostics& other);
  [[nodiscard]] bool is_empty() const { return all_.empty(); }
  [[nodiscard]] const std::vector<Diagnostic>& all() const { return all_; }
  // By file (in order of first mention), line and column; the same mistake is told once.
  void sort();

 private:
  std::vector<Diagnostic> all_;
};

class InputError : public std::runtime_error {
 public:
  explicit InputError(Diagnostics diagnostics);
  explicit InputError(Diagnostic diagnostic);
  [[nodiscard]] const Diagnostics& diagnostics() const { return diagnostics_; }

 private:
  Diagnostics diagnostics_;
};

class FileError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace portweigh::reading

// One TOML file: its text (for carets), its table, and the mistakes found in it so far.
//
//     auto document = Document::load("studies/cable.toml");
//     auto root = document.root();                 // a TableReader
//     auto name = root.required_string("name");
//     document.throw_if_errors();                  // InputError with every mistake of the file
// Text that isn't TOML throws InputError at once, since nothing after it could be trusted.
// Tested by tests/reading/document_test.cpp.
#pragma once

#include <toml++/impl/forward_declarations.h>

#include <cstdint>
#include <filesystem>
#include <memory>
#include <string>

#include "reading/diagnostic.hpp"

namespace portweigh::reading {

class TableReader;
struct DocumentState;

class Document {
 public:
  static constexpr std::uintmax_t largest_file_bytes = 4U << 20U;

  // InputError: no such file, too large, not UTF-8 TOML. FileError: exists but can't be read.
  [[nodiscard]] static Document load(const std::filesystem::path& path);
  // `name` stands for the file in messages.
  [[nodiscard]] static Document parse(std::string text, std::string name);

  ~Document();
  Document(Document&&) noexcept;
  Document& operator=(Document&&) noexcept;

  // Readers stay valid while the document lives, also after a move.
  [[nodiscard]] TableReader root();
  [[nodiscard]] const toml::table& table() const;
  [[nodiscard]] const std::string& name() const;

  void report(const toml::source_region& where, std::string message);
  [[nodiscard]] const Diagnostics& diagnostics() const;

  // Reports unknown keys of every table a reader was opened on (unless finish() has done so), then throws
  // InputError if there is any mistake, also one of `others`: of files that this one names.
  void throw_if_errors(const Diagnostics& others = {});

 private:
  explicit Document(std::unique_ptr<DocumentState> state);
  std::unique_ptr<DocumentState> state_;
};

// The whole file as bytes; errors as Document::load. For readers of other formats.
[[nodiscard]] std::string read_text_file(const std::filesystem::path& path,
                                         std::uintmax_t largest_bytes = Document::largest_file_bytes);

}  // namespace portweigh::reading

// What a Document holds; apart from document.hpp so that readers can point at it while the document moves.
#pragma once

#include <toml++/toml.h>

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "reading/diagnostic.hpp"

namespace portweigh::reading {

// The keys of one table that a reader asked for.
struct AskedKeys {
  std::vector<std::string> keys;  // each once, in the order of asking
  bool is_finished = false;       // unknown keys were reported
};

struct DocumentState {
  std::string name;
  std::string text;
  std::vector<std::size_t> line_starts;
  toml::table table;
  Diagnostics diagnostics;
  std::map<const toml::table*, AskedKeys> asked;

  // Line from 1, without its end; empty outside the text.
  [[nodiscard]] std::string line(std::size_t number) const;
  void report(const toml::source_position& where, std::string message);
  void finish(const toml::table& of);
};

}  // namespace portweigh::reading

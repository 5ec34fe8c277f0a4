// What a part's reader needs to know of the rest of the catalog, to check names across files.
//
// Tested by tests/parts/catalog_test.cpp.
#pragma once

#include <map>
#include <string>
#include <vector>

namespace portweigh::parts {

struct ReadingContext {
  std::string expected_id;                 // the file's name without its extension
  std::vector<std::string> core_classes;   // names of catalog/cores
  std::vector<std::string> currencies;     // codes with a rate, the base included; empty: unknown, unchecked
  std::map<std::string, std::string> ids;  // part id -> file, of the parts read so far
};

}  // namespace portweigh::parts

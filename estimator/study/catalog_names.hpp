// The names of a catalog that a study may refer to, found from file names and keys alone.
//
// A part's file is named after its id and a core class' file after the class (the catalog's reader sees to
// it), so a study can be checked without reading the parts. Tested by tests/study/study_reader_test.cpp.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace portweigh::study {

struct CatalogNames {
  std::vector<std::string> functions;
  std::vector<std::string> core_classes;
  std::vector<std::string> parts;       // programmable logic, microcontrollers, fixed function
  std::vector<std::string> currencies;  // codes with a rate, the base included
  // Of all functions: a change of the standard may touch nothing of the study's own function and still be
  // right.
  std::vector<std::string> revision_groups;
};

// All sorted by name. A folder or table that isn't there gives no names.
CatalogNames names_in_catalog(const std::filesystem::path& catalog_folder);

}  // namespace portweigh::study

// A family of products that may share a platform: each product is a study, or a study with changes.
//
//     name = "meters"
//     [[product]]
//     name = "basic"
//     study = "flow-meter.toml"          # path from the family's own folder
//     volume_per_year = 90000            # optional: in place of the study's
//     function = "source"               # optional, a function of the catalog; also years and
//     [[product.budget]]
// A budget of a product replaces those of the study on the same figure. All studies are in one currency.
// Tested by tests/study/family_reader_test.cpp.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "study/study.hpp"

namespace portweigh::study {

struct FamilyProduct {
  std::string name;
  Study study;
};

struct Family {
  std::string name;
  std::string summary;
  std::string currency;
  std::vector<FamilyProduct> products;
};

// Throws reading::InputError with every mistake, those of the studies included.
Family read_family(const std::filesystem::path& file, const std::filesystem::path& catalog_folder);

}  // namespace portweigh::study

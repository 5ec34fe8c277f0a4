// Lists of names: parts, core classes, and the inputs and figures of a study's options.
//
// Tested by tests/project/printed_text_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "options/option.hpp"

namespace portweigh::report {

struct Listing {
  std::string name;
  std::vector<std::string> titles;
  std::vector<std::vector<std::string>> rows;
};

// Sorted by key; an input or figure that several options share is named once.
Listing list_inputs(const std::vector<options::Option>& options);
Listing list_figures(const std::vector<options::Option>& options);

std::string listing_text(const Listing& listing);
nlohmann::ordered_json listing_json(const Listing& listing);

}  // namespace portweigh::report

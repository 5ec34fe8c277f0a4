// What every result that ranks or recommends carries beside its figures: the cautions, and the parts that the
// study leaves out with the study's own reasons.
//
// Parts count as considered where the study looks at them; parts beside the main one always do. How many of
// them are invented is said only where any is. Tested by tests/report/notices_test.cpp.
#pragma once

#include <cstddef>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "parts/catalog.hpp"
#include "study/family_reader.hpp"

namespace portweigh::report {

struct ConsideredParts {
  std::size_t all = 0;
  std::size_t invented = 0;
};

struct Exclusion {
  std::string id;
  std::string reason;
  std::string scope;  // products of a family, or which of two runs; empty: all that is shown
  friend bool operator==(const Exclusion&, const Exclusion&) = default;
};

struct Notices {
  std::vector<std::string> cautions;
  std::vector<Exclusion> excluded;
};

// One sentence each; together they take three lines of a terminal.
std::vector<std::string> cautions(const ConsideredParts& parts);

Notices notices_of(const parts::Catalog& catalog, const study::Study& study);
Notices notices_of(const parts::Catalog& catalog, const study::Family& family);
// Of two runs: the cautions of both, each once, and what was left out of one of them only with that run's
// name, "before" or "after".
Notices merged(const Notices& before, const Notices& after);

// "Left out by the study: ID, ID: reason", a line for each reason.
std::vector<std::string> exclusion_lines(const std::vector<Exclusion>& excluded);

// Both for a terminal, a blank line above.
std::string notices_text(const Notices& notices);

// Sets "excluded" and "cautions".
void add_notices(nlohmann::ordered_json& json, const Notices& notices);
// What add_notices has set; cautions and exclusions that are absent are none.
Notices notices_in(const nlohmann::ordered_json& json);

}  // namespace portweigh::report

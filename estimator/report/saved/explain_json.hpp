// A derivation as JSON: one entry for each line, depth first.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "figures/ledger/explain.hpp"
#include "options/option.hpp"

namespace portweigh::report {

nlohmann::ordered_json explain_json(const options::Option& option, const figures::Explanation& explanation);

}  // namespace portweigh::report

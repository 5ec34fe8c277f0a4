// Options of the demo study after a change of the study, and small ledgers for formulas on their own.
#pragma once

#include <string>
#include <vector>

#include "figures/evaluation/evaluate.hpp"
#include "options/search/consider.hpp"

namespace portweigh::tests {

// The demo study with three parts only: a fixed function, a programmable logic device, a microcontroller; and with one
// cost of certification, whatever carries the protocol.
study::Study study_of_three();

options::Considered considered_with(study::Study study);

// Fails the test if there is no such option.
const options::Option& option_named(const options::Considered& considered, const std::string& id);

double value_of(const options::Option& option, const std::string& key,
                const std::vector<figures::Setting>& settings = {});

reading::SourcedRange exact_range(double value, const std::string& unit = "1");

// A dimensionless or money input of a ledger, exact.
figures::Figure number(figures::Ledger& ledger, const std::string& key, double value,
                       const std::string& unit = "1");

inline const std::string fixed_id = "ff-sink";
inline const std::string logic_id = "pl-flash-d";

}  // namespace portweigh::tests

// One option's figures over the shared samples.
#pragma once

#include <Eigen/Core>
#include <string>
#include <vector>

#include "figures/sampling.hpp"
#include "options/option.hpp"

namespace portweigh::decision {

struct OptionSamples {
  std::vector<std::string> keys;  // figures, in the order of the columns
  std::vector<double> typical;    // SI
  Eigen::ArrayXXd values;         // samples x figures, SI
};

// Figures that the option lacks are left out.
OptionSamples sample_option(const options::Option& option, const std::vector<std::string>& keys,
                            const figures::SampleTable& table);

// Column of a figure, or -1.
Eigen::Index column_of(const OptionSamples& samples, const std::string& key);

// The value below which `share` of the column's values lie (nearest rank).
double quantile(const Eigen::Ref<const Eigen::ArrayXd>& column, double share);

}  // namespace portweigh::decision

// All options at many points of some inputs: who leads, by how much, and one figure of each.
//
// At a point an option is feasible if it keeps every hard budget and implied limit; among feasible options
// the one with the largest score (weighted margin, options/limits.hpp) leads; none leads where none is
// feasible. Other inputs stay typical. Where the points move the ambient, temperatures count from the moved
// one, as for a study that says so. Points are evaluated as vectors, so that a thousand cost little more
// than one. Tested by tests/exploration/field_test.cpp.
#pragma once

#include <Eigen/Core>
#include <map>
#include <string>
#include <vector>

#include "figures/evaluation/sample_evaluator.hpp"
#include "options/limits.hpp"
#include "options/option.hpp"

namespace portweigh::exploration {

// Values of inputs by key, all of one length.
using Points = std::map<std::string, std::vector<double>, std::less<>>;

struct FieldValues {
  Eigen::ArrayXXd score;     // points x options
  Eigen::ArrayXXd feasible;  // 1 or 0
  Eigen::ArrayXXd figure;    // the wanted figure, SI; NaN where an option lacks it
  // Option that leads at a point, or -1.
  std::vector<Eigen::Index> leader;
};

class Field {
 public:
  // Keeps references to the options.
  Field(const std::vector<options::Option>& options, const study::Study& study, const std::string& figure);

  FieldValues at(const Points& points, Eigen::Index count) const;
  std::size_t size() const { return evaluated_.size(); }
  // K, of all options' hard limits and wishes.
  double lowest_temperature_limit(double otherwise_k) const;

 private:
  struct Evaluated {
    const options::Option* option;
    std::vector<options::Limit> limits;
    std::vector<Eigen::Index> columns;  // of each limit's figure in the evaluator's result
    Eigen::Index figure_column = -1;
    figures::SampleEvaluator evaluator;
  };

  std::vector<Evaluated> evaluated_;
};

}  // namespace portweigh::exploration

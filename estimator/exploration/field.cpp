#include "exploration/field.hpp"

#include <limits>

namespace portweigh::exploration {

Field::Field(const std::vector<options::Option>& options, const study::Study& study,
             const std::string& figure) {
  for (const options::Option& option : options) {
    std::vector<figures::Figure> wanted;
    std::vector<options::Limit> limits;
    std::vector<Eigen::Index> columns;
    for (options::Limit& limit : options::limits_of(option, study)) {
      const auto found = option.ledger.find(limit.figure);
      if (!found) continue;
      columns.push_back(static_cast<Eigen::Index>(wanted.size()));
      wanted.push_back(*found);
      limits.push_back(std::move(limit));
    }
    Eigen::Index figure_column = -1;
    if (const auto found = option.ledger.find(figure)) {
      figure_column = static_cast<Eigen::Index>(wanted.size());
      wanted.push_back(*found);
    }
    evaluated_.push_back({&option, std::move(limits), std::move(columns), figure_column,
                          figures::SampleEvaluator(option.ledger, wanted)});
  }
}

FieldValues Field::at(const Points& points, Eigen::Index count) const {
  const auto options = static_cast<Eigen::Index>(evaluated_.size());
  FieldValues values{Eigen::ArrayXXd::Zero(count, options), Eigen::ArrayXXd::Ones(count, options),
                     Eigen::ArrayXXd::Constant(count, options, std::numeric_limits<double>::quiet_NaN()),
                     std::vector<Eigen::Index>(static_cast<std::size_t>(count), -1)};
  for (Eigen::Index i = 0; i < options; ++i) {
    const Evaluated& of = evaluated_[static_cast<std::size_t>(i)];
    std::vector<const double*> columns;
    for (const figures::Input& input : of.option->ledger.inputs()) {
      const auto moved = points.find(input.key);
      columns.push_back(moved == points.end() ? nullptr : moved->second.data());
    }
    auto scratch = of.evaluator.make_scratch();
    const Eigen::ArrayXXd result = of.evaluator.evaluate(columns, count, scratch);
    double weights = 0;
    for (std::size_t b = 0; b < of.limits.size(); ++b) {
      const options::Limit& limit = of.limits[b];
      const auto column = result.col(of.columns[b]);
      if (limit.is_hard) {
        values.feasible.col(i) *=
            column.unaryExpr([&](double v) { return options::meets(limit, v) ? 1.0 : 0.0; });
      }
      if (limit.weight > 0) {
        values.score.col(i) +=
            limit.weight * column.unaryExpr([&](double v) { return options::margin_of(limit, v); });
        weights += limit.weight;
      }
    }
    if (weights > 0) values.score.col(i) /= weights;
    if (of.figure_column >= 0) values.figure.col(i) = result.col(of.figure_column);
  }
  for (Eigen::Index row = 0; row < count; ++row) {
    Eigen::Index& leader = values.leader[static_cast<std::size_t>(row)];
    for (Eigen::Index i = 0; i < options; ++i) {
      if (values.feasible(row, i) == 0) continue;
      if (leader < 0 || values.score(row, i) > values.score(row, leader)) leader = i;
    }
  }
  return values;
}

}  // namespace portweigh::exploration

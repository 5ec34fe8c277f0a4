#include "exploration/field.hpp"

#include <algorithm>
#include <limits>
#include <optional>

namespace portweigh::exploration {
namespace {

// `work(limit, value)` of each value; where the ambient moves along, the limit counts from it.
template <class Work>
Eigen::ArrayXd map(options::Limit limit, const Eigen::Ref<const Eigen::ArrayXd>& values,
                   const std::vector<double>* ambient_k, Work work) {
  if (ambient_k == nullptr) return values.unaryExpr([&](double value) { return work(limit, value); });
  Eigen::ArrayXd result(values.size());
  for (Eigen::Index i = 0; i < values.size(); ++i) {
    limit.zero =
        options::zero_of(limit.unit.dimension, limit.limit, (*ambient_k)[static_cast<std::size_t>(i)]);
    result(i) = work(limit, values(i));
  }
  return result;
}

}  // namespace

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
  const auto ambient = points.find(options::ambient_key);
  const std::vector<double>* ambient_k = ambient == points.end() ? nullptr : &ambient->second;
  for (Eigen::Index i = 0; i < options; ++i) {
    const Evaluated& of = evaluated_[static_cast<std::size_t>(i)];
    std::vector<const double*> columns;
    for (const figures::Input& input : of.option->ledger.inputs()) {
      const auto moved = points.find(input.key);
      columns.push_back(moved == points.end() ? nullptr : moved->second.data());
    }
    const Eigen::ArrayXXd result = of.evaluator.evaluate(columns, count);
    double weights = 0;
    for (std::size_t b = 0; b < of.limits.size(); ++b) {
      const options::Limit& limit = of.limits[b];
      const auto column = result.col(of.columns[b]);
      if (limit.is_hard) {
        values.feasible.col(i) *= map(limit, column, ambient_k, [](const auto& of_limit, double value) {
          return options::meets(of_limit, value) ? 1.0 : 0.0;
        });
      }
      if (limit.weight > 0) {
        values.score.col(i) += limit.weight * map(limit, column, ambient_k, options::margin_of);
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

double Field::lowest_temperature_limit(double otherwise_k) const {
  std::optional<double> lowest_k;
  for (const Evaluated& of : evaluated_) {
    for (const options::Limit& limit : of.limits) {
      if (limit.unit.dimension != figures::dimensions::temperature) continue;
      lowest_k = std::min(lowest_k.value_or(limit.limit), limit.limit);
    }
  }
  return lowest_k.value_or(otherwise_k);
}

}  // namespace portweigh::exploration

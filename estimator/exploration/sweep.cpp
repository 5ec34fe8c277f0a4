#include "exploration/sweep.hpp"

#include <algorithm>
#include <cmath>

#include "decision/clock_settings.hpp"
#include "exploration/field.hpp"
#include "exploration/selection.hpp"
#include "exploration/structure.hpp"

namespace portweigh::exploration {
namespace {

// Every combination of the values of some axes, the last running fastest.
std::vector<std::vector<double>> grid(const std::vector<Axis>& axes) {
  std::vector<std::vector<double>> points = {{}};
  for (const Axis& axis : axes) {
    std::vector<std::vector<double>> longer;
    for (const auto& point : points) {
      for (const double value : axis.values()) {
        longer.push_back(point);
        longer.back().push_back(value);
      }
    }
    points = std::move(longer);
  }
  return points;
}

std::size_t index_of(std::vector<std::string>& ids, const std::string& id) {
  const auto found = std::find(ids.begin(), ids.end(), id);
  if (found != ids.end()) return static_cast<std::size_t>(found - ids.begin());
  ids.push_back(id);
  return ids.size() - 1;
}

void add_points(Sweep& result, const std::vector<options::Option>& options, const study::Study& study,
                const std::vector<std::size_t>& which, const std::vector<std::vector<double>>& points) {
  const Field field(options, study, result.figure);
  Points columns;
  for (std::size_t axis = 0; axis < result.axes.size(); ++axis) {
    if (is_structural(result.axes[axis].input)) continue;
    auto& column = columns[result.axes[axis].input];
    for (const std::size_t point : which) column.push_back(points[point][axis]);
  }
  const FieldValues values = field.at(columns, static_cast<Eigen::Index>(which.size()));
  for (std::size_t row = 0; row < which.size(); ++row) {
    SweepPoint& target = result.points[which[row]];
    const auto at = static_cast<Eigen::Index>(row);
    for (std::size_t i = 0; i < options.size(); ++i) {
      const std::size_t id = index_of(result.options, options[i].id);
      if (target.options.size() <= id) target.options.resize(id + 1);
      const auto column = static_cast<Eigen::Index>(i);
      const double value = values.figure(at, column);
      if (std::isfinite(value)) target.options[id].value = value;
      target.options[id].is_feasible = values.feasible(at, column) != 0;
    }
    const Eigen::Index leader = values.leader[row];
    if (leader >= 0) target.leader = index_of(result.options, options[static_cast<std::size_t>(leader)].id);
  }
}

}  // namespace

Sweep sweep(const options::Context& context, const std::vector<Axis>& axes, const std::string& figure,
            unsigned threads, const std::vector<std::string>& only) {
  Sweep result{axes, figure, {}, {}};
  const auto points = grid(axes);
  for (const auto& inputs : points) result.points.push_back({inputs, {}, std::nullopt});
  // Points with the same structure are evaluated together.
  std::vector<std::pair<std::vector<double>, std::vector<std::size_t>>> structures;
  for (std::size_t point = 0; point < points.size(); ++point) {
    std::vector<double> key;
    for (std::size_t axis = 0; axis < axes.size(); ++axis) {
      if (is_structural(axes[axis].input)) key.push_back(points[point][axis]);
    }
    const auto same = std::find_if(structures.begin(), structures.end(),
                                   [&](const auto& entry) { return entry.first == key; });
    if (same == structures.end()) {
      structures.push_back({key, {point}});
    } else {
      same->second.push_back(point);
    }
  }
  for (const auto& [key, which] : structures) {
    study::Study study = context.study;
    std::size_t next = 0;
    for (const Axis& axis : axes) {
      if (is_structural(axis.input)) study = with_structure(study, axis.input, key[next++]);
    }
    decision::Sampling sampling;
    sampling.threads = threads;
    options::Considered considered =
        decision::consider_best_settings({context.catalog, context.effort, study, context.library}, sampling);
    add_points(result, select_options(std::move(considered.options), only), study, which, points);
  }
  for (SweepPoint& point : result.points) point.options.resize(result.options.size());
  return result;
}

}  // namespace portweigh::exploration

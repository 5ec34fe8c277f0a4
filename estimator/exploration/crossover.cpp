#include "exploration/crossover.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace portweigh::exploration {
namespace {

constexpr unsigned first_points = 513;
constexpr int refinements = 12;  // of an interval whose ends agree but whose gap is small
constexpr double relative_width = 1e-9;

struct Sample {
  double value = 0;
  Lead lead;
};

std::vector<Sample> sample(const std::vector<double>& values, const LeadAt& lead_at) {
  const std::vector<Lead> leads = lead_at(values);
  std::vector<Sample> samples;
  for (std::size_t i = 0; i < values.size(); ++i) samples.push_back({values[i], leads[i]});
  return samples;
}

double middle_of(double a, double b, Spacing spacing) {
  return spacing == Spacing::logarithmic ? std::sqrt(a * b) : 0.5 * (a + b);
}

// Adds points in the middle of intervals where the gap falls towards an end faster than the interval is wide:
// there the runner-up may lead in between.
void refine(std::vector<Sample>& samples, const LeadAt& lead_at, Spacing spacing) {
  for (int round = 0; round < refinements; ++round) {
    std::vector<double> added;
    for (std::size_t i = 0; i + 2 < samples.size(); ++i) {
      const Sample& left = samples[i];
      const Sample& middle = samples[i + 1];
      const Sample& right = samples[i + 2];
      const bool same = left.lead.leader == middle.lead.leader && middle.lead.leader == right.lead.leader;
      const bool dips = middle.lead.gap <= left.lead.gap && middle.lead.gap <= right.lead.gap;
      const double fall = std::max(left.lead.gap, right.lead.gap) - middle.lead.gap;
      if (!same || !dips || middle.lead.gap > 2 * fall) continue;
      added.push_back(middle_of(left.value, middle.value, spacing));
      added.push_back(middle_of(middle.value, right.value, spacing));
    }
    if (added.empty()) return;
    const auto more = sample(added, lead_at);
    samples.insert(samples.end(), more.begin(), more.end());
    std::sort(samples.begin(), samples.end(), [](const auto& a, const auto& b) { return a.value < b.value; });
    samples.erase(std::unique(samples.begin(), samples.end(),
                              [](const auto& a, const auto& b) { return a.value == b.value; }),
                  samples.end());
  }
}

void bracket(Sample below, Sample above, const LeadAt& lead_at, std::vector<Crossover>& found) {
  if (below.lead.leader == above.lead.leader) return;
  const double scale = std::max(std::abs(below.value), std::abs(above.value));
  const double middle = 0.5 * (below.value + above.value);
  if (above.value - below.value <= relative_width * scale || middle <= below.value || middle >= above.value) {
    found.push_back({below.value, above.value, below.lead.leader, above.lead.leader});
    return;
  }
  const Sample between = sample({middle}, lead_at).front();
  bracket(below, between, lead_at, found);
  bracket(between, above, lead_at, found);
}

constexpr double widest_gap = 2;

Lead lead_by_score(const FieldValues& values, Eigen::Index row) {
  Lead lead{values.leader[static_cast<std::size_t>(row)], widest_gap};
  for (Eigen::Index i = 0; i < values.score.cols() && lead.leader >= 0; ++i) {
    if (i == lead.leader || values.feasible(row, i) == 0) continue;
    lead.gap = std::min(lead.gap, values.score(row, lead.leader) - values.score(row, i));
  }
  return lead;
}

Lead lead_by_figure(const FieldValues& values, Eigen::Index row) {
  Lead lead{-1, widest_gap};
  const auto figures = values.figure.row(row);
  for (Eigen::Index i = 0; i < figures.size(); ++i) {
    if (std::isfinite(figures(i)) && (lead.leader < 0 || figures(i) < figures(lead.leader))) lead.leader = i;
  }
  for (Eigen::Index i = 0; i < figures.size(); ++i) {
    if (i == lead.leader || !std::isfinite(figures(i))) continue;
    const double more = figures(i) - figures(lead.leader);
    lead.gap = std::min(lead.gap, more == 0 ? 0 : more / std::abs(figures(i)));
  }
  return lead;
}

constexpr int points_each_way = 33;
// What a study may give.
constexpr double coldest_ambient_k = 200;
constexpr double hottest_ambient_k = 450;

std::vector<double> values_around(double typical, double reach) {
  std::vector<double> values;
  for (int i = -points_each_way; i <= points_each_way; ++i) {
    values.push_back(i == 0 ? typical : typical * std::pow(reach, static_cast<double>(i) / points_each_way));
  }
  return values;
}

std::vector<double> ambients_around(double typical_k) {
  std::vector<double> values;
  for (int i = -points_each_way; i <= points_each_way; ++i) {
    const double end_k = i < 0 ? coldest_ambient_k : hottest_ambient_k;
    values.push_back(typical_k + std::abs(i) * (end_k - typical_k) / points_each_way);
  }
  return values;
}

std::optional<Flip> nearest_flip(const std::string& key, const figures::Range& range, const Field& field,
                                 double reach) {
  constexpr double least_room_k = 1;
  const bool is_ambient = key == options::ambient_key;
  const double base =
      is_ambient ? std::max(least_room_k, field.lowest_temperature_limit(hottest_ambient_k) - range.typical)
                 : range.typical;
  const LeadAt lead_at = lead_along(field, key);
  const std::vector<Sample> samples =
      sample(is_ambient ? ambients_around(range.typical) : values_around(range.typical, reach), lead_at);
  std::optional<Flip> nearest;
  for (std::size_t i = 0; i + 1 < samples.size(); ++i) {
    std::vector<Crossover> found;
    bracket(samples[i], samples[i + 1], lead_at, found);
    for (const Crossover& crossover : found) {
      const bool is_up = crossover.below >= range.typical;
      const double value = is_up ? crossover.above : crossover.below;
      const Flip flip{key,
                      range.typical,
                      value,
                      (value - range.typical) / base,
                      value >= range.low && value <= range.high,
                      is_up ? crossover.leader_above : crossover.leader_below,
                      base,
                      is_ambient};
      if (!nearest || std::abs(flip.relative) < std::abs(nearest->relative)) nearest = flip;
    }
  }
  return nearest;
}

}  // namespace

std::vector<Crossover> find_crossovers(const Axis& axis, const LeadAt& lead_at) {
  Axis dense = axis;
  dense.steps = first_points;
  std::vector<Sample> samples = sample(dense.values(), lead_at);
  refine(samples, lead_at, axis.spacing);
  std::vector<Crossover> found;
  for (std::size_t i = 0; i + 1 < samples.size(); ++i) bracket(samples[i], samples[i + 1], lead_at, found);
  return found;
}

std::vector<Lead> leads_of(const FieldValues& values, LeadBy by) {
  std::vector<Lead> leads;
  for (std::size_t row = 0; row < values.leader.size(); ++row) {
    const auto r = static_cast<Eigen::Index>(row);
    leads.push_back(by == LeadBy::score ? lead_by_score(values, r) : lead_by_figure(values, r));
  }
  return leads;
}

LeadAt lead_along(const Field& field, std::string input, LeadBy by) {
  return [&field, input = std::move(input), by](const std::vector<double>& values) {
    return leads_of(field.at({{input, values}}, static_cast<Eigen::Index>(values.size())), by);
  };
}

std::vector<Flip> find_flips(const std::vector<options::Option>& options, const Field& field, double reach) {
  std::map<std::string, figures::Range> inputs;
  for (const options::Option& option : options) {
    for (const figures::Input& input : option.ledger.inputs()) {
      if (!input.key.starts_with("counts.") && input.range.typical > 0)
        inputs.try_emplace(input.key, input.range);
    }
  }
  std::vector<Flip> flips;
  for (const auto& [key, range] : inputs) {
    if (const auto nearest = nearest_flip(key, range, field, reach)) flips.push_back(*nearest);
  }
  std::sort(flips.begin(), flips.end(), [](const Flip& a, const Flip& b) {
    return std::abs(a.relative) != std::abs(b.relative) ? std::abs(a.relative) < std::abs(b.relative)
                                                        : a.input < b.input;
  });
  return flips;
}

}  // namespace portweigh::exploration

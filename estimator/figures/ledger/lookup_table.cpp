#include "figures/ledger/lookup_table.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "figures/evaluation/elementary.hpp"

namespace portweigh::figures {
namespace {

// The segment that holds x: index of its left end. Only for x inside the points of a table with at least two.
std::size_t segment_of(const LookupTable& table, double x) {
  const auto right = std::upper_bound(table.x.begin() + 1, table.x.end() - 1, x);
  return static_cast<std::size_t>(right - table.x.begin()) - 1;
}

double segment_slope(const LookupTable& table, std::size_t left) {
  if (table.scale == Scale::log_log) {
    return std::log(table.y[left + 1] / table.y[left]) / std::log(table.x[left + 1] / table.x[left]);
  }
  return (table.y[left + 1] - table.y[left]) / (table.x[left + 1] - table.x[left]);
}

double value_on_segment(const LookupTable& table, std::size_t left, double slope, double x) {
  if (table.scale == Scale::log_log) return table.y[left] * power_of(x / table.x[left], slope);
  return table.y[left] + slope * (x - table.x[left]);
}

bool has_end_value(const LookupTable& table, double x) {
  return !(x > table.x.front() && x < table.x.back());
}

double end_value(const LookupTable& table, double x) {
  if (std::isnan(x)) return x;
  return x <= table.x.front() ? table.y.front() : table.y.back();
}

}  // namespace

void require_valid(const LookupTable& table) {
  const auto refuse = [&table](std::string_view why) {
    throw std::invalid_argument(fmt::format("lookup table \"{}\": {}", table.label, why));
  };
  if (table.x.empty()) refuse("no points");
  if (table.x.size() != table.y.size()) refuse("x and y differ in length");
  for (std::size_t i = 0; i < table.x.size(); ++i) {
    if (!std::isfinite(table.x[i]) || !std::isfinite(table.y[i])) refuse("a point is not finite");
    if (i > 0 && table.x[i] <= table.x[i - 1]) refuse("x does not increase");
    if (table.scale == Scale::log_log && (table.x[i] <= 0.0 || table.y[i] <= 0.0)) {
      refuse("a point is not positive, which a log-log table needs");
    }
  }
}

double value_at(const LookupTable& table, double x) {
  if (has_end_value(table, x)) return end_value(table, x);
  const std::size_t left = segment_of(table, x);
  return value_on_segment(table, left, segment_slope(table, left), x);
}

std::vector<double> segment_slopes(const LookupTable& table) {
  std::vector<double> slopes;
  for (std::size_t left = 0; left + 1 < table.x.size(); ++left) slopes.push_back(segment_slope(table, left));
  return slopes;
}

double value_at(const LookupTable& table, const std::vector<double>& slopes, double x) {
  if (has_end_value(table, x)) return end_value(table, x);
  const std::size_t left = segment_of(table, x);
  return value_on_segment(table, left, slopes[left], x);
}

}  // namespace portweigh::figures

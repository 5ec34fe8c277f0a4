#include "reading/quantity_rule.hpp"

namespace portweigh::reading {
namespace {

using figures::Dimension;
namespace dimensions = figures::dimensions;

struct DimensionBounds {
  Dimension dimension;
  Bounds bounds;
};

constexpr double hundred_years_s = 100.0 * 365.25 * 86400.0;

constexpr DimensionBounds known_bounds[] = {
    {dimensions::dimensionless, {0.0, 1e15}},
    {dimensions::length, {0.0, 100.0}},
    {dimensions::area, {0.0, 100.0}},
    {dimensions::volume, {0.0, 1.0}},
    {dimensions::mass, {0.0, 1000.0}},
    {dimensions::time, {0.0, hundred_years_s}},
    {dimensions::frequency, {0.0, 100e9}},
    {dimensions::current, {0.0, 100.0}},
    {dimensions::temperature, {0.0, 1000.0}},
    {dimensions::money, {0.0, 1e9}},
    {dimensions::charge, {0.0, 1e6}},
    {dimensions::energy, {0.0, 1e9}},
    {dimensions::power, {0.0, 1000.0}},
    {dimensions::voltage, {0.0, 1000.0}},
    {dimensions::resistance, {0.0, 1e12}},
    {dimensions::capacitance, {0.0, 1000.0}},
    {dimensions::inductance, {0.0, 1000.0}},
    {dimensions::thermal_resistance, {0.0, 1e4}},
    {dimensions::money_per_time, {0.0, 1e6 / 3600.0}},  // a million an hour
    {dimensions::money_per_area, {0.0, 1e9}},
};

}  // namespace

Bounds sane_bounds(const Dimension& dimension) {
  for (const auto& known : known_bounds) {
    if (known.dimension == dimension) return known.bounds;
  }
  return {0.0, 1e30};
}

QuantityRule::QuantityRule(const Dimension& of) : dimension(of), bounds(sane_bounds(of)) {}

QuantityRule QuantityRule::between(double lower_si, double upper_si) const {
  auto rule = *this;
  rule.bounds = {lower_si, upper_si};
  return rule;
}

QuantityRule QuantityRule::as_difference() const {
  auto rule = *this;
  rule.is_difference = true;
  return rule;
}

}  // namespace portweigh::reading

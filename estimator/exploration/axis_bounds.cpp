#include "exploration/axis_bounds.hpp"

namespace portweigh::exploration {
namespace {

namespace dimensions = figures::dimensions;
using reading::Bounds;

struct NamedBounds {
  std::string_view end;  // of the key: its last part, or the last words of it
  Bounds bounds;
};

// As the readers of studies and parts demand (study/, parts/); the first end that fits counts.
constexpr NamedBounds known_bounds[] = {
    {"duty_cycle", {0, 1}},           {"chance", {0, 1}},
    {"probability", {0, 1}},          {"share", {0, 1}},
    {"line_activity", {0, 1}},        {"attrition", {0, 1}},
    {"self_discharge", {0, 1}},       {"discount_rate", {0, 1}},
    {"fill_limit", {0, 1}},           {"free_load", {0, 1}},
    {"price_erosion", {0, 0.5}},      {"learning_rate", {0.5, 1}},
    {"learning_reference", {1, 1e9}}, {"test_yield", {0.1, 1}},
    {"efficiency", {0.01, 1}},        {"capacity_reserve", {0, 0.95}},
    {"volume_per_year", {1, 1e10}},   {"years", {0.1, 50}},
    {"supply_voltage", {0.5, 60}},    {"ambient", {200, 450}},
    {"bit_rate", {1, 1e9}},           {"message_bits", {1, 1e6}},
    {"orders_per_year", {0.1, 366}},
};

bool ends_with_words(std::string_view key, std::string_view end) {
  if (!key.ends_with(end)) return false;
  const std::string_view before = key.substr(0, key.size() - end.size());
  return before.empty() || before.ends_with('.') || before.ends_with('_');
}

}  // namespace

Bounds bounds_of_input(std::string_view key, const figures::Dimension& dimension) {
  for (const NamedBounds& known : known_bounds) {
    if (ends_with_words(key, known.end)) return known.bounds;
  }
  Bounds bounds = reading::sane_bounds(dimension);
  constexpr double lowest_clock_hz = 1;
  constexpr double lowest_voltage_v = 0.1;
  const bool is_clock = dimension == dimensions::frequency && key.find("clock") != std::string_view::npos;
  if (is_clock) bounds.lower_si = lowest_clock_hz;
  if (dimension == dimensions::voltage) bounds.lower_si = lowest_voltage_v;
  if (dimension == dimensions::temperature) {
    // Kelvins in which a current doubles are a difference; all others are temperatures.
    bounds = ends_with_words(key, "doubling") ? Bounds{1, 1000} : Bounds{173.15, 573.15};
  }
  return bounds;
}

}  // namespace portweigh::exploration

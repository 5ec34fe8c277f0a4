#include "exploration/axis.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>

#include "exploration/axis_bounds.hpp"
#include "figures/units/format_quantity.hpp"
#include "reading/suggest.hpp"

namespace portweigh::exploration {
namespace {

constexpr unsigned most_steps = 1001;
constexpr double most_decades = 15;
constexpr double least_magnitude = 1e-30;  // SI; no input of a port comes near

const KnownInput& find_input(const std::string& key, const std::vector<KnownInput>& known) {
  const auto found =
      std::find_if(known.begin(), known.end(), [&](const auto& input) { return input.key == key; });
  if (found != known.end()) return *found;
  std::vector<std::string> names;
  for (const KnownInput& input : known) names.push_back(input.key);
  const auto nearest = reading::nearest_name(key, names);
  throw AxisError(fmt::format("unknown input \"{}\", expected one of those that `list inputs` names{}", key,
                              nearest ? fmt::format("; nearest: \"{}\"", *nearest) : ""));
}

double read_value(std::string_view text, const KnownInput& input) {
  double plain = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), plain);
  if (error == std::errc() && end == text.data() + text.size() && std::isfinite(plain)) return plain;
  try {
    const figures::Quantity quantity = figures::parse_quantity(std::string(text));
    if (quantity.unit.dimension == input.unit.dimension) return quantity.value_si;
  } catch (const figures::UnitError& mistake) {
    throw AxisError(fmt::format("{}: {}", input.key, mistake.what()));
  }
  throw AxisError(fmt::format("{}: \"{}\" has the wrong unit, expected {}", input.key, text,
                              figures::describe(input.unit.dimension)));
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> fields;
  while (true) {
    const auto position = text.find(separator);
    fields.push_back(text.substr(0, position));
    if (position == std::string_view::npos) return fields;
    text.remove_prefix(position + 1);
  }
}

double read_end(std::string_view text, const KnownInput& input) {
  const double value = read_value(text, input);
  const reading::Bounds bounds = bounds_of_input(input.key, input.unit.dimension);
  const bool is_tiny = value != 0 && std::abs(value) < least_magnitude;
  if (value >= bounds.lower_si && value <= bounds.upper_si && !is_tiny) return value;
  throw AxisError(fmt::format("{}: \"{}\" is no possible value, expected {} to {}", input.key, text,
                              figures::format_quantity(bounds.lower_si, input.unit),
                              figures::format_quantity(bounds.upper_si, input.unit)));
}

unsigned read_steps(std::string_view text, const std::string& input) {
  unsigned steps = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), steps);
  if (error != std::errc() || end != text.data() + text.size() || steps < 2 || steps > most_steps) {
    throw AxisError(
        fmt::format("{}: \"{}\" steps, expected a whole number from 2 to {}", input, text, most_steps));
  }
  return steps;
}

}  // namespace

double Axis::at(double share) const {
  if (spacing == Spacing::linear) return from + (to - from) * share;
  return from * std::pow(to / from, share);
}

std::vector<double> Axis::values() const {
  std::vector<double> all;
  for (unsigned i = 0; i < steps; ++i) {
    // The end itself, free of rounding.
    all.push_back(i + 1 == steps ? to : at(static_cast<double>(i) / (steps - 1)));
  }
  return all;
}

Axis parse_axis(std::string_view text, const std::vector<KnownInput>& known) {
  const auto equals = text.find('=');
  if (equals == std::string_view::npos) {
    throw AxisError(fmt::format("\"{}\": expected INPUT=FROM:TO[:STEPS[:log]]", text));
  }
  Axis axis;
  axis.input = text.substr(0, equals);
  const KnownInput& input = find_input(axis.input, known);
  const auto fields = split(text.substr(equals + 1), ':');
  if (fields.size() < 2 || fields.size() > 4) {
    throw AxisError(fmt::format("\"{}\": expected INPUT=FROM:TO[:STEPS[:log]]", text));
  }
  axis.from = read_end(fields[0], input);
  axis.to = read_end(fields[1], input);
  if (fields.size() > 2) axis.steps = read_steps(fields[2], axis.input);
  if (fields.size() > 3) {
    if (fields[3] != "log") throw AxisError(fmt::format("{}: \"{}\", expected log", axis.input, fields[3]));
    axis.spacing = Spacing::logarithmic;
  }
  if (!(axis.from < axis.to)) throw AxisError(fmt::format("{}: expected FROM below TO", axis.input));
  if (axis.spacing == Spacing::logarithmic && axis.from <= 0) {
    throw AxisError(fmt::format("{}: a logarithmic range starts above zero", axis.input));
  }
  if (axis.spacing == Spacing::logarithmic && std::log10(axis.to) - std::log10(axis.from) > most_decades) {
    throw AxisError(
        fmt::format("{}: a logarithmic range spans at most {} decades", axis.input, most_decades));
  }
  return axis;
}

}  // namespace portweigh::exploration

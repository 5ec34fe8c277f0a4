#include "options/money/break_even.hpp"

#include <algorithm>
#include <cmath>

#include "figures/evaluation/evaluate.hpp"

namespace portweigh::options {
namespace {

constexpr const char* life_cost = "cost_per_unit_over_life";

double cost_with(const Option& option, const std::string& key, double value) {
  const auto inputs = option.ledger.inputs();
  const bool has_input =
      std::any_of(inputs.begin(), inputs.end(), [&](const auto& input) { return input.key == key; });
  std::vector<figures::Setting> settings;
  if (has_input) settings.push_back({key, value});
  return figures::evaluate(option.ledger, option.ledger.at(life_cost), settings);
}

}  // namespace

std::vector<double> break_even_volumes(const Option& a, const Option& b, double from, double to) {
  const auto difference = [&](double volume) {
    return cost_with(a, "volume_per_year", volume) - cost_with(b, "volume_per_year", volume);
  };
  constexpr int steps = 400;
  const double factor = std::pow(to / from, 1.0 / steps);
  std::vector<double> volumes;
  double below = from;
  double difference_below = difference(below);
  for (int i = 1; i <= steps; ++i) {
    const double above = i == steps ? to : below * factor;
    const double difference_above = difference(above);
    if (std::signbit(difference_below) != std::signbit(difference_above) && difference_below != 0) {
      double low = below;
      double high = above;
      while (high - low > 1e-9 * high) {
        const double middle = low + (high - low) / 2;
        (std::signbit(difference(middle)) == std::signbit(difference_below) ? low : high) = middle;
      }
      volumes.push_back(high);
    }
    below = above;
    difference_below = difference_above;
  }
  return volumes;
}

std::optional<WinningPrice> winning_price(const Option& dear, const Option& cheap) {
  if (dear.parts.empty()) return std::nullopt;
  const std::string& part = dear.parts.front();
  const auto price = dear.ledger.find("price." + part);
  if (!price) return std::nullopt;
  const std::string key = "parts." + part + ".price";
  const auto difference = [&](double factor) {
    return cost_with(dear, key, factor) - cost_with(cheap, key, factor);
  };
  const double at_nothing = difference(0);
  const double slope = difference(1) - at_nothing;
  constexpr double negligible = 1e-12;
  if (std::abs(slope) < negligible) return std::nullopt;
  const double factor = -at_nothing / slope;
  if (factor < 0) return std::nullopt;
  const double now = figures::evaluate(dear.ledger, *price);
  return WinningPrice{part, now, now * factor};
}

}  // namespace portweigh::options

#include "figures/gradient.hpp"

#include <cmath>

namespace portweigh::figures {
namespace {

// The slopes of one node to its arguments.
struct Slopes {
  double of[3] = {0.0, 0.0, 0.0};
};

Slopes slopes_of_power(double base, double exponent, double result) {
  const double to_base = exponent == 0.0 ? 0.0 : exponent * std::pow(base, exponent - 1.0);
  const double to_exponent = base > 0.0 ? result * std::log(base) : 0.0;
  return {{to_base, to_exponent, 0.0}};
}

Slopes slopes_of(const Ledger& ledger, const Node& node, double result, std::span<const double> values) {
  const double a = node.argument_count > 0 ? values[node.arguments[0]] : 0.0;
  const double b = node.argument_count > 1 ? values[node.arguments[1]] : 0.0;
  switch (node.operation) {
    case Operation::same:
      return {{1.0, 0.0, 0.0}};
    case Operation::add:
      return {{1.0, 1.0, 0.0}};
    case Operation::subtract:
      return {{1.0, -1.0, 0.0}};
    case Operation::multiply:
      return {{b, a, 0.0}};
    case Operation::divide:
      return {{1.0 / b, -result / b, 0.0}};
    case Operation::minimum:
      return a <= b ? Slopes{{1.0, 0.0, 0.0}} : Slopes{{0.0, 1.0, 0.0}};
    case Operation::maximum:
      return a >= b ? Slopes{{1.0, 0.0, 0.0}} : Slopes{{0.0, 1.0, 0.0}};
    case Operation::power:
      return {{slopes_of_power(a, node.number, result).of[0], 0.0, 0.0}};
    case Operation::raise:
      return slopes_of_power(a, b, result);
    case Operation::log:
      return {{1.0 / a, 0.0, 0.0}};
    case Operation::exp:
      return {{result, 0.0, 0.0}};
    case Operation::lookup:
      return {{slope_at(ledger.tables()[node.detail], a), 0.0, 0.0}};
    case Operation::select:
      return a != 0.0 ? Slopes{{0.0, 1.0, 0.0}} : Slopes{{0.0, 0.0, 1.0}};
    case Operation::input:
    case Operation::constant:
    case Operation::round_up:
    case Operation::round_down:
    case Operation::at_least:
      return {};
  }
  return {};
}

std::vector<double> reverse_pass(const Ledger& ledger, Figure figure, std::span<const double> values) {
  const auto nodes = ledger.nodes();
  std::vector<double> adjoints(figure.index() + 1, 0.0);
  adjoints[figure.index()] = 1.0;
  std::vector<double> result(ledger.inputs().size(), 0.0);
  for (std::size_t i = figure.index() + 1; i-- > 0;) {
    if (adjoints[i] == 0.0) continue;
    const Node& node = nodes[i];
    if (node.operation == Operation::input) result[node.detail] = adjoints[i];
    const auto slopes = slopes_of(ledger, node, values[i], values);
    for (std::size_t k = 0; k < node.argument_count; ++k) {
      // A branch not taken must not spoil the sum with 0 * infinity.
      if (slopes.of[k] != 0.0) adjoints[node.arguments[k]] += adjoints[i] * slopes.of[k];
    }
  }
  return result;
}

}  // namespace

std::vector<double> gradient(const Ledger& ledger, Figure figure, std::span<const Setting> settings) {
  return reverse_pass(ledger, figure, evaluate_all(ledger, settings));
}

std::vector<double> elasticities(const Ledger& ledger, Figure figure, std::span<const Setting> settings) {
  const auto inputs = input_values(ledger, settings);
  const auto values = evaluate_all(ledger, std::span<const double>(inputs));
  auto result = reverse_pass(ledger, figure, values);
  const double value = values[figure.index()];
  for (std::size_t i = 0; i < result.size(); ++i)
    result[i] = value == 0.0 ? 0.0 : result[i] * inputs[i] / value;
  return result;
}

}  // namespace portweigh::figures

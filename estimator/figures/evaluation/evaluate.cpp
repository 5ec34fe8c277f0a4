#include "figures/evaluation/evaluate.hpp"

#include <fmt/core.h>

#include "figures/evaluation/operations.hpp"

namespace portweigh::figures {
namespace {

double value_of(const Ledger& ledger, const Node& node, const std::vector<double>& values,
                std::span<const double> inputs) {
  if (node.operation == Operation::input) return inputs[node.detail];
  if (node.operation == Operation::constant) return node.number;
  if (node.operation == Operation::same) return values[node.arguments[0]];
  // Arguments that a node doesn't have are 0, the first node.
  double result = 0.0;
  const auto read_table = [&](double x) { return value_at(ledger.tables()[node.detail], x); };
  with_function(node, read_table, [&](auto function) {
    result = function(values[node.arguments[0]], values[node.arguments[1]], values[node.arguments[2]]);
  });
  return result;
}

}  // namespace

std::vector<double> input_values(const Ledger& ledger, std::span<const Setting> settings) {
  std::vector<double> values;
  values.reserve(ledger.inputs().size());
  for (const auto& input : ledger.inputs()) values.push_back(input.range.typical);
  for (const auto& setting : settings) {
    const Node& node = ledger.nodes()[ledger.at(setting.key).index()];
    if (node.operation != Operation::input) {
      throw LedgerError(fmt::format("\"{}\" is computed, only inputs can be set", setting.key));
    }
    values[node.detail] = setting.value_si;
  }
  return values;
}

std::vector<double> evaluate_all(const Ledger& ledger, std::span<const double> inputs) {
  if (inputs.size() != ledger.inputs().size()) {
    throw LedgerError(
        fmt::format("{} input values given, the ledger has {}", inputs.size(), ledger.inputs().size()));
  }
  std::vector<double> values;
  values.reserve(ledger.nodes().size());
  for (const auto& node : ledger.nodes()) values.push_back(value_of(ledger, node, values, inputs));
  return values;
}

std::vector<double> evaluate_all(const Ledger& ledger, std::span<const Setting> settings) {
  return evaluate_all(ledger, std::span<const double>(input_values(ledger, settings)));
}

double evaluate(const Ledger& ledger, Figure figure, std::span<const Setting> settings) {
  return evaluate_all(ledger, settings)[figure.index()];
}

std::vector<bool> needed_nodes(const Ledger& ledger, std::span<const Figure> figures) {
  const auto nodes = ledger.nodes();
  std::vector<bool> needed(nodes.size(), false);
  for (const Figure figure : figures) needed[figure.index()] = true;
  for (std::size_t i = nodes.size(); i-- > 0;) {
    if (!needed[i]) continue;
    for (std::size_t k = 0; k < nodes[i].argument_count; ++k) needed[nodes[i].arguments[k]] = true;
  }
  return needed;
}

}  // namespace portweigh::figures

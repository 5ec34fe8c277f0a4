#include "figures/ledger/compare.hpp"

#include "figures/evaluation/evaluate.hpp"

namespace portweigh::figures {
namespace {

const Input* input_of(const Ledger& ledger, const std::string& key) {
  const auto figure = ledger.find(key);
  if (!figure) return nullptr;
  const Node& node = ledger.nodes()[figure->index()];
  return node.operation == Operation::input ? &ledger.inputs()[node.detail] : nullptr;
}

std::vector<InputChange> compare_inputs(const Ledger& before, const Ledger& after) {
  std::vector<InputChange> changes;
  for (const auto& input : after.inputs()) {
    const Input* const old = input_of(before, input.key);
    if (old == nullptr) {
      changes.push_back({input.key, std::nullopt, input.range, input.unit});
    } else if (old->range != input.range || old->unit.dimension != input.unit.dimension) {
      changes.push_back({input.key, old->range, input.range, input.unit});
    }
  }
  for (const auto& input : before.inputs()) {
    if (input_of(after, input.key) == nullptr) {
      changes.push_back({input.key, input.range, std::nullopt, input.unit});
    }
  }
  return changes;
}

bool is_computed(const Ledger& ledger, const std::string& key) {
  const auto figure = ledger.find(key);
  return figure && ledger.nodes()[figure->index()].operation != Operation::input;
}

std::vector<FigureChange> compare_figures(const Ledger& before, const Ledger& after) {
  const auto old_values = evaluate_all(before);
  const auto new_values = evaluate_all(after);
  std::vector<FigureChange> changes;
  for (const auto node : after.named_nodes()) {
    const Name& name = *after.name_of(node);
    if (!is_computed(before, name.key)) {
      changes.push_back({name.key, std::nullopt, new_values[node], name.unit});
      continue;
    }
    const double old_value = old_values[before.at(name.key).index()];
    if (old_value != new_values[node]) changes.push_back({name.key, old_value, new_values[node], name.unit});
  }
  for (const auto node : before.named_nodes()) {
    const Name& name = *before.name_of(node);
    if (!is_computed(after, name.key))
      changes.push_back({name.key, old_values[node], std::nullopt, name.unit});
  }
  return changes;
}

}  // namespace

Comparison compare(const Ledger& before, const Ledger& after) {
  return {compare_inputs(before, after), compare_figures(before, after)};
}

}  // namespace portweigh::figures

#include "figures/ledger/ledger.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "figures/ledger/ledger_store.hpp"

namespace portweigh::figures {
namespace {

constexpr std::array<std::string_view, 18> operation_names = {
    "input", "constant", "same", "add", "subtract", "multiply",   "divide", "minimum",  "maximum",
    "power", "raise",    "log",  "exp", "round_up", "round_down", "lookup", "at_least", "select"};

void require_range(const Input& input) {
  const Range& range = input.range;
  if (!std::isfinite(range.low) || !std::isfinite(range.typical) || !std::isfinite(range.high)) {
    throw LedgerError(fmt::format("input \"{}\": range {}..{}..{} is not finite", input.key, range.low,
                                  range.typical, range.high));
  }
  if (range.low > range.typical || range.typical > range.high) {
    throw LedgerError(fmt::format("input \"{}\": range {}..{}..{} is not in rising order", input.key,
                                  range.low, range.typical, range.high));
  }
}

}  // namespace

std::string_view to_string(Operation operation) {
  return operation_names[static_cast<std::size_t>(operation)];
}

std::optional<Operation> operation_from_string(std::string_view text) {
  const auto found = std::find(operation_names.begin(), operation_names.end(), text);
  if (found == operation_names.end()) return std::nullopt;
  return static_cast<Operation>(found - operation_names.begin());
}

Figure LedgerStore::append(const Node& node) {
  nodes.push_back(node);
  name_numbers.push_back(none);
  return figure(static_cast<std::uint32_t>(nodes.size() - 1));
}

const Name* LedgerStore::name_of(std::uint32_t node) const {
  const auto number = name_numbers[node];
  return number == none ? nullptr : &names[number];
}

void LedgerStore::set_name(std::uint32_t node, Name name) {
  if (!name.key.empty() && !nodes_by_key.emplace(name.key, node).second) {
    throw LedgerError(fmt::format("the key \"{}\" is taken by another figure", name.key));
  }
  name_numbers[node] = static_cast<std::uint32_t>(names.size());
  names.push_back(std::move(name));
}

void LedgerStore::accept_currency(const Unit& unit, std::string_view key) {
  if (unit.currency.empty()) return;
  if (currency.empty()) currency = unit.currency;
  if (currency != unit.currency) {
    throw LedgerError(fmt::format("\"{}\" is in {}, but the other figures of this ledger are in {}", key,
                                  unit.currency, currency));
  }
}

Ledger::Ledger() : store_(std::make_unique<LedgerStore>()) {
  constexpr std::size_t usual_nodes = 512;
  store_->nodes.reserve(usual_nodes);
  store_->name_numbers.reserve(usual_nodes);
  store_->names.reserve(usual_nodes);
  store_->inputs.reserve(usual_nodes / 4);
}
Ledger::~Ledger() = default;
Ledger::Ledger(Ledger&&) noexcept = default;
Ledger& Ledger::operator=(Ledger&&) noexcept = default;

Figure Ledger::input(const Input& input) {
  if (input.key.empty()) throw LedgerError("an input needs a key");
  require_range(input);
  const auto known = store_->nodes_by_key.find(input.key);
  if (known != store_->nodes_by_key.end()) {
    const Node& node = store_->nodes[known->second];
    if (node.operation != Operation::input) {
      throw LedgerError(fmt::format("the key \"{}\" is taken by another figure", input.key));
    }
    const Input& first = store_->inputs[node.detail];
    if (node.dimension != input.unit.dimension || first.range != input.range ||
        first.unit.currency != input.unit.currency) {
      throw LedgerError(fmt::format("input \"{}\" was entered as {}..{}..{} {} before, now as {}..{}..{} {}",
                                    input.key, first.range.low, first.range.typical, first.range.high,
                                    to_string(first.unit.dimension), input.range.low, input.range.typical,
                                    input.range.high, to_string(input.unit.dimension)));
    }
    return figure(known->second);
  }
  store_->accept_currency(input.unit, input.key);
  Node node;
  node.operation = Operation::input;
  node.dimension = input.unit.dimension;
  node.detail = static_cast<std::uint32_t>(store_->inputs.size());
  const Figure result = store_->append(node);
  store_->set_name(result.index(), {input.key, input.label, input.unit});
  store_->inputs.push_back(input);
  store_->input_nodes.push_back(result.index());
  return result;
}

Figure Ledger::constant(double value_si, const Dimension& dimension, std::string_view label) {
  if (!std::isfinite(value_si)) throw LedgerError(fmt::format("constant {} is not finite", value_si));
  Node node;
  node.operation = Operation::constant;
  node.dimension = dimension;
  node.number = value_si;
  const Figure result = store_->append(node);
  if (!label.empty()) {
    store_->set_name(result.index(), {"", std::string(label), coherent_unit(dimension, store_->currency)});
  }
  return result;
}

Figure Ledger::constant(double value) {
  return constant(value, dimensions::dimensionless);
}

Figure Ledger::name(Figure figure, std::string_view key, std::string_view label, const Unit& unit) {
  if (key.empty()) throw LedgerError("a figure's key must not be empty");
  if (&figure.store() != store_.get()) {
    throw LedgerError(fmt::format("\"{}\" names a figure of another ledger", key));
  }
  if (store_->nodes_by_key.contains(std::string(key))) {
    throw LedgerError(fmt::format("the key \"{}\" is taken by another figure", key));
  }
  if (unit.dimension != figure.dimension()) {
    throw DimensionError(fmt::format("\"{}\" is {}, but its unit \"{}\" is {}", key,
                                     describe(figure.dimension()), unit.text, describe(unit.dimension)));
  }
  store_->accept_currency(unit, key);
  const Node& node = store_->nodes[figure.index()];
  Figure named = figure;
  if (node.operation == Operation::input || node.operation == Operation::constant ||
      store_->name_of(figure.index()) != nullptr) {
    Node alias;
    alias.operation = Operation::same;
    alias.argument_count = 1;
    alias.arguments[0] = figure.index();
    alias.dimension = figure.dimension();
    named = store_->append(alias);
  }
  store_->set_name(named.index(), {std::string(key), std::string(label), unit});
  return named;
}

std::optional<Figure> Ledger::find(std::string_view key) const {
  const auto found = store_->nodes_by_key.find(std::string(key));
  if (found == store_->nodes_by_key.end()) return std::nullopt;
  return store_->figure(found->second);
}

Figure Ledger::at(std::string_view key) const {
  const auto found = find(key);
  if (!found) throw LedgerError(fmt::format("no figure \"{}\" in this ledger", key));
  return *found;
}

std::span<const Node> Ledger::nodes() const {
  return store_->nodes;
}
std::span<const Input> Ledger::inputs() const {
  return store_->inputs;
}
std::uint32_t Ledger::node_of_input(std::size_t input) const {
  return store_->input_nodes.at(input);
}
std::span<const LookupTable> Ledger::tables() const {
  return store_->tables;
}
const Name* Ledger::name_of(std::uint32_t node) const {
  return store_->name_of(node);
}
const std::string& Ledger::currency() const {
  return store_->currency;
}

Figure Ledger::figure(std::uint32_t node) const {
  if (node >= store_->nodes.size()) throw LedgerError(fmt::format("no node {} in this ledger", node));
  return store_->figure(node);
}

std::vector<std::uint32_t> Ledger::named_nodes() const {
  std::vector<std::uint32_t> named;
  for (std::uint32_t i = 0; i < store_->nodes.size(); ++i) {
    const auto* name = store_->name_of(i);
    if (store_->nodes[i].operation != Operation::input && name != nullptr && !name->key.empty())
      named.push_back(i);
  }
  return named;
}

const Dimension& Figure::dimension() const {
  return store_->nodes[index_].dimension;
}

std::string Figure::key() const {
  const auto* name = store_->name_of(index_);
  return name == nullptr ? std::string() : name->key;
}

}  // namespace portweigh::figures

#include "figures/ledger/formula_text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <numbers>
#include <optional>

#include "figures/units/format_quantity.hpp"

namespace portweigh::figures {
namespace {

using LeafText = std::function<std::string(std::uint32_t)>;

enum Precedence { sum_level = 1, product_level = 2, power_level = 3, atom_level = 4 };

int precedence_of(Operation operation) {
  switch (operation) {
    case Operation::add:
    case Operation::subtract:
    case Operation::at_least:
      return sum_level;
    case Operation::multiply:
    case Operation::divide:
      return product_level;
    case Operation::power:
    case Operation::raise:
      return power_level;
    default:
      return atom_level;
  }
}

class Writer {
 public:
  Writer(const LedgerStore& store, const LeafText& leaf_text) : store_(store), leaf_text_(leaf_text) {}

  [[nodiscard]] std::string write(std::uint32_t index) const {
    const Node& node = store_.nodes[index];
    switch (node.operation) {
      case Operation::input:
      case Operation::constant:
        return leaf_text_(index);
      case Operation::same:
        return operand(node.arguments[0], 0);
      case Operation::add:
        if (const auto other = beside_nothing(node)) return operand(*other, 0);
        return infix(node, " + ", sum_level, sum_level);
      case Operation::subtract:
        return infix(node, " - ", sum_level, product_level);
      case Operation::multiply:
        return infix(node, " * ", product_level, product_level);
      case Operation::divide:
        return infix(node, " / ", product_level, power_level);
      case Operation::at_least:
        return infix(node, " >= ", product_level, product_level);
      case Operation::power:
        return operand(node.arguments[0], atom_level) + "^" + format_number(node.number, 4);
      case Operation::raise:
        return operand(node.arguments[0], atom_level) + "^" + operand(node.arguments[1], atom_level);
      case Operation::lookup:
        return call(label_of(node), node);
      case Operation::select:
        return fmt::format("if({})", arguments(node));
      default:
        return call(std::string(to_string(node.operation)), node);
    }
  }

 private:
  [[nodiscard]] std::string operand(std::uint32_t index, int least) const {
    const bool leaf = is_leaf(store_, index);
    auto text = leaf ? leaf_text_(index) : write(index);
    // "1.2 V" squared is "(1.2 V)^2", not "1.2 V^2".
    const bool is_loose = leaf ? least == atom_level && text.find_first_of(" -") != std::string::npos
                               : precedence_of(operation_of(index)) < least;
    return is_loose ? "(" + text + ")" : text;
  }

  [[nodiscard]] bool is_nothing(std::uint32_t index) const {
    return store_.nodes[index].operation == Operation::constant && store_.nodes[index].number == 0;
  }

  // What is added to nothing, as the start of a sum is.
  [[nodiscard]] std::optional<std::uint32_t> beside_nothing(const Node& sum) const {
    if (is_nothing(sum.arguments[0])) return sum.arguments[1];
    if (is_nothing(sum.arguments[1])) return sum.arguments[0];
    return std::nullopt;
  }

  // Another name of a figure is written as that figure, and so is its sum with nothing.
  [[nodiscard]] Operation operation_of(std::uint32_t index) const {
    while (true) {
      const Node& node = store_.nodes[index];
      std::optional<std::uint32_t> inner;
      if (node.operation == Operation::same) inner = node.arguments[0];
      if (node.operation == Operation::add) inner = beside_nothing(node);
      if (!inner) return node.operation;
      index = *inner;
      if (is_leaf(store_, index)) return Operation::input;
    }
  }

  [[nodiscard]] std::string infix(const Node& node, std::string_view sign, int least_left,
                                  int least_right) const {
    return operand(node.arguments[0], least_left) + std::string(sign) +
           operand(node.arguments[1], least_right);
  }

  [[nodiscard]] std::string arguments(const Node& node) const {
    std::string text;
    for (std::size_t i = 0; i < node.argument_count; ++i) {
      if (i > 0) text += ", ";
      text += operand(node.arguments[i], 0);
    }
    return text;
  }

  [[nodiscard]] std::string call(const std::string& function, const Node& node) const {
    return fmt::format("{}({})", function, arguments(node));
  }

  [[nodiscard]] std::string label_of(const Node& node) const {
    const auto& label = store_.tables[node.detail].label;
    return label.empty() ? "lookup" : label;
  }

  const LedgerStore& store_;
  const LeafText& leaf_text_;
};

void collect_leaves(const LedgerStore& store, std::uint32_t index, std::vector<bool>& seen,
                    std::vector<std::uint32_t>& leaves) {
  if (seen[index]) return;
  seen[index] = true;
  if (is_leaf(store, index)) {
    leaves.push_back(index);
    return;
  }
  const Node& node = store.nodes[index];
  for (std::size_t i = 0; i < node.argument_count; ++i)
    collect_leaves(store, node.arguments[i], seen, leaves);
}

}  // namespace

bool is_leaf(const LedgerStore& store, std::uint32_t node) {
  const auto operation = store.nodes[node].operation;
  if (operation == Operation::input || operation == Operation::constant) return true;
  const auto* name = store.name_of(node);
  return name != nullptr && !name->key.empty();
}

std::string formula_text(const LedgerStore& store, std::uint32_t node, const LeafText& leaf_text) {
  return Writer(store, leaf_text).write(node);
}

std::vector<std::uint32_t> formula_leaves(const LedgerStore& store, std::uint32_t node) {
  std::vector<bool> seen(store.nodes.size(), false);
  std::vector<std::uint32_t> leaves;
  const Node& root = store.nodes[node];
  for (std::size_t i = 0; i < root.argument_count; ++i)
    collect_leaves(store, root.arguments[i], seen, leaves);
  return leaves;
}

std::string constant_text(const LedgerStore& store, std::uint32_t node) {
  const Node& constant = store.nodes[node];
  // Kelvin this many are a temperature of the trade, fewer a difference.
  constexpr double least_temperature_k = 200;
  if (constant.dimension == dimensions::temperature && constant.number >= least_temperature_k)
    return format_quantity(constant.number, parse_unit("degC"), 4);
  if (constant.number == std::numbers::ln2) return "ln(2)";
  return format_quantity(constant.number, coherent_unit(constant.dimension, store.currency), 4);
}

std::string figure_text(const LedgerStore& store, std::uint32_t node) {
  constexpr std::size_t longest = 60;
  const LeafText leaf_text = [&store](std::uint32_t leaf) {
    const auto* name = store.name_of(leaf);
    return name != nullptr && !name->key.empty() ? name->key : constant_text(store, leaf);
  };
  auto text = is_leaf(store, node) ? leaf_text(node) : formula_text(store, node, leaf_text);
  if (text.size() > longest) text = text.substr(0, longest - 3) + "...";
  return text;
}

}  // namespace portweigh::figures

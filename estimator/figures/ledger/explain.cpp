#include "figures/ledger/explain.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "figures/ledger/formula_text.hpp"
#include "figures/units/format_quantity.hpp"

namespace portweigh::figures {
namespace {

std::string last_part(const std::string& key) {
  auto part = key.substr(key.rfind('.') == std::string::npos ? 0 : key.rfind('.') + 1);
  // A hyphen would read as a minus.
  std::replace(part.begin(), part.end(), '-', '_');
  return part;
}

class Explainer {
 public:
  Explainer(const Ledger& ledger, Figure figure, std::span<const Setting> settings)
      : ledger_(ledger),
        store_(figure.store()),
        values_(evaluate_all(ledger, settings)),
        is_expanded_(ledger.nodes().size(), false) {
    for (std::uint32_t i = 0; i < store_.nodes.size(); ++i) {
      const auto* name = store_.name_of(i);
      if (name != nullptr && !name->key.empty()) ++uses_of_symbol_[last_part(name->key)];
    }
    expand(figure.index(), 0);
  }

  [[nodiscard]] Explanation take() { return std::move(explanation_); }

 private:
  void expand(std::uint32_t node, int depth) {
    auto line = describe_node(node, depth);
    line.is_repeated = is_expanded_[node];
    is_expanded_[node] = true;
    const bool is_computed = store_.nodes[node].operation != Operation::input &&
                             store_.nodes[node].operation != Operation::constant;
    if (!is_computed || line.is_repeated) {
      explanation_.lines.push_back(std::move(line));
      return;
    }
    line.formula = formula_text(store_, node, [this](std::uint32_t leaf) { return symbol_of(leaf); });
    line.numbers = formula_text(store_, node, [this](std::uint32_t leaf) { return value_text(leaf); });
    explanation_.lines.push_back(std::move(line));
    for (const auto leaf : formula_leaves(store_, node)) {
      // A bare number in a formula needs no line of its own, and nothing no reason.
      const Node& part = store_.nodes[leaf];
      const bool is_nothing = part.operation == Operation::constant && part.number == 0;
      if (store_.name_of(leaf) != nullptr && !is_nothing) expand(leaf, depth + 1);
    }
  }

  [[nodiscard]] ExplanationLine describe_node(std::uint32_t node, int depth) const {
    ExplanationLine line;
    line.depth = depth;
    line.node = node;
    line.value_si = values_[node];
    line.symbol = symbol_of(node);
    line.unit = unit_of(node);
    line.value = value_text(node);
    if (const auto* name = store_.name_of(node)) {
      line.key = name->key;
      line.label = name->label;
      if (is_called_by_value(node)) line.symbol = name->label;
    }
    if (store_.nodes[node].operation == Operation::input) {
      const Input& input = store_.inputs[store_.nodes[node].detail];
      line.range = input.range;
      line.source = input.source;
    }
    return line;
  }

  [[nodiscard]] std::string symbol_of(std::uint32_t node) const {
    const auto* name = store_.name_of(node);
    const Node& shown = store_.nodes[node];
    // "none" among quantities reads as a name.
    const bool is_nothing = shown.operation == Operation::constant && shown.number == 0;
    if (is_nothing && (name == nullptr || name->key.empty())) return constant_text(store_, node);
    if (is_called_by_value(node)) return constant_text(store_, node);
    if (name == nullptr) return is_leaf(store_, node) ? constant_text(store_, node) : "result";
    if (name->key.empty()) return name->label;
    auto symbol = last_part(name->key);
    return uses_of_symbol_.at(symbol) > 1 ? name->key : symbol;
  }

  // A constant like "25 degC, at which leakage is given": formulas take the value, its own line the rest.
  [[nodiscard]] bool is_called_by_value(std::uint32_t node) const {
    const auto* name = store_.name_of(node);
    return store_.nodes[node].operation == Operation::constant && name != nullptr && name->key.empty() &&
           name->label.starts_with(constant_text(store_, node));
  }

  [[nodiscard]] Unit unit_of(std::uint32_t node) const {
    const auto* name = store_.name_of(node);
    return name != nullptr ? name->unit : coherent_unit(store_.nodes[node].dimension, ledger_.currency());
  }

  [[nodiscard]] std::string value_text(std::uint32_t node) const {
    if (store_.nodes[node].operation == Operation::constant) return constant_text(store_, node);
    return format_quantity(values_[node], unit_of(node));
  }

  const Ledger& ledger_;
  const LedgerStore& store_;
  std::vector<double> values_;
  std::vector<bool> is_expanded_;
  std::map<std::string, int> uses_of_symbol_;
  Explanation explanation_;
};

// Breaks text at spaces so that lines stay within the width; further lines start at `hang`.
std::string wrap(const std::string& text, std::size_t indent, std::size_t hang, std::size_t columns) {
  std::string result(indent, ' ');
  std::size_t width = indent;
  std::size_t at = 0;
  bool is_line_empty = true;
  while (at < text.size()) {
    const auto end = std::min(text.find(' ', at), text.size());
    const auto length = end - at;
    if (!is_line_empty && width + 1 + length > columns) {
      result += '\n';
      result.append(hang, ' ');
      width = hang;
      is_line_empty = true;
    }
    if (!is_line_empty) {
      result += ' ';
      ++width;
    }
    result.append(text, at, length);
    width += length;
    is_line_empty = false;
    at = end + 1;
  }
  return result + "\n";
}

std::string source_text(const Source& source) {
  const auto place = place_of(source);
  if (place.empty() && source.text.empty()) return "<- no source given";
  if (source.text.empty()) return "<- " + place;
  if (place.empty()) return fmt::format("<- \"{}\"", source.text);
  return fmt::format("<- {} \"{}\"", place, source.text);
}

// A constant that is called by its value needs it only once.
std::string assignment(const ExplanationLine& line) {
  return line.symbol.starts_with(line.value) ? line.symbol : line.symbol + " = " + line.value;
}

std::string input_text(const ExplanationLine& line, std::size_t indent, std::size_t columns) {
  auto text = assignment(line);
  if (line.range && line.range->low != line.range->high) {
    text += fmt::format(" ({} .. {})", format_quantity(line.range->low, line.unit),
                        format_quantity(line.range->high, line.unit));
  }
  if (!line.range) return wrap(text, indent, indent + 2, columns);
  const auto source = source_text(line.source);
  if (indent + text.size() + 1 + source.size() <= columns)
    return wrap(text + " " + source, indent, indent, columns);
  return wrap(text, indent, indent + 2, columns) + wrap(source, indent + 2, indent + 5, columns);
}

std::string computed_text(const ExplanationLine& line, std::size_t indent, std::size_t columns) {
  // A second name for one figure would only repeat its value.
  const auto numbers = line.numbers == line.value ? line.value : line.numbers + " = " + line.value;
  if (line.formula == numbers) return wrap(line.symbol + " = " + numbers, indent, indent + 2, columns);
  const auto whole = fmt::format("{} = {} = {}", line.symbol, line.formula, numbers);
  if (indent + whole.size() <= columns) return wrap(whole, indent, indent, columns);
  const auto equals = std::min(indent + line.symbol.size() + 1, columns / 2);
  return wrap(line.symbol + " = " + line.formula, indent, equals + 2, columns) +
         wrap("= " + numbers, equals, equals + 2, columns);
}

}  // namespace

Explanation explain(const Ledger& ledger, Figure figure, std::span<const Setting> settings) {
  return Explainer(ledger, figure, settings).take();
}

std::string to_text(const Explanation& explanation, int columns) {
  const auto width = static_cast<std::size_t>(std::max(columns, 20));
  std::string text;
  for (const auto& line : explanation.lines) {
    const auto indent = std::min(static_cast<std::size_t>(line.depth) * 2, width / 2);
    if (line.is_repeated) {
      text += wrap(assignment(line) + " (see above)", indent, indent + 2, width);
    } else if (line.formula.empty()) {
      text += input_text(line, indent, width);
    } else {
      text += computed_text(line, indent, width);
    }
  }
  return text;
}

}  // namespace portweigh::figures

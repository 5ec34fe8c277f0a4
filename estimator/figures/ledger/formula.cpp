// The operators and functions that build formulas, with their dimension rules.
#include <fmt/core.h>

#include <cmath>
#include <initializer_list>

#include "figures/ledger/formula_text.hpp"
#include "figures/ledger/ledger.hpp"
#include "figures/ledger/ledger_store.hpp"

namespace portweigh::figures {
namespace {

std::string described(Figure figure) {
  return fmt::format("\"{}\" ({})", figure_text(figure.store(), figure.index()),
                     describe(figure.dimension()));
}

void require_same_ledger(Figure a, Figure b) {
  if (&a.store() != &b.store()) {
    throw LedgerError(fmt::format("{} and {} belong to different ledgers", described(a), described(b)));
  }
}

void require_same_dimension(Figure a, Figure b, std::string_view verb, std::string_view joint) {
  require_same_ledger(a, b);
  if (a.dimension() != b.dimension()) {
    throw DimensionError(fmt::format("cannot {} {} {} {}", verb, described(a), joint, described(b)));
  }
}

void require_dimensionless(Figure a, std::string_view verb) {
  if (!is_dimensionless(a.dimension())) {
    throw DimensionError(fmt::format("cannot {} {}, expected a plain number", verb, described(a)));
  }
}

Figure append(Operation operation, const Dimension& dimension, std::initializer_list<Figure> arguments,
              double number = 0.0, std::uint32_t detail = 0) {
  Node node;
  node.operation = operation;
  node.dimension = dimension;
  node.number = number;
  node.detail = detail;
  for (const Figure argument : arguments) node.arguments[node.argument_count++] = argument.index();
  return arguments.begin()->store().append(node);
}

Figure number_beside(Figure figure, double value) {
  if (!std::isfinite(value)) throw LedgerError(fmt::format("constant {} is not finite", value));
  Node node;
  node.operation = Operation::constant;
  node.number = value;
  return figure.store().append(node);
}

std::uint32_t table_number(LedgerStore& store, const LookupTable& table) {
  for (std::size_t i = 0; i < store.tables.size(); ++i) {
    if (store.tables[i] == table) return static_cast<std::uint32_t>(i);
  }
  store.tables.push_back(table);
  return static_cast<std::uint32_t>(store.tables.size() - 1);
}

// Exponents of the result; a square root of "m" has none.
Dimension dimension_of_power(Figure base, double exponent) {
  auto all = exponents(base.dimension());
  for (auto& one : all) {
    const double scaled = one * exponent;
    if (std::abs(scaled) > 100.0 || scaled != std::round(scaled)) {
      throw DimensionError(
          fmt::format("cannot raise {} to the power {}: the result would have no whole dimension",
                      described(base), exponent));
    }
    one = static_cast<int>(scaled);
  }
  return from_exponents(all);
}

}  // namespace

Figure operator+(Figure a, Figure b) {
  require_same_dimension(a, b, "add", "and");
  return append(Operation::add, a.dimension(), {a, b});
}

Figure operator-(Figure a, Figure b) {
  require_same_ledger(a, b);
  if (a.dimension() != b.dimension()) {
    throw DimensionError(fmt::format("cannot subtract {} from {}", described(b), described(a)));
  }
  return append(Operation::subtract, a.dimension(), {a, b});
}

Figure operator*(Figure a, Figure b) {
  require_same_ledger(a, b);
  return append(Operation::multiply, multiply(a.dimension(), b.dimension()), {a, b});
}

Figure operator/(Figure a, Figure b) {
  require_same_ledger(a, b);
  return append(Operation::divide, divide(a.dimension(), b.dimension()), {a, b});
}

Figure operator-(Figure a) {
  return -1.0 * a;
}
Figure operator+(Figure a, double b) {
  return a + number_beside(a, b);
}
Figure operator+(double a, Figure b) {
  return number_beside(b, a) + b;
}
Figure operator-(Figure a, double b) {
  return a - number_beside(a, b);
}
Figure operator-(double a, Figure b) {
  return number_beside(b, a) - b;
}
Figure operator*(Figure a, double b) {
  return a * number_beside(a, b);
}
Figure operator*(double a, Figure b) {
  return number_beside(b, a) * b;
}
Figure operator/(Figure a, double b) {
  return a / number_beside(a, b);
}
Figure operator/(double a, Figure b) {
  return number_beside(b, a) / b;
}

Figure minimum(Figure a, Figure b) {
  require_same_dimension(a, b, "take the minimum of", "and");
  return append(Operation::minimum, a.dimension(), {a, b});
}

Figure maximum(Figure a, Figure b) {
  require_same_dimension(a, b, "take the maximum of", "and");
  return append(Operation::maximum, a.dimension(), {a, b});
}

Figure sum(std::span<const Figure> figures) {
  if (figures.empty()) throw LedgerError("cannot sum no figures: their dimension would be unknown");
  Figure total = figures.front();
  for (const Figure figure : figures.subspan(1)) total = total + figure;
  return total;
}

Figure power(Figure base, double exponent) {
  if (!std::isfinite(exponent)) throw LedgerError(fmt::format("exponent {} is not finite", exponent));
  return append(Operation::power, dimension_of_power(base, exponent), {base}, exponent);
}

Figure power(Figure base, Figure exponent) {
  require_same_ledger(base, exponent);
  require_dimensionless(base, "raise");
  require_dimensionless(exponent, "raise to");
  return append(Operation::raise, dimensions::dimensionless, {base, exponent});
}

Figure log(Figure a) {
  require_dimensionless(a, "take the logarithm of");
  return append(Operation::log, dimensions::dimensionless, {a});
}

Figure exp(Figure a) {
  require_dimensionless(a, "take the exponential of");
  return append(Operation::exp, dimensions::dimensionless, {a});
}

Figure round_up(Figure a) {
  require_dimensionless(a, "round");
  return append(Operation::round_up, dimensions::dimensionless, {a});
}

Figure round_down(Figure a) {
  require_dimensionless(a, "round");
  return append(Operation::round_down, dimensions::dimensionless, {a});
}

Figure lookup(Figure x, const LookupTable& table) {
  require_valid(table);
  if (x.dimension() != table.x_dimension) {
    throw DimensionError(fmt::format("cannot look up {} in table \"{}\" of {}", described(x), table.label,
                                     describe(table.x_dimension)));
  }
  return append(Operation::lookup, table.y_dimension, {x}, 0.0, table_number(x.store(), table));
}

Figure at_least(Figure a, Figure b) {
  require_same_dimension(a, b, "compare", "with");
  return append(Operation::at_least, dimensions::dimensionless, {a, b});
}

Figure select(Figure condition, Figure a, Figure b) {
  require_same_ledger(condition, a);
  require_same_dimension(a, b, "select between", "and");
  require_dimensionless(condition, "select by");
  return append(Operation::select, a.dimension(), {condition, a, b});
}

}  // namespace portweigh::figures

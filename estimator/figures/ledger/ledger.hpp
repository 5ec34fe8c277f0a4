// The ledger: every number knows where it came from.
//
// A ledger is an append-only list of nodes in topological order: a node is an input (range, unit, source,
// place in a file), a constant, or an operation on earlier nodes. A Figure is a handle to a node. Formulas
// are written with overloaded operators and read like the handbook:
//
//     Ledger ledger;
//     Figure leakage = ledger.input({.key = "parts.pl-2k.leakage", .label = "leakage", .range = {1e-3, 2e-3,
//     4e-3},
//                                    .unit = parse_unit("W"), .source = {"data sheet", "pl-2k.toml", 12,
//                                    1}});
//     Figure active = ledger.name(leakage + clock_tree + toggling, "active_power", "active power",
//     parse_unit("mW"));
//
// The same structure is evaluated (evaluate.hpp, sample_evaluator.hpp), explained (explain.hpp), exported
// (export.hpp) and compared (compare.hpp), so these can't disagree. Rules:
// dimensions are checked when the formula is built (DimensionError names both figures and dimensions). A
// double next to a Figure is dimensionless. All money of one ledger is in one currency. Figures stay valid
// when the ledger is moved, and die with it. Building is single-threaded; reading is safe from many threads.
// Tested by tests/figures/ledger/ledger_test.cpp.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "figures/ledger/lookup_table.hpp"
#include "figures/ledger/source.hpp"
#include "figures/units/dimension.hpp"
#include "figures/units/unit.hpp"

namespace portweigh::figures {

class DimensionError : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

// A formula that breaks a rule of the ledger: key used twice, figures of two ledgers, a constant that isn't
// finite.
class LedgerError : public std::logic_error {
 public:
  using std::logic_error::logic_error;
};

enum class Operation : std::uint8_t {
  input,
  constant,
  same,  // another name for an earlier figure
  add,
  subtract,
  multiply,
  divide,
  minimum,
  maximum,
  power,  // constant exponent
  raise,  // exponent is a figure; both dimensionless
  log,    // natural
  exp,
  round_up,
  round_down,
  lookup,
  at_least,  // 1 if a >= b, otherwise 0
  select     // condition != 0 ? a : b
};

[[nodiscard]] std::string_view to_string(Operation operation);
[[nodiscard]] std::optional<Operation> operation_from_string(std::string_view text);

struct Node {
  Operation operation = Operation::constant;
  std::uint8_t argument_count = 0;
  Dimension dimension;
  std::uint32_t arguments[3] = {0, 0, 0};  // node indices, all smaller than this node's own
  std::uint32_t detail = 0;                // input number (input) or table number (lookup)
  double number = 0.0;                     // value (constant) or exponent (power)
};

struct Input {
  std::string key;    // stable and unique: "parts.pl-2k.leakage"
  std::string label;  // for people
  Range range;        // SI
  Unit unit;          // shown to people; its dimension is the input's dimension
  Source source;
  std::string correlation;  // inputs of one non-empty group move together when sampled
};

struct Name {
  std::string key;
  std::string label;
  Unit unit;
};

class Figure;
struct LedgerStore;

class Ledger {
 public:
  Ledger();
  ~Ledger();
  Ledger(Ledger&&) noexcept;
  Ledger& operator=(Ledger&&) noexcept;
  Ledger(const Ledger&) = delete;
  Ledger& operator=(const Ledger&) = delete;

  // The node of this key: a new one, or the one that exists if range and dimension are the same (else
  // LedgerError). Range must be finite and ordered, currency that of the ledger (else LedgerError).
  Figure input(const Input& input);
  Figure constant(double value_si, const Dimension& dimension, std::string_view label = "");
  Figure constant(double value);

  // Gives a figure its key, label and unit. Returns the figure to use from here on: the same node, or another
  // node equal to it if that node is an input, a constant or has a name already. LedgerError if the key is
  // taken.
  Figure name(Figure figure, std::string_view key, std::string_view label, const Unit& unit);

  [[nodiscard]] std::optional<Figure> find(std::string_view key) const;
  [[nodiscard]] Figure at(std::string_view key) const;  // LedgerError if there is none

  [[nodiscard]] std::span<const Node> nodes() const;
  [[nodiscard]] std::span<const Input> inputs() const;           // in order of creation
  [[nodiscard]] std::uint32_t node_of_input(std::size_t) const;  // input number -> node index
  [[nodiscard]] std::span<const LookupTable> tables() const;
  [[nodiscard]] const Name* name_of(
      std::uint32_t node) const;  // null if unnamed; inputs and named figures have one
  [[nodiscard]] Figure figure(std::uint32_t node) const;
  [[nodiscard]] std::vector<std::uint32_t> named_nodes()
      const;                                          // operations with a name, in order of creation
  [[nodiscard]] const std::string& currency() const;  // empty while no money was entered

 private:
  std::unique_ptr<LedgerStore> store_;
};

class Figure {
 public:
  [[nodiscard]] std::uint32_t index() const { return index_; }
  [[nodiscard]] const Dimension& dimension() const;
  [[nodiscard]] std::string key() const;  // empty if the figure has no name
  [[nodiscard]] LedgerStore& store() const { return *store_; }

 private:
  friend class Ledger;
  friend struct LedgerStore;
  Figure(LedgerStore* store, std::uint32_t index) : store_(store), index_(index) {}

  LedgerStore* store_;
  std::uint32_t index_;
};

Figure operator+(Figure a, Figure b);
Figure operator-(Figure a, Figure b);
Figure operator*(Figure a, Figure b);
Figure operator/(Figure a, Figure b);
Figure operator-(Figure a);
Figure operator+(Figure a, double b);  // a must be dimensionless
Figure operator+(double a, Figure b);
Figure operator-(Figure a, double b);
Figure operator-(double a, Figure b);
Figure operator*(Figure a, double b);
Figure operator*(double a, Figure b);
Figure operator/(Figure a, double b);
Figure operator/(double a, Figure b);

Figure minimum(Figure a, Figure b);
Figure maximum(Figure a, Figure b);
Figure sum(std::span<const Figure> figures);  // LedgerError if empty
Figure power(Figure base, double exponent);  // DimensionError if the result would have a fractional dimension
Figure power(Figure base, Figure exponent);  // both dimensionless
Figure log(Figure a);                        // natural; dimensionless
Figure exp(Figure a);
Figure round_up(Figure a);  // to a whole number; dimensionless
Figure round_down(Figure a);
Figure lookup(Figure x, const LookupTable& table);  // x must have the table's x_dimension
Figure at_least(Figure a, Figure b);                // 1 if a >= b, otherwise 0
Figure select(Figure condition, Figure a, Figure b);

}  // namespace portweigh::figures

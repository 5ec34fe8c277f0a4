#include "figures/evaluation/shared_formulas.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "random_ledger_fixture.hpp"

using namespace portweigh::figures;

namespace {

Figure input(Ledger& ledger, const std::string& key, const Range& range) {
  return ledger.input(
      {.key = key, .label = key, .range = range, .unit = {}, .source = {}, .correlation = ""});
}

std::ptrdiff_t count(const SharedFormulas& formulas, Operation operation) {
  return std::count_if(formulas.nodes.begin(), formulas.nodes.end(),
                       [&](const Node& node) { return node.operation == operation; });
}

}  // namespace

TEST_CASE("the same formula in two ledgers is there once, sums and products in any order") {
  Ledger one;
  const Figure x = input(one, "x", {1, 2, 3});
  const Figure first = (x + 1.0) * 2.0;
  Ledger other;
  const Figure unused = input(other, "unused", {1, 2, 3});
  const Figure again = input(other, "x", {1, 2, 3});
  const Figure second = 2.0 * (1.0 + again);
  const Figure third = again - unused;
  const WantedFigures wanted[] = {{&one, {first}}, {&other, {second, third}}};
  const SharedFormulas shared = share_formulas(wanted, ExactInputs::may_move);
  CHECK(count(shared, Operation::add) == 1);
  CHECK(count(shared, Operation::multiply) == 1);
  CHECK(count(shared, Operation::subtract) == 1);
  CHECK(count(shared, Operation::constant) == 2);
  CHECK(shared.wanted[0] == shared.wanted[1]);
  CHECK(shared.wanted[1] != shared.wanted[2]);
  CHECK(shared.inputs.size() == 2);
}

TEST_CASE("differences keep their order, and inputs with other ranges are other inputs") {
  Ledger one;
  const Figure x = input(one, "x", {1, 2, 3});
  const Figure y = input(one, "y", {1, 2, 3});
  Ledger other;
  const Figure wide = input(other, "x", {0, 2, 3});
  const WantedFigures wanted[] = {{&one, {x - y, y - x, x / y, y / x, x}}, {&other, {wide}}};
  const SharedFormulas shared = share_formulas(wanted, ExactInputs::may_move);
  CHECK(count(shared, Operation::subtract) == 2);
  CHECK(count(shared, Operation::divide) == 2);
  CHECK(count(shared, Operation::input) == 3);
}

TEST_CASE("what can't move becomes a number") {
  Ledger ledger;
  const Figure exact = input(ledger, "exact", exactly(3));
  const Figure wanted_figure = ledger.name(exact * exact, "square", "", {}) + 1.0;
  const WantedFigures wanted[] = {{&ledger, {wanted_figure}}};
  const SharedFormulas fixed = share_formulas(wanted, ExactInputs::stay);
  CHECK(fixed.nodes[fixed.wanted[0]].operation == Operation::constant);
  CHECK(fixed.nodes[fixed.wanted[0]].number == 10.0);
  const SharedFormulas moving = share_formulas(wanted, ExactInputs::may_move);
  CHECK(moving.nodes[moving.wanted[0]].operation == Operation::add);
  CHECK(count(moving, Operation::same) == 0);
}

TEST_CASE("arguments come before their readers in random ledgers that are shared with themselves") {
  const auto made = test::make_random_ledger(5, 6, 80);
  const WantedFigures wanted[] = {{&made.ledger, made.figures}, {&made.ledger, made.figures}};
  const SharedFormulas shared = share_formulas(wanted, ExactInputs::may_move);
  REQUIRE(shared.wanted.size() == 2 * made.figures.size());
  CHECK(std::equal(shared.wanted.begin(), shared.wanted.begin() + static_cast<int>(made.figures.size()),
                   shared.wanted.begin() + static_cast<int>(made.figures.size())));
  for (std::size_t i = 0; i < shared.nodes.size(); ++i) {
    for (std::size_t k = 0; k < shared.nodes[i].argument_count; ++k) {
      REQUIRE(shared.nodes[i].arguments[k] < i);
    }
  }
}

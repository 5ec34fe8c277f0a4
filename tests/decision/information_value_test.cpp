#include "decision/information_value.hpp"

#include <catch2/catch.hpp>

using namespace portweigh;
using namespace portweigh::decision;

namespace {

// x and y triangular (-1, 0, 1), z triangular (0, 1, 2) with its twin in one group.
const figures::SampleTable& table() {
  static const figures::SampleTable made = [] {
    static figures::Ledger ledger;
    const auto input = [&](const char* key, const figures::Range& range, const char* group) {
      ledger.input({.key = key,
                    .label = key,
                    .range = range,
                    .unit = figures::parse_unit("1"),
                    .source = {},
                    .correlation = group});
    };
    input("x", {-1, 0, 1}, "");
    input("y", {-1, 0, 1}, "");
    input("z", {0, 1, 2}, "group");
    input("twin", {0, 1, 2}, "group");
    const figures::Ledger* ledgers[] = {&ledger};
    return figures::SampleTable(ledgers, 1 << 14, 1);
  }();
  return made;
}

Eigen::ArrayXd values_of(const char* key) {
  return Eigen::Map<const Eigen::ArrayXd>(table().column(key), table().count());
}

Eigen::ArrayXXd side_by_side(const Eigen::ArrayXd& a, const Eigen::ArrayXd& b) {
  Eigen::ArrayXXd both(a.size(), 2);
  both << a, b;
  return both;
}

double value_in(const Information& information, const std::string& name) {
  for (const InformationValue& known : information.inputs) {
    if (known.input.name == name) return known.value;
  }
  return 0;
}

}  // namespace

// [C] worth x or 0 with x triangular (-1, 0, 1): E max(x, 0) = integral of x (1 - x) over 0..1 = 1/6.
TEST_CASE("An input that decides alone is worth 1/6, the others nothing") {
  const Eigen::ArrayXXd worth = side_by_side(values_of("x"), 0 * values_of("x"));
  const Information information = information_values(worth, table(), 1);
  CHECK(value_in(information, "x") == Approx(1.0 / 6).margin(0.001));
  CHECK(value_in(information, "y") == Approx(0).margin(0.001));
  CHECK(value_in(information, "group") == Approx(0).margin(0.001));
  CHECK(information.everything == Approx(1.0 / 6).margin(0.001));
  CHECK(information.expected_worth == Approx(0).margin(0.001));
}

// [C] worth x + y or 0: knowing x alone E max(x, 0) = 1/6, knowing both E max(x + y, 0) = 7/30: x + y is the
// sum of four uniform numbers less two (Irwin-Hall, n = 4), half of whose mean absolute deviation, 7/15, it
// is.
TEST_CASE("Two inputs that decide together are worth less alone than both") {
  const Eigen::ArrayXXd worth = side_by_side(values_of("x") + values_of("y"), 0 * values_of("x"));
  const Information information = information_values(worth, table(), 2);
  CHECK(value_in(information, "x") == Approx(1.0 / 6).margin(0.003));
  CHECK(value_in(information, "y") == Approx(1.0 / 6).margin(0.003));
  CHECK(information.everything == Approx(7.0 / 30).margin(0.002));
}

// [C] worth z or 1.5, z triangular (0, 1, 2): E max(z - 1.5, 0) = integral of (z - 1.5)(2 - z) over 1.5..2 =
// 1/48.
TEST_CASE("A group is known as one, and an input that moves worths but no choice is worth nothing") {
  const Eigen::ArrayXd z = values_of("twin");
  const Information information = information_values(side_by_side(z, 0 * z + 1.5), table(), 3);
  REQUIRE_FALSE(information.inputs.empty());
  CHECK(information.inputs.front().input.name == "group");
  CHECK(information.inputs.front().input.inputs == std::vector<std::string>{"twin", "z"});
  CHECK(information.inputs.front().value == Approx(1.0 / 48).margin(0.0005));
  const Eigen::ArrayXd x = values_of("x");
  CHECK(information_values(side_by_side(x, x - 0.1), table(), 1).inputs.empty());
}

TEST_CASE("The same for any number of threads; no options, no value") {
  const Eigen::ArrayXXd worth = side_by_side(values_of("x") * values_of("y"), 0.1 * values_of("z") - 0.1);
  const Information one = information_values(worth, table(), 1);
  const Information four = information_values(worth, table(), 4);
  REQUIRE(one.inputs.size() == four.inputs.size());
  for (std::size_t i = 0; i < one.inputs.size(); ++i) CHECK(one.inputs[i].value == four.inputs[i].value);
  CHECK(information_values(Eigen::ArrayXXd(0, 0), table(), 1).inputs.empty());
}

// Learning curves against worked examples of T. P. Wright 1936 and J. R. Crawford 1944.
#include "options/money/learning.hpp"

#include <catch2/catch.hpp>
#include <cmath>

#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using study::LearningCurve;
using tests::number;

namespace {

double total(LearningCurve curve, double n, double rate) {
  figures::Ledger ledger;
  return figures::evaluate(
      ledger, learning_total(curve, number(ledger, "n", n), learning_exponent(number(ledger, "rate", rate))));
}

double level(double n, double rate) {
  figures::Ledger ledger;
  return figures::evaluate(
      ledger, learning_level(number(ledger, "n", n), learning_exponent(number(ledger, "rate", rate))));
}

}  // namespace

// 80 % curve, first unit 100 [C].
TEST_CASE("Units of Crawford's curve and totals of Wright's are those of the textbook") {
  CHECK(100 * level(1, 0.8) == Approx(100));
  CHECK(100 * level(2, 0.8) == Approx(80));
  CHECK(100 * level(4, 0.8) == Approx(64));
  CHECK(100 * level(8, 0.8) == Approx(51.2));
  CHECK(100 * level(100, 0.8) == Approx(22.7062).epsilon(1e-5));
  CHECK(100 * total(LearningCurve::wright, 2, 0.8) == Approx(160));
  CHECK(100 * total(LearningCurve::wright, 4, 0.8) == Approx(256));
  CHECK(100 * total(LearningCurve::wright, 8, 0.8) == Approx(409.6));
}

TEST_CASE("Crawford's total is the sum of its units") {
  for (const double rate : {0.7, 0.8, 0.95, 1.0}) {
    double sum = 0;
    for (int n = 1; n <= 1000; ++n) {
      sum += std::pow(n, std::log2(rate));
      if (n != 8 && n != 100 && n != 1000) continue;
      INFO(rate << " " << n);
      CHECK(total(LearningCurve::crawford, n, rate) == Approx(sum).epsilon(n == 8 ? 0.012 : 0.003));
    }
  }
}

TEST_CASE("Without learning a total is a count") {
  CHECK(total(LearningCurve::wright, 250, 1) == Approx(250));
  CHECK(total(LearningCurve::crawford, 250, 1) == Approx(250));
}

#include "figures/evaluation/sample_evaluator.hpp"

#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>
#include <random>
#include <thread>

#include "figures/evaluation/evaluate.hpp"
#include "random_ledger_fixture.hpp"

using namespace portweigh::figures;
using test::make_random_ledger;

namespace {

bool has_same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b) ||
         (std::isnan(a) && std::isnan(b));
}

// count x inputs, drawn around the typical values.
Eigen::ArrayXXd draw_samples(const Ledger& ledger, Eigen::Index count, std::uint32_t seed) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> share(0.5, 1.5);
  Eigen::ArrayXXd samples(count, static_cast<Eigen::Index>(ledger.inputs().size()));
  for (Eigen::Index j = 0; j < samples.cols(); ++j) {
    for (Eigen::Index i = 0; i < count; ++i) {
      samples(i, j) = ledger.inputs()[static_cast<std::size_t>(j)].range.typical * share(random);
    }
  }
  return samples;
}

std::vector<const double*> columns_of(const Eigen::ArrayXXd& samples) {
  std::vector<const double*> columns;
  for (Eigen::Index j = 0; j < samples.cols(); ++j) columns.push_back(&samples(0, j));
  return columns;
}

}  // namespace

TEST_CASE("samples give the same bits as single values, for random formulas") {
  for (std::uint32_t seed = 1; seed <= 40; ++seed) {
    const auto made = make_random_ledger(seed, 6, 60);
    const std::vector<Figure> wanted(made.figures.end() - 8, made.figures.end());
    const SampleEvaluator evaluator(made.ledger, wanted);
    const auto samples = draw_samples(made.ledger, 300, seed);
    const auto result = evaluator.evaluate(columns_of(samples), samples.rows());
    int different = 0;
    for (Eigen::Index i = 0; i < samples.rows(); ++i) {
      std::vector<double> inputs;
      for (Eigen::Index j = 0; j < samples.cols(); ++j) inputs.push_back(samples(i, j));
      const auto values = evaluate_all(made.ledger, std::span<const double>(inputs));
      for (std::size_t k = 0; k < wanted.size(); ++k) {
        if (!has_same_bits(result(i, static_cast<Eigen::Index>(k)), values[wanted[k].index()])) ++different;
      }
    }
    INFO("seed " << seed);
    CHECK(different == 0);
  }
}

TEST_CASE("inputs without a column keep their typical value") {
  const auto made = make_random_ledger(7, 5, 50);
  const std::vector<Figure> wanted = {made.figures.back(), made.figures[2], made.figures.back()};
  const SampleEvaluator evaluator(made.ledger, wanted);
  auto samples = draw_samples(made.ledger, 10, 1);
  auto columns = columns_of(samples);
  const std::vector<const double*> none(columns.size(), nullptr);
  const auto result = evaluator.evaluate(none, 10);
  const auto typical = evaluate_all(made.ledger);
  for (Eigen::Index i = 0; i < 10; ++i) {
    for (std::size_t k = 0; k < wanted.size(); ++k) {
      CHECK(result(i, static_cast<Eigen::Index>(k)) == typical[wanted[k].index()]);
    }
  }
}

TEST_CASE("the result doesn't depend on how samples are split over threads") {
  const auto made = make_random_ledger(11, 8, 120);
  const std::vector<Figure> wanted(made.figures.end() - 3, made.figures.end());
  const SampleEvaluator evaluator(made.ledger, wanted);
  const auto samples = draw_samples(made.ledger, 1000, 5);
  const auto whole = evaluator.evaluate(columns_of(samples), 1000);
  Eigen::ArrayXXd parts(1000, 3);
  std::vector<std::thread> threads;
  const std::vector<Eigen::Index> bounds = {0, 1, 138, 601, 1000};
  for (std::size_t t = 0; t + 1 < bounds.size(); ++t) {
    threads.emplace_back([&, t] {
      const auto first = bounds[t];
      const auto count = bounds[t + 1] - first;
      auto columns = columns_of(samples);
      for (auto& column : columns) column += first;
      parts.middleRows(first, count) = evaluator.evaluate(columns, count);
    });
  }
  for (auto& thread : threads) thread.join();
  int different = 0;
  for (Eigen::Index i = 0; i < whole.size(); ++i) {
    if (!has_same_bits(whole.data()[i], parts.data()[i])) ++different;
  }
  CHECK(different == 0);
}

TEST_CASE("only what is needed is computed, in few slots") {
  Ledger ledger;
  const auto x = ledger.input(
      {.key = "x", .label = "", .range = exactly(1), .unit = {}, .source = {}, .correlation = ""});
  const auto y = ledger.input(
      {.key = "y", .label = "", .range = exactly(1), .unit = {}, .source = {}, .correlation = ""});
  (void)exp(y * y);
  const auto folded = ledger.constant(2.0) * ledger.constant(3.0) + ledger.constant(1.0);
  Figure chain = x * folded;
  for (int i = 0; i < 100; ++i) chain = chain + x;
  const SampleEvaluator evaluator(ledger, {chain});
  CHECK(evaluator.used_inputs() == std::vector<std::uint32_t>{0});
  CHECK(evaluator.operation_count() == 101);
  CHECK(evaluator.slot_count() == 2);
  const std::vector<double> values = {1.0, 2.0};
  const std::vector<const double*> columns = {values.data(), nullptr};
  const auto result = evaluator.evaluate(columns, 2);
  CHECK(result(0, 0) == 107.0);
  CHECK(result(1, 0) == 214.0);
}

TEST_CASE("second names, constants and inputs can be wanted, and results keep their slots") {
  Ledger ledger;
  const auto x = ledger.input(
      {.key = "x", .label = "", .range = exactly(3), .unit = {}, .source = {}, .correlation = ""});
  const auto square = ledger.name(x * x, "square", "", {});
  const auto again = ledger.name(square, "again", "", {});
  const auto cube = again * x;
  const auto later = cube - square + again;
  const SampleEvaluator evaluator(ledger, {x, square, again, cube, later, ledger.constant(5.0)});
  const std::vector<double> values = {2.0};
  const std::vector<const double*> columns = {values.data()};
  const auto result = evaluator.evaluate(columns, 1);
  const Eigen::ArrayXXd expected = (Eigen::ArrayXXd(1, 6) << 2, 4, 4, 8, 8, 5).finished();
  CHECK((result == expected).all());
}

TEST_CASE("several ledgers together give the bits of each alone, common figures in one column") {
  std::vector<test::RandomLedger> made;
  std::vector<WantedFigures> wanted;
  for (std::uint32_t seed = 1; seed <= 3; ++seed) made.push_back(make_random_ledger(seed, 6, 80));
  made.push_back(make_random_ledger(2, 6, 80));
  for (const auto& one : made) wanted.push_back({&one.ledger, {one.figures.end() - 6, one.figures.end()}});
  const SampleEvaluator together(wanted, ExactInputs::may_move);
  const auto samples = draw_samples(made[0].ledger, 300, 4);
  // The random ledgers call their inputs alike; their ranges may differ, so each gets its column by its key.
  std::vector<const double*> columns;
  for (const SharedInput& input : together.inputs()) {
    const auto key_is = [&input](const Input& other) { return other.key == input.key; };
    const auto all = made[0].ledger.inputs();
    const auto found = std::find_if(all.begin(), all.end(), key_is);
    REQUIRE(found != all.end());
    columns.push_back(&samples(0, found - all.begin()));
  }
  const auto distinct = together.evaluate_distinct(columns, 300);
  CHECK(together.distinct_count() <= 18);
  int different = 0;
  for (std::size_t m = 0; m < made.size(); ++m) {
    const SampleEvaluator alone(made[m].ledger, wanted[m].figures);
    const auto expected = alone.evaluate(columns_of(samples), 300);
    for (std::size_t k = 0; k < 6; ++k) {
      const auto& place = together.places()[6 * m + k];
      for (Eigen::Index i = 0; i < 300; ++i) {
        const double value = place.is_fixed ? place.value : distinct(i, place.column);
        if (!has_same_bits(value, expected(i, static_cast<Eigen::Index>(k)))) ++different;
      }
    }
  }
  CHECK(different == 0);
}

TEST_CASE("too few columns are refused") {
  const auto made = make_random_ledger(3, 4, 10);
  const SampleEvaluator evaluator(made.ledger, {made.figures.back()});
  const std::vector<const double*> too_few(3, nullptr);
  CHECK_THROWS_AS(evaluator.evaluate(too_few, 1), LedgerError);
}

// All instruction sets of this processor give the same bits, for ordinary values and others, for any length.
#include "figures/sample_kernels.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <limits>
#include <random>

using namespace portweigh::figures;

namespace {

constexpr std::size_t stride = 256;

struct Vectors {
  std::vector<double> a;
  std::vector<double> b;
  std::vector<double> c;
};

Vectors draw(std::uint32_t seed, bool is_ordinary) {
  std::mt19937 random(seed);
  std::uniform_real_distribution<double> value(0.1, 40);
  const double special[] = {0.0,
                            -0.0,
                            -3.0,
                            1e308,
                            5e-324,
                            std::numeric_limits<double>::infinity(),
                            std::numeric_limits<double>::quiet_NaN()};
  Vectors vectors;
  for (auto* vector : {&vectors.a, &vectors.b, &vectors.c}) {
    for (std::size_t i = 0; i < stride; ++i) {
      vector->push_back(is_ordinary || random() % 8 != 0 ? value(random) : special[random() % 7]);
    }
  }
  return vectors;
}

std::vector<double> result_of(RunKernels run, const Vectors& vectors, Kernel kernel, std::size_t length) {
  const LookupTable curve{{1, 4, 9, 30}, {8, 5, 2, 1}, {}, {}, Scale::log_log, "curve"};
  const LookupTable line{{1, 4, 9, 30}, {8, 5, -2, 1}, {}, {}, Scale::linear, "line"};
  const auto curve_slopes = segment_slopes(curve);
  const auto line_slopes = segment_slopes(line);
  const KernelTable tables[] = {{&curve, curve.x.data(), curve.y.data(), curve_slopes.data(), 4, true},
                                {&line, line.x.data(), line.y.data(), line_slopes.data(), 4, false}};
  const double* inputs[] = {vectors.a.data(), vectors.b.data(), vectors.c.data()};
  std::vector<double> slots(2 * stride, -1.0);
  KernelCall calls[2];
  for (std::uint32_t i = 0; i < 2; ++i) {
    calls[i] = {kernel, 3 + i, {0, 1, 2}, i, 1.7};
  }
  KernelWork work;
  work.calls = calls;
  work.call_count = kernel == Kernel::lookup ? 2 : 1;
  work.inputs = inputs;
  work.input_count = 3;
  work.slots = slots.data();
  work.stride = stride;
  work.tables = tables;
  work.length = length;
  run(work);
  return slots;
}

std::size_t count_different(const std::vector<double>& a, const std::vector<double>& b) {
  std::size_t different = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const bool is_same = std::bit_cast<std::uint64_t>(a[i]) == std::bit_cast<std::uint64_t>(b[i]);
    if (!is_same && !(std::isnan(a[i]) && std::isnan(b[i]))) ++different;
  }
  return different;
}

}  // namespace

TEST_CASE("every instruction set gives the same bits") {
  const auto sets = available_kernels();
  REQUIRE(sets.front().name == "plain");
  for (unsigned number = 0; number <= static_cast<unsigned>(Kernel::fill); ++number) {
    const auto kernel = static_cast<Kernel>(number);
    for (const std::size_t length : {1U, 7U, 64U, 255U, 256U}) {
      for (const bool is_ordinary : {true, false}) {
        const Vectors vectors = draw(number, is_ordinary);
        const auto expected = result_of(sets.front().run, vectors, kernel, length);
        for (const KernelSet& set : sets) {
          INFO(set.name << ", kernel " << number << ", length " << length);
          CHECK(count_different(result_of(set.run, vectors, kernel, length), expected) == 0);
        }
      }
    }
  }
}

TEST_CASE("nothing is written behind the samples") {
  const Vectors vectors = draw(1, true);
  const auto slots = result_of(best_kernels(), vectors, Kernel::add, 10);
  CHECK(slots[9] == vectors.a[9] + vectors.b[9]);
  CHECK(slots[10] == -1.0);
}

TEST_CASE("lookups are those of single values") {
  const LookupTable curve{{1, 4, 9, 30}, {8, 5, 2, 1}, {}, {}, Scale::log_log, "curve"};
  const LookupTable line{{1, 4, 9, 30}, {8, 5, -2, 1}, {}, {}, Scale::linear, "line"};
  for (const bool is_ordinary : {true, false}) {
    const Vectors vectors = draw(9, is_ordinary);
    const auto slots = result_of(best_kernels(), vectors, Kernel::lookup, stride);
    std::vector<double> expected;
    for (const LookupTable* table : {&curve, &line}) {
      for (const double x : vectors.a) expected.push_back(value_at(*table, x));
    }
    CHECK(count_different(slots, expected) == 0);
  }
}

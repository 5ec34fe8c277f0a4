#include "logic/simulation/transpose.hpp"

#include <catch2/catch.hpp>
#include <random>

TEST_CASE("bit j of row i becomes bit i of row j") {
  std::mt19937_64 random(1);
  std::array<std::uint64_t, 64> rows{};
  for (std::uint64_t& row : rows) row = random();
  const auto before = rows;
  portweigh::logic::transpose(rows);
  int wrong = 0;
  for (unsigned i = 0; i < 64; ++i) {
    for (unsigned j = 0; j < 64; ++j) wrong += (rows[j] >> i & 1U) != (before[i] >> j & 1U) ? 1 : 0;
  }
  CHECK(wrong == 0);
  portweigh::logic::transpose(rows);
  CHECK(rows == before);
}

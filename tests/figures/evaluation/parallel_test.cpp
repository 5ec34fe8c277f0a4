#include "figures/evaluation/parallel.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <vector>

using portweigh::figures::for_each_index;

TEST_CASE("Each index is worked on once, with more threads than indices and with none") {
  for (const unsigned threads : {0U, 1U, 3U, 16U}) {
    std::vector<int> done(7, 0);
    for_each_index(done.size(), threads, [&](std::size_t i) { ++done[i]; });
    CHECK(done == std::vector<int>(7, 1));
  }
  for_each_index(0, 4, [](std::size_t) { FAIL("there is no index"); });
}

TEST_CASE("The exception of the smallest index is thrown on after all work is done") {
  std::vector<int> done(50, 0);
  const auto work = [&](std::size_t i) {
    done[i] = 1;
    if (i == 11 || i == 40) throw std::runtime_error(i == 11 ? "first" : "second");
  };
  CHECK_THROWS_WITH(for_each_index(done.size(), 3, work), "first");
  CHECK(done == std::vector<int>(50, 1));
}

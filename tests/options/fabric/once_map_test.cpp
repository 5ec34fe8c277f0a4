#include "options/fabric/once_map.hpp"

#include <atomic>
#include <catch2/catch.hpp>
#include <stdexcept>
#include <thread>
#include <vector>

using portweigh::options::OnceMap;

TEST_CASE("A value is made once, however many threads ask for it") {
  OnceMap<int> map;
  std::atomic<int> made = 0;
  std::vector<const int*> seen(8);
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < seen.size(); ++i) {
    threads.emplace_back([&, i] { seen[i] = &map.get("key", [&] { return 40 + ++made; }); });
  }
  for (std::thread& thread : threads) thread.join();
  CHECK(made == 1);
  for (const int* value : seen) CHECK(value == seen.front());
  CHECK(*seen.front() == 41);
  CHECK(map.get("other", [] { return 7; }) == 7);
}

TEST_CASE("A value whose making throws is made at the next asking") {
  OnceMap<int> map;
  CHECK_THROWS_AS(map.get("key", []() -> int { throw std::runtime_error("not yet"); }), std::runtime_error);
  CHECK(map.get("key", [] { return 3; }) == 3);
}

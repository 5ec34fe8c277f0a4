#include "figures/evaluation/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace portweigh::figures {

void for_each_index(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work) {
  std::atomic<std::size_t> next = 0;
  std::vector<std::exception_ptr> failures(count);
  const auto run = [&] {
    for (std::size_t i = next++; i < count; i = next++) {
      try {
        work(i);
      } catch (...) {
        failures[i] = std::current_exception();
      }
    }
  };
  // They join when the list goes, also where one more could not be started.
  std::vector<std::jthread> pool;
  const auto useful = static_cast<unsigned>(std::min<std::size_t>(threads, count));
  for (unsigned i = 1; i < useful; ++i) pool.emplace_back(run);
  run();
  pool.clear();
  for (const std::exception_ptr& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

}  // namespace portweigh::figures

#include "options/parallel.hpp"

#include <algorithm>
#include <atomic>
#include <exception>
#include <thread>
#include <vector>

namespace portweigh::options {

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
  std::vector<std::thread> pool;
  const auto useful = static_cast<unsigned>(std::min<std::size_t>(threads, count));
  for (unsigned i = 1; i < useful; ++i) pool.emplace_back(run);
  run();
  for (std::thread& thread : pool) thread.join();
  for (const std::exception_ptr& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

}  // namespace portweigh::options

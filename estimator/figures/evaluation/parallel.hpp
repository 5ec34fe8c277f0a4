// The same work for many indices, on several threads.
//
// Which thread does which index is left to chance, so the work must write to places of its own; then the
// result is the same for any number of threads. Tested by tests/figures/evaluation/parallel_test.cpp.
#pragma once

#include <cstddef>
#include <functional>

namespace portweigh::figures {

// Runs `work(i)` once for each i below `count`; the first exception of the smallest index is thrown on.
void for_each_index(std::size_t count, unsigned threads, const std::function<void(std::size_t)>& work);

}  // namespace portweigh::figures

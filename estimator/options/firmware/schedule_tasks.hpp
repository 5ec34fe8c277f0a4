// Which tasks a processor has with its share of the blocks: the method of each, what one contains of another, what
// polling makes wait, and whose code runs from RAM. Tested by tests/options/firmware/schedule_test.cpp.
#pragma once

#include <span>
#include <vector>

#include "options/firmware/schedule.hpp"

namespace portweigh::options {

// The main loop's own variables beside the counted ones, bytes; common practice.
inline constexpr double main_loop_ram_bytes = 48;

// Low, typical, high by `level` 0 to 2.
inline double cycles_at(const firmware::CostRange& range, int level) {
  return level == 0 ? range.low : level == 1 ? range.typical : range.high;
}

inline firmware::CostRange scaled(const firmware::CostRange& range, double factor, double added) {
  return {range.low * factor + added, range.typical * factor + added, range.high * factor + added};
}

// Where a block can poll, `polling` says whether it does.
std::vector<ScheduledTask> list_tasks(const Context& context,
                                      std::span<const study::FunctionBlock* const> blocks,
                                      const Processor& processor, bool polling);

// Whether a block has such a method, and the processor is awake anyway.
bool can_poll(const Context& context, std::span<const study::FunctionBlock* const> blocks,
              const Processor& processor);

}  // namespace portweigh::options

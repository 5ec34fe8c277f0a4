// Quick figures of a processor for the search of assignments: typical values, no ledger.
//
// The formulas are the ledger's (processor_modes.hpp). Tested by tests/options/search/split_search_test.cpp.
#pragma once

#include <optional>
#include <vector>

#include "options/firmware/schedule.hpp"

namespace portweigh::options {

struct ClockPower {
  double clock_hz = 0;
  std::size_t point = 0;  // of operating_point.hpp
  double average_w = 0;   // over the use profile
};

// For each of the schedule's feasible clocks, rising, with each core voltage that reaches it.
std::vector<ClockPower> average_power_by_clock(const Context& context, const parts::Microcontroller& part,
                                               const Schedule& schedule, const Processor& processor);

// For each clock at which all deadlines hold with typical cycles, so; without those that cannot be the better
// choice: at the same voltage a slower clock takes less on average and is more than fast enough. That is, its
// need stays below it even where cycles exceed the high end by as much again as that exceeds the typical value,
// beyond which less than one sample in a thousand lies. `schedule` is of make_schedule.
std::vector<ClockPower> clocks_worth_comparing(const Context& context, const parts::Microcontroller& part,
                                               const Schedule& schedule, const Processor& processor);

// The same of a soft processor, rising: a slower clock always takes less, since its clock tree follows the clock
// and its cycles are the same.
std::vector<double> soft_clocks_worth_comparing(const Schedule& schedule, const Processor& processor);

// The lowest of average_power_by_clock; none: no clock is fast enough. With no blocks in the schedule: what the part
// takes at its lowest clock with nothing to do.
std::optional<double> least_average_power_w(const Context& context, const parts::Microcontroller& part,
                                            const Schedule& schedule, const Processor& processor);

}  // namespace portweigh::options

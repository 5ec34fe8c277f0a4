// The best assignment of a function's groups to two engines, for one pair of parts.
//
// First engine: the fabric of a programmable-logic device or a fixed-function controller; second: a
// microcontroller, the host, a soft processor in the fabric, or a fabric beside a fixed function. Searched
// for is the lowest average power over the use profile (of equal ones, the fewest groups beyond the first
// engine):
//   fabric      f V_s/V_core sum over blocks (attached share x quiet activity + line share x added activity)
//   processor   lowest over its clocks at which all deadlines hold, those across the link shortened by it
//   host        cycles x energy a cycle + wake-ups
//   soft        lowest clock at which all deadlines hold: what every clock takes + cycles x energy a cycle, as
//               a processor of usual memory; the memory its program takes counts for the room
// all at typical values, with the link's own interface, without the leakage that heat adds and what is the
// same for every assignment of the pair. Not allowed: too many cells or RAM blocks, missed deadlines, no bus
// that is fast enough, too many pins, what the study forbids. Example: pl-flash-c + mcu-8b-timer: 64
// assignments of 8 groups, the front end and the line staying in the fabric. Tested by
// tests/options/search/split_search_test.cpp.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <variant>
#include <vector>

#include "options/candidate.hpp"
#include "options/fabric/count_cells.hpp"
#include "options/search/grouping.hpp"
#include "options/search/partition.hpp"

namespace portweigh::options {

struct Split {
  Candidate candidate;  // parts, assignment, note; its id is the caller's
  PartitionResult result;
  std::vector<std::string> beyond;  // names of the groups on the second engine
};

class SplitSearch {
 public:
  explicit SplitSearch(Context context);

  // `pair` holds the parts; `second` is the engine beside the fabric or fixed function. The reason, where no
  // assignment with both engines in use is possible.
  std::variant<Split, Shortfall> best(const Candidate& pair, EngineKind second);
  // As a problem of its own, for tests. `this` and `pair` must outlive it.
  PartitionProblem problem(const Candidate& pair, EngineKind second);

 private:
  struct Processing {
    bool fits = false;
    double average_w = 0;     // at its best clock
    unsigned ram_blocks = 0;  // of a soft processor with the memory that its program takes
    // Asked of whole assignments only: a further block may change the methods of others.
    bool fits_memory = true;
  };

  struct FabricPower {
    double clocked_w = 0;  // while clocks run
    double events_w = 0;   // of the line's events, averaged over all time
  };

  std::optional<Shortfall> hopeless(const Candidate& pair) const;  // told before anything is counted
  std::optional<Shortfall> homeless_group(const PartitionProblem& problem) const;
  std::variant<Assigned, Shortfall> try_ends(const Candidate& pair, EngineKind second,
                                             const PartitionProblem& problem) const;
  bool is_allowed(const BlockGroup& group, EngineKind engine, const Candidate& pair) const;
  // `block` is null for what the link adds: an event for each message then.
  FabricPower fabric_power(const BlockUse& use, const study::FunctionBlock* block,
                           const parts::ProgrammableLogic& part);
  FabricPower fabric_power(const BlockGroup& group, const parts::ProgrammableLogic& part);
  // What the blocks on the fabric take on average, beside what every assignment takes.
  double fabric_w(const Candidate& split, const Assigned& assigned, const std::vector<BlockUse>& links);
  double host_w(const BlockGroup& group);
  Candidate with(const Candidate& pair, EngineKind second, const Assigned& assigned) const;
  bool can_hold(const Candidate& pair, EngineKind second, const Assigned& assigned);
  std::optional<double> complete_cost(const Candidate& pair, EngineKind second, const Assigned& assigned);
  // `link` may be null: without what it takes.
  const Processing& processing(const Candidate& pair, const Candidate& split, const Link* link);
  bool may_fit(const Candidate& pair, std::size_t item);  // the group by itself
  Processing soft_processing(const Candidate& split, std::span<const study::FunctionBlock* const> blocks);
  Processing chip_processing(const Candidate& split, const Link* link,
                             std::span<const study::FunctionBlock* const> blocks);
  Room room_of_use(const BlockUse& use, const parts::ProgrammableLogic& part);
  const Room& room_of_group(std::size_t group, const parts::ProgrammableLogic& part);
  bool fits_fabric(const Candidate& pair, const Assigned& assigned, const std::vector<Room>& added);
  bool fits_pins(const Candidate& split, const Link* link) const;

  Context context_;
  std::vector<BlockGroup> groups_;
  double line_share_ = 0;     // of all time, bits on the line
  double ticking_share_ = 0;  // of all time, timers running
  std::map<std::string, Processing> processing_;
  std::map<std::string, FabricPower> fabric_power_;
  std::map<std::string, std::vector<std::optional<Room>>> rooms_;  // by part, of each group
};

}  // namespace portweigh::options

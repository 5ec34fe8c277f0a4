#include "options/search/split_search.hpp"
#include "options/firmware/event_rules.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "figures/units/format_quantity.hpp"
#include "options/fabric/count_cells.hpp"
#include "options/fabric/soft_processor.hpp"
#include "options/firmware/memory.hpp"
#include "options/firmware/processor_estimate.hpp"
#include "options/package/package.hpp"
#include "options/power/fabric_modes.hpp"
#include "options/power/processor_modes.hpp"

namespace portweigh::options {
namespace {

BlockUse use_of(const study::FunctionBlock& block) {
  return {block.kind, block.settings};
}

EngineKind first_engine(const Candidate& pair) {
  return pair.fixed() != nullptr ? EngineKind::fixed_function : EngineKind::fabric;
}

// The number of the fabric among the two engines; none: neither is one.
std::optional<std::size_t> fabric_engine(const Candidate& pair) {
  if (pair.logic() == nullptr) return std::nullopt;
  return pair.fixed() != nullptr ? 1 : 0;
}

// The assignments at the ends that use both engines: as few groups on the second as can be, and as many.
std::vector<Assigned> end_assignments(const PartitionProblem& problem) {
  Assigned fewest;
  Assigned most;
  for (const auto& allowed : problem.allowed) {
    fewest.push_back(allowed[0] ? 0 : 1);
    most.push_back(allowed[1] ? 1 : 0);
  }
  std::vector<Assigned> ends;
  const auto add = [&](const Assigned& assigned) {
    const auto beyond = static_cast<std::size_t>(std::count(assigned.begin(), assigned.end(), 1U));
    if (beyond > 0 && beyond < assigned.size()) ends.push_back(assigned);
  };
  add(fewest);
  const bool all_may_be_first = std::count(fewest.begin(), fewest.end(), 1U) == 0;
  for (std::size_t item = 0; item < fewest.size(); ++item) {
    if (!all_may_be_first || !problem.allowed[item][1]) continue;
    Assigned one = fewest;
    one[item] = 1;
    add(one);
  }
  add(most);
  return ends;
}

std::string describe(const PartitionResult& result, std::size_t groups) {
  return fmt::format(
      "assignment found by search over {} {} on two engines: {} {} looked at ({} impossible); "
      "branches left out because they can't be better: {}, because they can't fit: {}; estimated {} on "
      "average "
      "beside what all of them share",
      groups, groups == 1 ? "group" : "groups", result.completed,
      result.completed == 1 ? "assignment" : "assignments", result.impossible, result.cut_by_bound,
      result.cut_by_capacity, figures::format_quantity(result.cost, figures::dimensions::power));
}

}  // namespace

SplitSearch::SplitSearch(Context context) : context_(context), groups_(group_blocks(context.study)) {
  const study::Timing& timing = context.study.function.timing;
  for (const study::PortState& state : context.study.states) {
    if (!state.is_attached) continue;
    const double activity = state.line_activity.range.typical;
    line_share_ += state.share.range.typical * activity;
    const double wakes_hz =
        activity * message_rate_hz(timing, timing.bit_rate.range.typical) + state.wake_ups.range.typical;
    ticking_share_ +=
        state.share.range.typical * mixed(activity, 1.0, timers_run(wakes_hz, timing.response.value_si, 1.0));
  }
}

bool SplitSearch::is_allowed(const BlockGroup& group, EngineKind engine, const Candidate& pair) const {
  // A controller that keeps its messages to itself is no part of a split.
  if (pair.fixed() != nullptr && !pair.fixed()->features.contains("message-passing")) return false;
  // Comparators and switches are beside the first engine, where the line arrives.
  if (group.layer == study::Layer::analogue && engine != first_engine(pair)) return false;
  const auto& assignment = context_.study.assignment;
  for (const std::size_t i : group.blocks) {
    const study::FunctionBlock& block = context_.study.function.blocks[i];
    for (const study::Placement& pin : assignment.pinned) {
      if (pin.block == block.name && pin.engine != study_name_of(engine)) return false;
    }
    for (const study::Placement& ban : assignment.forbidden) {
      if (ban.block == block.name && ban.engine == study_name_of(engine)) return false;
    }
    const bool lacks_feature = engine == EngineKind::fixed_function && !block.feature.empty() &&
                               !pair.fixed()->features.contains(block.feature);
    if (lacks_feature) return false;
    const bool has_no_routine = block.kind->methods.empty() && !block.kind->analogue;
    if (has_no_routine && engine != first_engine(pair)) return false;
  }
  return true;
}

SplitSearch::FabricPower SplitSearch::fabric_power(const BlockUse& use, const study::FunctionBlock* block,
                                                   const parts::ProgrammableLogic& part) {
  const study::Study& study = context_.study;
  const double clock_hz = study.function.timing.oversampling * study.function.timing.bit_rate.range.typical;
  const double ratio = study.supply_voltage.range.typical / part.core_voltage.range.typical;
  const double registers = context_.library.logic(use, traits_of(part)).count.registers;
  const SwitchingFigures& figures = context_.library.switching(use, traits_of(part));
  const double toggle_j = part.toggle_energy.range.typical;
  const double ram_j = part.ram_access_energy.range.typical;
  const double quiet_j = registers * part.clock_register_energy.range.typical +
                         figures.quiet_toggles * toggle_j + figures.quiet_ram_accesses * ram_j;
  const double event_j = figures.event_toggles * toggle_j + figures.event_ram_accesses * ram_j;
  double events_hz = clock_hz;
  if (figures.event != blocks::Event::clock) {
    const study::Timing& timing = study.function.timing;
    const double bit_rate_hz = timing.bit_rate.range.typical;
    const BusyRate rate =
        block != nullptr ? busy_rate(study.function, *block, figures.event) : BusyRate{.per_message = 1};
    events_hz = rate.per_bit * bit_rate_hz + rate.per_message * message_rate_hz(timing, bit_rate_hz) +
                rate.per_second_hz;
  }
  return {ratio * clock_hz * quiet_j, ratio * line_share_ * events_hz * event_j};
}

SplitSearch::FabricPower SplitSearch::fabric_power(const BlockGroup& group,
                                                   const parts::ProgrammableLogic& part) {
  const std::string key = part.part.id + "/" + group.name;
  if (const auto known = fabric_power_.find(key); known != fabric_power_.end()) return known->second;
  FabricPower sum;
  for (const std::size_t i : group.blocks) {
    const study::FunctionBlock& block = context_.study.function.blocks[i];
    const FabricPower power = fabric_power(use_of(block), &block, part);
    sum.clocked_w += power.clocked_w;
    sum.events_w += power.events_w;
  }
  return fabric_power_.emplace(key, sum).first->second;
}

// An assignment that keeps the clocks running pays for what a fabric of any content draws then.
double SplitSearch::fabric_w(const Candidate& split, const Assigned& assigned,
                             const std::vector<BlockUse>& links) {
  const parts::ProgrammableLogic& part = *split.logic();
  const study::Study& study = context_.study;
  const double share = clocked_share(study, part, quiet_clocks(part, study.function, split.engine_of_block));
  const double least_share = least_clocked_share(study, part);
  double sum_w = (share - least_share) * running_w(study, part);
  const auto add = [&](const FabricPower& power) { sum_w += share * power.clocked_w + power.events_w; };
  for (const BlockUse& use : links) add(fabric_power(use, nullptr, part));
  for (std::size_t item = 0; item < assigned.size(); ++item) {
    if (assigned[item] == fabric_engine(split)) add(fabric_power(groups_[item], part));
  }
  return sum_w;
}

double SplitSearch::host_w(const BlockGroup& group) {
  const study::Host& host = *context_.study.host;
  std::vector<const study::FunctionBlock*> blocks;
  for (const std::size_t i : group.blocks) blocks.push_back(&context_.study.function.blocks[i]);
  const Schedule schedule = schedule_without_search(context_, blocks, host_processor_of(context_));
  const double cycle_j = host.energy_per_cycle.range.typical;
  const double tick_j = schedule.tick_cycles * cycle_j + host.wake_up_energy.range.typical;
  return line_share_ * schedule.busy_hz.typical * cycle_j + ticking_share_ * schedule.tick_hz * tick_j;
}

// Its energy is that of a soft processor of usual size.
SplitSearch::Processing SplitSearch::soft_processing(const Candidate& split,
                                                     std::span<const study::FunctionBlock* const> blocks) {
  const parts::ProgrammableLogic& part = *split.logic();
  if (!part.oscillator_frequency || part.ram_blocks == 0) return {};
  const Processor processor = soft_processor_of(context_, part);
  const Schedule schedule = schedule_without_search(context_, blocks, processor);
  if (!schedule.clock_hz) return {};
  const double registers = context_.library.logic(*split.soft_processor, traits_of(part)).count.registers;
  const SwitchingFigures& switching = context_.library.switching(*split.soft_processor, traits_of(part));
  const double ratio = context_.study.supply_voltage.range.typical / part.core_voltage.range.typical;
  const double cycle_j = switching.event_toggles * part.toggle_energy.range.typical +
                         switching.event_ram_accesses * part.ram_access_energy.range.typical;
  const double clocked =
      clocked_share(context_.study, part, quiet_clocks(part, context_.study.function, split.engine_of_block));
  // What every clock takes: the tree, and what moves without an event.
  const double clock_j = registers * part.clock_register_energy.range.typical +
                         switching.quiet_toggles * part.toggle_energy.range.typical +
                         switching.quiet_ram_accesses * part.ram_access_energy.range.typical;
  return {true,
          ratio * (clocked * *schedule.clock_hz * clock_j +
                   line_share_ * (schedule.busy_hz.typical + schedule.attached_hz.typical) * cycle_j),
          context_.library.ram_blocks(sized_soft_processor(*split.soft_processor, memory_need(schedule)),
                                      traits_of(part))};
}

Candidate SplitSearch::with(const Candidate& pair, EngineKind second, const Assigned& assigned) const {
  Candidate split = pair;
  split.kind = OptionKind::split;
  split.engine_of_block.assign(context_.study.function.blocks.size(), EngineKind::none);
  for (std::size_t item = 0; item < assigned.size(); ++item) {
    for (const std::size_t i : groups_[item].blocks) {
      split.engine_of_block[i] = assigned[item] == 0 ? first_engine(pair) : second;
    }
  }
  return split;
}

bool SplitSearch::may_fit(const Candidate& pair, std::size_t item) {
  if (pair.logic() == nullptr) return true;
  const std::size_t fabric = *fabric_engine(pair);
  Assigned alone(groups_.size(), 1 - fabric);
  alone[item] = fabric;
  return fits_fabric(pair, alone, {});
}

Room SplitSearch::room_of_use(const BlockUse& use, const parts::ProgrammableLogic& part) {
  return room_of(part, context_.library.logic(use, traits_of(part)));
}

const Room& SplitSearch::room_of_group(std::size_t group, const parts::ProgrammableLogic& part) {
  auto& rooms = rooms_[part.part.id];
  rooms.resize(groups_.size());
  if (rooms[group]) return *rooms[group];
  Room sum;
  for (const std::size_t i : groups_[group].blocks) {
    sum += room_of_use(use_of(context_.study.function.blocks[i]), part);
  }
  return rooms[group].emplace(sum);
}

bool SplitSearch::fits_fabric(const Candidate& pair, const Assigned& assigned,
                              const std::vector<Room>& added) {
  const parts::ProgrammableLogic& part = *pair.logic();
  Room needed;
  for (std::size_t item = 0; item < assigned.size(); ++item) {
    if (assigned[item] == fabric_engine(pair)) needed += room_of_group(item, part);
  }
  for (const Room& room : added) needed += room;
  return needed.cells <= usable_cells(part, context_.study) && needed.ram_blocks <= part.ram_blocks;
}

bool SplitSearch::can_hold(const Candidate& pair, EngineKind second, const Assigned& assigned) {
  if (assigned.back() == fabric_engine(pair) && !fits_fabric(pair, assigned, {})) return false;
  const bool is_processor = second == EngineKind::microcontroller || second == EngineKind::soft_processor;
  if (!is_processor || assigned.back() == 0) return true;
  return processing(pair, with(pair, second, assigned), nullptr).fits;
}

const SplitSearch::Processing& SplitSearch::processing(const Candidate& pair, const Candidate& split,
                                                       const Link* link) {
  const parts::Microcontroller* chip = pair.microcontroller();
  const EngineKind engine = chip == nullptr ? EngineKind::soft_processor : EngineKind::microcontroller;
  std::string key = chip == nullptr ? pair.logic()->part.id : chip->part.id;
  key += link == nullptr ? "//" : fmt::format("/{} {:.1f}/", link->bus, link->bytes_per_message);
  std::vector<const study::FunctionBlock*> blocks;
  for (std::size_t i = 0; i < split.engine_of_block.size(); ++i) {
    const bool is_here = split.engine_of_block[i] == engine;
    key += is_here ? '1' : '0';
    if (is_here) blocks.push_back(&context_.study.function.blocks[i]);
  }
  if (const auto known = processing_.find(key); known != processing_.end()) return known->second;
  const Processing result =
      chip == nullptr ? soft_processing(split, blocks) : chip_processing(split, link, blocks);
  return processing_.emplace(std::move(key), result).first->second;
}

SplitSearch::Processing SplitSearch::chip_processing(const Candidate& split, const Link* link,
                                                     std::span<const study::FunctionBlock* const> blocks) {
  const parts::Microcontroller& part = *split.microcontroller();
  Processor processor = processor_of(context_, part);
  if (link != nullptr) processor.link = task_of(*link);
  const Schedule schedule = schedule_without_search(context_, blocks, processor);
  const auto power_w = least_average_power_w(context_, part, schedule, processor);
  const bool fits_memory =
      !check_memory(context_, split, *split.carrier_of(EngineKind::microcontroller), memory_need(schedule));
  return {power_w.has_value(), power_w.value_or(0), 0, fits_memory};
}

// Stricter than package.cpp: blocks in the host are taken to need their pins on the first chip.
bool SplitSearch::fits_pins(const Candidate& split, const Link* link) const {
  const auto& chips = split.chips;
  const bool has_second = chips.size() > 1;
  std::vector<unsigned> pins(chips.size(), link != nullptr && has_second ? link->pins : 0);
  const std::size_t first = split.fixed() != nullptr ? chips.size() - 1 : 0;
  // As in package.cpp, pins for the product's own use are on the fabric if there is one.
  pins[split.logic() != nullptr ? 0 : first] += context_.study.extra_pins;
  for (std::size_t i = 0; i < split.engine_of_block.size(); ++i) {
    const study::FunctionBlock& block = context_.study.function.blocks[i];
    if (!block.kind->pins) continue;
    const auto carrier = std::find_if(
        chips.begin(), chips.end(), [&](const Chip& chip) { return chip.carries(split.engine_of_block[i]); });
    const auto chip = carrier == chips.end() ? first : static_cast<std::size_t>(carrier - chips.begin());
    pins[chip] += block.kind->pins(block.settings).total();
  }
  for (std::size_t i = 0; i < chips.size(); ++i) {
    if (pins[i] > most_usable_pins(chips[i].part(), context_.study.assembly)) return false;
  }
  return true;
}

std::optional<double> SplitSearch::complete_cost(const Candidate& pair, EngineKind second,
                                                 const Assigned& assigned) {
  if (std::count(assigned.begin(), assigned.end(), 1U) == 0) return std::nullopt;
  const Candidate split = with(pair, second, assigned);
  if (!split.uses(first_engine(pair)) || !split.uses(second)) return std::nullopt;
  const auto chosen = choose_link(context_, split);
  if (std::holds_alternative<NoLink>(chosen)) return std::nullopt;
  const auto* link = std::get_if<Link>(&chosen);
  std::vector<BlockUse> links;
  if (link != nullptr && pair.logic() != nullptr && needs_link_blocks(context_, split))
    links = link_blocks(*link, role_of_fabric(split));
  const bool has_processor = second == EngineKind::microcontroller || second == EngineKind::soft_processor;
  const Processing processed = has_processor ? processing(pair, split, link) : Processing{true, 0, 0};
  if (!processed.fits || !processed.fits_memory) return std::nullopt;
  std::vector<Room> added;
  for (const BlockUse& use : links) added.push_back(room_of_use(use, *pair.logic()));
  if (second == EngineKind::soft_processor) {
    added.push_back({room_of_use(*pair.soft_processor, *pair.logic()).cells, processed.ram_blocks});
  }
  if (pair.logic() != nullptr && !fits_fabric(pair, assigned, added)) return std::nullopt;
  if (!fits_pins(split, link)) return std::nullopt;
  double cost_w = pair.logic() != nullptr ? fabric_w(split, assigned, links) : 0;
  for (std::size_t item = 0; item < assigned.size(); ++item) {
    if (assigned[item] == 1 && second == EngineKind::host) cost_w += host_w(groups_[item]);
  }
  cost_w += processed.average_w;
  return cost_w;
}

PartitionProblem SplitSearch::problem(const Candidate& pair, EngineKind second) {
  PartitionProblem problem;
  problem.engines = 2;
  for (const BlockGroup& group : groups_) {
    problem.allowed.push_back({is_allowed(group, first_engine(pair), pair), is_allowed(group, second, pair)});
    const bool may_be_beyond = problem.allowed.back()[1];
    std::vector<double> cost(problem.engines, 0.0);
    const auto fabric = fabric_engine(pair);
    if (fabric && problem.allowed.back()[*fabric]) {
      const FabricPower power = fabric_power(group, *pair.logic());
      cost[*fabric] = least_clocked_share(context_.study, *pair.logic()) * power.clocked_w + power.events_w;
    }
    if (second == EngineKind::host && may_be_beyond) cost[1] = host_w(group);
    problem.cost.push_back(std::move(cost));
  }
  problem.opening = {0, 0};
  if (second == EngineKind::microcontroller) {
    const Processor idle = processor_of(context_, *pair.microcontroller());
    const Schedule nothing = schedule_without_search(context_, {}, idle);
    problem.opening[1] = least_average_power_w(context_, *pair.microcontroller(), nothing, idle).value_or(0);
  }
  problem.can_hold = [this, &pair, second](const Assigned& assigned) {
    return can_hold(pair, second, assigned);
  };
  problem.complete_cost = [this, &pair, second](const Assigned& assigned) {
    return complete_cost(pair, second, assigned);
  };
  return problem;
}

std::optional<Shortfall> SplitSearch::hopeless(const Candidate& pair) const {
  const study::Assembly& assembly = context_.study.assembly;
  if (pair.logic() != nullptr && most_usable_pins(pair.logic()->part, assembly) == 0) {
    return Shortfall{fmt::format("{} has 0 usable pins in packages that the product's assembly takes, 1 is "
                                 "needed at least",
                                 pair.logic()->part.id),
                     1, 0};
  }
  if (pair.fixed() != nullptr && !pair.fixed()->features.contains("message-passing")) {
    return Shortfall{
        fmt::format("{} keeps its messages to itself: it has 0 of the 1 feature that a split needs, "
                    "message-passing",
                    pair.fixed()->part.id),
        1, 0};
  }
  return std::nullopt;
}

std::optional<Shortfall> SplitSearch::homeless_group(const PartitionProblem& problem) const {
  for (std::size_t item = 0; item < groups_.size(); ++item) {
    if (problem.allowed[item][0] || problem.allowed[item][1]) continue;
    return Shortfall{fmt::format("{} may be on 0 of the two engines, by features, routines and the study's "
                                 "placements; 1 is needed",
                                 groups_[item].name),
                     1, 0};
  }
  return std::nullopt;
}

// Where the search finds nothing: the first of the end assignments that can be realised all the same, or else
// what keeps the nearest from working, that whose need exceeds what is there by the least share.
std::variant<Assigned, Shortfall> SplitSearch::try_ends(const Candidate& pair, EngineKind second,
                                                        const PartitionProblem& problem) const {
  Shortfall nearest{
      fmt::format("nothing to split: of its {} {} of blocks, 0 may run on another engine than the rest, 1 is "
                  "needed",
                  groups_.size(), groups_.size() == 1 ? "group" : "groups"),
      1, 0};
  double least = std::numeric_limits<double>::infinity();
  for (const Assigned& assigned : end_assignments(problem)) {
    Realised result = realise(context_, with(pair, second, assigned));
    const auto* rejection = std::get_if<Rejection>(&result);
    if (rejection == nullptr) return assigned;
    const double excess = rejection->needed / rejection->available;
    if (std::isfinite(least) && excess >= least) continue;
    least = excess;
    const auto beyond = std::count(assigned.begin(), assigned.end(), 1U);
    nearest = {fmt::format("no assignment works; with {} of {} groups of blocks on the second engine: {}",
                           beyond, assigned.size(), rejection->reason),
               rejection->needed, rejection->available, rejection->unit};
  }
  return nearest;
}

std::variant<Split, Shortfall> SplitSearch::best(const Candidate& pair, EngineKind second) {
  if (auto reason = hopeless(pair)) return std::move(*reason);
  const PartitionProblem searched = problem(pair, second);
  if (auto reason = homeless_group(searched)) return std::move(*reason);
  Split split;
  split.result = search_partition(searched);
  if (!split.result.best) {
    auto tried = try_ends(pair, second, searched);
    if (auto* reason = std::get_if<Shortfall>(&tried)) return std::move(*reason);
    split.result.best = std::get<Assigned>(std::move(tried));
  }
  split.candidate = with(pair, second, *split.result.best);
  for (std::size_t item = 0; item < groups_.size(); ++item) {
    if ((*split.result.best)[item] == 1) split.beyond.push_back(groups_[item].name);
  }
  split.candidate.search_note =
      split.result.cost > 0
          ? describe(split.result, groups_.size())
          : "assignment found by trying those with one group, or all but what must stay, on the "
            "second engine";
  return split;
}

}  // namespace portweigh::options

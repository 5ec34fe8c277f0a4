#include "options/fabric/block_library.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "blocks/kind.hpp"
#include "figures/evaluation/parallel.hpp"
#include "options/fabric/block_activity.hpp"
#include "options/fabric/once_map.hpp"

namespace portweigh::options {
namespace {

std::string key_of(const BlockUse& use) {
  return fmt::format("{} {}", use.kind->name, use.settings.to_string());
}

// The event that takes most cycles on this core class.
const firmware::Counts& longest_event(const blocks::FirmwareRun& run,
                                      const firmware::Translation& translation) {
  const firmware::Counts* longest = nullptr;
  double most = -1;
  for (const firmware::Counts& counts : run.paths) {
    const double cycles = translation.model_cycles(counts);
    if (cycles <= most) continue;
    most = cycles;
    longest = &counts;
  }
  return *longest;
}

// Long enough that what repeats (the end of a byte comes with each eighth bit at the latest) does so many times.
constexpr std::size_t longest_sequence = 64;

// Most that 1, 2, .. values in a row add up to.
std::vector<double> largest_sums(const std::vector<double>& values) {
  std::vector<double> before{0};
  for (const double value : values) before.push_back(before.back() + value);
  std::vector<double> sums;
  for (std::size_t n = 1; n <= std::min(longest_sequence, values.size()); ++n) {
    double most = 0;
    for (std::size_t at = n; at < before.size(); ++at) most = std::max(most, before[at] - before[at - n]);
    sums.push_back(most);
  }
  return sums;
}

std::vector<firmware::CostRange> consecutive_cycles(const blocks::FirmwareRun& run,
                                                    const firmware::Translation& translation) {
  std::vector<firmware::CostRange> by_path;
  for (const firmware::Counts& path : run.paths) by_path.push_back(translation.cost(path).cycles);
  std::vector<firmware::CostRange> sums(std::min(longest_sequence, run.order.size()));
  for (const auto member :
       {&firmware::CostRange::low, &firmware::CostRange::typical, &firmware::CostRange::high}) {
    std::vector<double> cycles;
    for (const std::uint16_t path : run.order) cycles.push_back(by_path[path].*member);
    const std::vector<double> largest = largest_sums(cycles);
    for (std::size_t i = 0; i < sums.size(); ++i) sums[i].*member = largest[i];
  }
  return sums;
}

logic::Fabric fabric_of(const FabricTraits& traits) {
  logic::Fabric fabric;
  fabric.lut_inputs = traits.lut_inputs;
  fabric.carry_chain = traits.has_carry_chain ? logic::CarryChain::dedicated : logic::CarryChain::none;
  fabric.register_style =
      traits.has_register_control ? logic::RegisterStyle::with_enable_and_reset : logic::RegisterStyle::plain;
  fabric.smallest_ram_bits = traits.smallest_ram_bits;
  fabric.ram_reads = traits.ram_reads;
  // A block can be read in words of 1 to 32 bits.
  constexpr std::uint32_t widest_bits = 32;
  for (std::uint32_t bits = 1; traits.ram_block_bits > 0 && bits <= widest_bits; bits *= 2) {
    fabric.ram_shapes.push_back({traits.ram_block_bits / bits, bits});
  }
  return fabric;
}

LogicFigures given_logic(const blocks::GivenCounts& given) {
  LogicFigures figures;
  figures.count.luts = static_cast<std::uint32_t>(given.luts);
  figures.count.registers = static_cast<std::uint32_t>(given.registers);
  figures.count.cells = static_cast<std::uint32_t>(std::max(given.luts, given.registers));
  figures.count.levels = static_cast<unsigned>(given.levels);
  figures.count.ram_bits = given.ram_bits;
  return figures;
}

SwitchingFigures given_switching(const blocks::GivenCounts& given) {
  // Nothing can be simulated: the usual assumption of 12.5 % (common practice for control logic).
  constexpr double assumed_share = 0.125;
  return {.event_toggles = assumed_share * static_cast<double>(std::max(given.luts, given.registers))};
}

SwitchingFigures simulated_switching(const BlockUse& use, const logic::Fitted& fitted) {
  const logic::Activity busy = block_activity(*use.kind, use.settings, fitted, blocks::TrafficState::active);
  const logic::Activity quiet = block_activity(*use.kind, use.settings, fitted, blocks::TrafficState::idle);
  const blocks::Pace pace = use.kind->pace ? use.kind->pace(use.settings) : blocks::Pace{};
  const double quiet_accesses = quiet.memory_reads + quiet.memory_writes;
  return {pace.event, pace.clocks * (busy.total_toggles() - quiet.total_toggles()), quiet.total_toggles(),
          pace.clocks * (busy.memory_reads + busy.memory_writes - quiet_accesses), quiet_accesses};
}

}  // namespace

std::string describe(const BlockUse& use) {
  const std::string changes = use.settings.changes_to_string();
  return changes.empty() ? use.kind->name : fmt::format("{} {}", use.kind->name, changes);
}

struct BlockLibrary::Kept {
  const std::map<std::string, firmware::Core>& cores;
  OnceMap<logic::Network> networks;
  OnceMap<logic::Fitted> covers;
  OnceMap<LogicFigures> logic;
  OnceMap<SwitchingFigures> switching;
  OnceMap<std::vector<blocks::FirmwareRun>> runs;
  OnceMap<std::vector<FirmwareFigures>> firmware;

  const logic::Network& network(const BlockUse& use);
  const logic::Fitted& fitted(const BlockUse& use, const FabricTraits& traits);
  std::string fitting_key(const BlockUse& use, const FabricTraits& traits);
  const std::vector<blocks::FirmwareRun>& runs_of(const BlockUse& use);
};

BlockLibrary::BlockLibrary(const std::map<std::string, firmware::Core>& cores)
    : kept_(new Kept{cores, {}, {}, {}, {}, {}, {}}) {}
BlockLibrary::~BlockLibrary() = default;

const logic::Network& BlockLibrary::Kept::network(const BlockUse& use) {
  return networks.get(key_of(use), [&] { return use.kind->network(use.settings); });
}

// What differs in a fabric's RAM makes no difference to a block without memories.
std::string BlockLibrary::Kept::fitting_key(const BlockUse& use, const FabricTraits& traits) {
  std::string key = fmt::format("{} | {} {} {}", key_of(use), traits.lut_inputs, traits.has_carry_chain,
                                traits.has_register_control);
  if (use.kind->network && !network(use).memories().empty()) {
    key += fmt::format(" {} {} {}", traits.ram_block_bits, traits.smallest_ram_bits,
                       traits.ram_reads == logic::RamReads::any);
  }
  return key;
}

const logic::Fitted& BlockLibrary::Kept::fitted(const BlockUse& use, const FabricTraits& traits) {
  return covers.get(fitting_key(use, traits), [&] { return logic::fit(network(use), fabric_of(traits)); });
}

const LogicFigures& BlockLibrary::logic(const BlockUse& use, const FabricTraits& traits) {
  return kept_->logic.get(kept_->fitting_key(use, traits), [&] {
    if (use.kind->given) return given_logic(use.kind->given(use.settings));
    return use.kind->network ? LogicFigures{kept_->fitted(use, traits).count} : LogicFigures{};
  });
}

unsigned BlockLibrary::ram_blocks(const BlockUse& use, const FabricTraits& traits) {
  return use.kind->network ? logic::block_ram_of(kept_->network(use), fabric_of(traits)) : 0;
}

const SwitchingFigures& BlockLibrary::switching(const BlockUse& use, const FabricTraits& traits) {
  return kept_->switching.get(kept_->fitting_key(use, traits), [&] {
    if (use.kind->given) return given_switching(use.kind->given(use.settings));
    return use.kind->network ? simulated_switching(use, kept_->fitted(use, traits)) : SwitchingFigures{};
  });
}

const std::vector<blocks::FirmwareRun>& BlockLibrary::Kept::runs_of(const BlockUse& use) {
  return runs.get(key_of(use), [&] {
    std::vector<blocks::FirmwareRun> all;
    for (const blocks::Method& method : use.kind->offered_methods(use.settings)) {
      all.push_back(use.kind->run(use.settings, method.name));
    }
    return all;
  });
}

const std::vector<FirmwareFigures>& BlockLibrary::firmware(const BlockUse& use, std::string_view core) {
  const firmware::Core& costs = kept_->cores.at(std::string(core));
  return kept_->firmware.get(fmt::format("{} | {}", key_of(use), core), [&] {
    const std::vector<blocks::FirmwareRun>& executed = kept_->runs_of(use);
    const std::vector<blocks::Method> offered = use.kind->offered_methods(use.settings);
    std::vector<FirmwareFigures> figures;
    for (std::size_t i = 0; i < executed.size(); ++i) {
      const firmware::Translation translation(executed[i].routine, costs);
      const firmware::Counts& worst = longest_event(executed[i], translation);
      const blocks::Method& method = offered[i];
      figures.push_back({method.event.value_or(use.kind->event(use.settings)), method.name,
                         use.kind->needed_peripherals(use.settings, method), method.polls,
                         translation.cost(executed[i].counts), translation.cost(worst).cycles,
                         static_cast<double>(std::max<std::uint64_t>(worst.events, 1)),
                         executed[i].order.empty() ? std::vector<firmware::CostRange>{}
                                                   : consecutive_cycles(executed[i], translation)});
    }
    return figures;
  });
}

void BlockLibrary::prepare(const std::vector<Wanted>& wanted, unsigned threads) {
  struct Job {
    const BlockUse* use;
    const FabricTraits* traits;  // null: firmware on all cores of the entry
    const std::vector<std::string>* cores;
  };
  std::vector<Job> jobs;
  // One fabric after the other: fabrics may share a block's figures, and a thread would wait for them.
  std::size_t most_fabrics = 0;
  for (const Wanted& entry : wanted) most_fabrics = std::max(most_fabrics, entry.fabrics.size());
  for (std::size_t i = 0; i < most_fabrics; ++i) {
    for (const Wanted& entry : wanted) {
      if (i < entry.fabrics.size()) jobs.push_back({&entry.use, &entry.fabrics[i], nullptr});
    }
  }
  for (const Wanted& entry : wanted) {
    if (!entry.cores.empty()) jobs.push_back({&entry.use, nullptr, &entry.cores});
  }
  figures::for_each_index(jobs.size(), threads, [&](std::size_t i) {
    if (jobs[i].traits != nullptr) {
      logic(*jobs[i].use, *jobs[i].traits);
      switching(*jobs[i].use, *jobs[i].traits);
    } else {
      for (const std::string& core : *jobs[i].cores) firmware(*jobs[i].use, core);
    }
  });
}

}  // namespace portweigh::options

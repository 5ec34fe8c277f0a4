#include "options/block_library.hpp"

#include <fmt/format.h>

#include <atomic>
#include <exception>
#include <thread>

#include "options/block_activity.hpp"

namespace portweigh::options {
namespace {

std::string key_of(const BlockUse& use) {
  return fmt::format("{} {}", use.kind->name, use.settings.to_string());
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

LogicFigures compute_logic(const BlockUse& use, const FabricTraits& traits) {
  LogicFigures figures;
  if (use.kind->given) {
    const blocks::GivenCounts given = use.kind->given(use.settings);
    figures.count.luts = static_cast<std::uint32_t>(given.luts);
    figures.count.registers = static_cast<std::uint32_t>(given.registers);
    figures.count.cells = static_cast<std::uint32_t>(std::max(given.luts, given.registers));
    figures.count.levels = static_cast<unsigned>(given.levels);
    figures.count.ram_bits = given.ram_bits;
    // Nothing was simulated: the usual assumption of 12.5 % (common practice for control logic).
    figures.busy_toggles = 0.125 * figures.count.cells;
    return figures;
  }
  if (!use.kind->network) return figures;
  const logic::Fitted fitted = logic::fit(use.kind->network(use.settings), fabric_of(traits));
  figures.count = fitted.count;
  const logic::Activity busy = block_activity(*use.kind, use.settings, fitted, blocks::TrafficState::active);
  const logic::Activity quiet = block_activity(*use.kind, use.settings, fitted, blocks::TrafficState::idle);
  figures.busy_toggles = busy.total_toggles();
  figures.quiet_toggles = quiet.total_toggles();
  figures.busy_ram_accesses = busy.memory_reads + busy.memory_writes;
  figures.quiet_ram_accesses = quiet.memory_reads + quiet.memory_writes;
  return figures;
}

}  // namespace

const LogicFigures& BlockLibrary::logic(const BlockUse& use, const FabricTraits& traits) {
  const std::string key =
      fmt::format("{} | {} {} {} {} {} {}", key_of(use), traits.lut_inputs, traits.has_carry_chain,
                  traits.has_register_control, traits.ram_block_bits, traits.smallest_ram_bits,
                  traits.ram_reads == logic::RamReads::any);
  {
    const std::scoped_lock lock(mutex_);
    if (const auto known = logic_.find(key); known != logic_.end()) return *known->second;
  }
  auto computed = std::make_unique<LogicFigures>(compute_logic(use, traits));
  const std::scoped_lock lock(mutex_);
  return *logic_.try_emplace(key, std::move(computed)).first->second;
}

const std::vector<blocks::FirmwareRun>& BlockLibrary::runs(const BlockUse& use) {
  const std::string key = key_of(use);
  {
    const std::scoped_lock lock(mutex_);
    if (const auto known = runs_.find(key); known != runs_.end()) return *known->second;
  }
  auto computed = std::make_unique<std::vector<blocks::FirmwareRun>>();
  for (const blocks::Method& method : use.kind->offered_methods(use.settings)) {
    computed->push_back(use.kind->run(use.settings, method.name));
  }
  const std::scoped_lock lock(mutex_);
  return *runs_.try_emplace(key, std::move(computed)).first->second;
}

const std::vector<FirmwareFigures>& BlockLibrary::firmware(const BlockUse& use, std::string_view core) {
  const firmware::Core& costs = cores_->at(std::string(core));
  const std::string key = fmt::format("{} | {}", key_of(use), core);
  {
    const std::scoped_lock lock(mutex_);
    if (const auto known = firmware_.find(key); known != firmware_.end()) return *known->second;
  }
  const std::vector<blocks::FirmwareRun>& executed = runs(use);
  auto computed = std::make_unique<std::vector<FirmwareFigures>>();
  const std::vector<blocks::Method> offered = use.kind->offered_methods(use.settings);
  for (std::size_t i = 0; i < executed.size(); ++i) {
    const firmware::Translation translation(executed[i].routine, costs);
    const blocks::Method& method = offered[i];
    computed->push_back({executed[i].event, method.name, use.kind->needed_peripherals(use.settings, method),
                         translation.cost(executed[i].counts), translation.cost(executed[i].worst).cycles,
                         static_cast<double>(std::max<std::uint64_t>(executed[i].worst.events, 1))});
  }
  const std::scoped_lock lock(mutex_);
  return *firmware_.try_emplace(key, std::move(computed)).first->second;
}

void BlockLibrary::prepare(const std::vector<Wanted>& wanted, unsigned threads) {
  struct Job {
    const BlockUse* use;
    const FabricTraits* traits;  // null: firmware on all cores of the entry
    const std::vector<std::string>* cores;
  };
  std::vector<Job> jobs;
  for (const Wanted& entry : wanted) {
    for (const FabricTraits& traits : entry.fabrics) jobs.push_back({&entry.use, &traits, nullptr});
    if (!entry.cores.empty()) jobs.push_back({&entry.use, nullptr, &entry.cores});
  }
  std::atomic<std::size_t> next = 0;
  std::vector<std::exception_ptr> failures(jobs.size());
  const auto work = [&] {
    for (std::size_t i = next++; i < jobs.size(); i = next++) {
      try {
        if (jobs[i].traits != nullptr) {
          logic(*jobs[i].use, *jobs[i].traits);
        } else {
          for (const std::string& core : *jobs[i].cores) firmware(*jobs[i].use, core);
        }
      } catch (...) {
        failures[i] = std::current_exception();
      }
    }
  };
  std::vector<std::thread> pool;
  for (unsigned i = 1; i < threads; ++i) pool.emplace_back(work);
  work();
  for (std::thread& thread : pool) thread.join();
  for (const std::exception_ptr& failure : failures) {
    if (failure) std::rethrow_exception(failure);
  }
}

}  // namespace portweigh::options

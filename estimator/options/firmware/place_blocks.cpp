#include "options/firmware/place_blocks.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "figures/units/format_quantity.hpp"
#include "options/fabric/soft_processor.hpp"
#include "options/firmware/memory.hpp"
#include "options/firmware/processor_estimate.hpp"

namespace portweigh::options {
namespace {

using figures::format_quantity;
namespace dimensions = figures::dimensions;

Impossible check_features(const Draft& draft) {
  const parts::FixedFunction& part = *draft.candidate.fixed();
  std::vector<std::string> needed;
  std::vector<std::string> missing;
  for (const study::FunctionBlock* block : draft.on(EngineKind::fixed_function)) {
    const bool is_known = std::find(needed.begin(), needed.end(), block->feature) != needed.end();
    if (block->feature.empty() || is_known) continue;
    needed.push_back(block->feature);
    if (!part.features.contains(block->feature)) missing.push_back(block->feature);
  }
  if (missing.empty()) return std::nullopt;
  return Shortfall{fmt::format("lacks {} of the {} features the function needs: {}", missing.size(),
                               needed.size(), fmt::join(missing, ", ")),
                   static_cast<double>(needed.size()), static_cast<double>(needed.size() - missing.size())};
}

// Deadlines that no allowed clock meets.
Impossible check_clock(const Schedule& schedule, const Processor& processor, std::string_view what) {
  if (schedule.clock_hz || schedule.tasks.empty()) return std::nullopt;
  return Shortfall{fmt::format("{} can't keep up: {}", what, describe_shortfall(schedule, processor)),
                   schedule.required_hz.typical, processor.clocks_hz.back(), "Hz"};
}

// A fabric that has no interface to the host yet gets one; a second chip always needs its own.
Impossible place_link(Draft& draft, Placed& placed) {
  const auto chosen = choose_link(draft.context, draft.candidate);
  if (const auto* none = std::get_if<NoLink>(&chosen)) {
    return Shortfall{none->reason, none->needed_s, none->available_s, "s"};
  }
  const auto* link = std::get_if<Link>(&chosen);
  if (link == nullptr) return std::nullopt;
  placed.link = *link;
  const bool has_logic = needs_link_blocks(draft.context, draft.candidate);
  if (has_logic) placed.added_blocks = link_blocks(*link, role_of_fabric(draft.candidate));
  draft.option.notes.push_back(
      fmt::format("link by {}: {} pins, {:.0f} bytes for each message, {} for an answer{}", link->bus,
                  link->pins, link->bytes_per_message, format_quantity(link->answer_s, dimensions::time),
                  has_logic ? ", an interface and registers in the fabric" : ""));
  return std::nullopt;
}

// What the study says about the places of blocks.
Impossible check_placements(const Draft& draft) {
  const auto& blocks = draft.context.study.function.blocks;
  const auto& assignment = draft.context.study.assignment;
  std::vector<std::string> broken;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const std::string engine(study_name_of(draft.candidate.engine_of_block[i]));
    for (const study::Placement& pin : assignment.pinned) {
      if (pin.block == blocks[i].name && pin.engine != engine) {
        broken.push_back(fmt::format("the study pins {} to {} (line {}), here it is on {}", pin.block,
                                     pin.engine, pin.source.line, engine));
      }
    }
    for (const study::Placement& ban : assignment.forbidden) {
      if (ban.block == blocks[i].name && ban.engine == engine) {
        broken.push_back(
            fmt::format("the study forbids {} on {} (line {})", ban.block, ban.engine, ban.source.line));
      }
    }
  }
  if (broken.empty()) return std::nullopt;
  const std::size_t wanted = assignment.pinned.size() + assignment.forbidden.size();
  return Shortfall{
      fmt::format("{}; {} of the study's {} placements kept", broken.front(), wanted - broken.size(), wanted),
      static_cast<double>(wanted), static_cast<double>(wanted - broken.size())};
}

// "8 MHz", with the core voltage where the part has several.
std::string describe_setting(const parts::Microcontroller& part, const ClockSetting& setting) {
  std::string text = format_quantity(setting.clock_hz, dimensions::frequency);
  if (part.operating_points.empty()) return text;
  if (setting.point == 0) return text + " and full core voltage";
  const auto& voltage = part.operating_points[setting.point - 1].voltage;
  return text + " and " + format_quantity(voltage.range.typical, dimensions::voltage);
}

bool is_same(const ClockSetting& a, const ClockSetting& b) {
  return a.clock_hz == b.clock_hz && a.point == b.point;
}

// A setting worth a comparison, in words.
struct OfferedSetting {
  ClockSetting setting;
  std::string text;
};

// Gives the processor the setting `taken`, described by `name`, and offers the others.
void take_setting(Draft& draft, const Processor& processor, Firmware& firmware, const ClockSetting& taken,
                  std::string name, const std::vector<OfferedSetting>& offered, const std::string& heading) {
  set_clock(firmware.schedule, processor, taken.clock_hz);
  firmware.operating_point = taken.point;
  draft.option.setting = std::move(name);
  std::vector<std::string> texts;
  for (const OfferedSetting& one : offered) {
    texts.push_back(one.text);
    if (!is_same(one.setting, taken)) draft.option.other_settings.push_back(one.setting);
  }
  if (draft.option.other_settings.empty()) return;
  const std::string choice = fmt::format("{}; taken: {}", fmt::join(texts, ", "), draft.option.setting);
  firmware.clock_choice = "of the settings worth a comparison: " + choice;
  draft.option.notes.push_back(fmt::format("{}: {}", heading, choice));
}

// Slow and steady or fast and back to sleep: the candidate's setting, or else the clock and core voltage with the
// lowest average power, of those at which every deadline holds. The others are offered.
void choose_clock(Draft& draft, const parts::Microcontroller& part, const Processor& processor,
                  Firmware& firmware) {
  const Schedule& schedule = firmware.schedule;
  const auto holding = average_power_by_clock(draft.context, part, schedule, processor);
  if (holding.empty()) return;
  const auto least = std::min_element(holding.begin(), holding.end(),
                                      [](const auto& a, const auto& b) { return a.average_w < b.average_w; });
  const ClockSetting taken = draft.candidate.setting.value_or(ClockSetting{least->clock_hz, least->point});
  std::vector<OfferedSetting> offered;
  for (const ClockPower& power : clocks_worth_comparing(draft.context, part, schedule, processor)) {
    const ClockSetting setting{power.clock_hz, power.point};
    offered.push_back({setting, fmt::format("{} at {}", format_quantity(power.average_w, dimensions::power),
                                            describe_setting(part, setting))});
  }
  take_setting(draft, processor, firmware, taken, describe_setting(part, taken), offered,
               fmt::format("average power of {} by its clock", part.part.id));
}

// The same of a soft processor, of which the slowest clock takes least.
void choose_soft_clock(Draft& draft, const Processor& processor, Firmware& firmware) {
  const Schedule& schedule = firmware.schedule;
  if (!schedule.clock_hz) return;
  const auto describe = [](double clock_hz) { return format_quantity(clock_hz, dimensions::frequency); };
  const ClockSetting taken = draft.candidate.setting.value_or(ClockSetting{*schedule.clock_hz});
  std::vector<OfferedSetting> offered;
  for (const double clock_hz : soft_clocks_worth_comparing(schedule, processor)) {
    offered.push_back({{clock_hz}, describe(clock_hz)});
  }
  take_setting(draft, processor, firmware, taken, describe(taken.clock_hz), offered,
               "clocks of the soft processor");
}

Impossible place_on_microcontroller(Draft& draft, Placed& placed) {
  const parts::Microcontroller& part = *draft.candidate.microcontroller();
  Processor processor = processor_of(draft.context, part);
  if (placed.link) processor.link = task_of(*placed.link);
  const auto blocks = draft.on(EngineKind::microcontroller);
  Firmware& firmware = placed.firmware.emplace_back(
      Firmware{EngineKind::microcontroller, part.core, make_schedule(draft.context, blocks, processor)});
  const Schedule& schedule = firmware.schedule;
  if (auto reason = check_clock(schedule, processor, part.core)) return reason;
  choose_clock(draft, part, processor, firmware);
  const Chip& chip = *draft.candidate.carrier_of(EngineKind::microcontroller);
  const MemoryNeed need = memory_need(schedule);
  if (auto reason = check_memory(draft.context, draft.candidate, chip, need)) return reason;
  name_memory(draft, chip, need);
  draft.option.notes.push_back(
      fmt::format("clock {}: {}", format_quantity(schedule.clock_hz.value_or(0), dimensions::frequency),
                  describe_limit(schedule)));
  return std::nullopt;
}

Impossible no_oscillator(const Draft& draft) {
  Processor any_clock;
  any_clock.core = soft_core_of(draft.context);
  any_clock.clocks_hz = {1e9};
  const auto blocks = draft.on(EngineKind::soft_processor);
  const double needed_hz = make_schedule(draft.context, blocks, any_clock).required_hz.typical;
  return Shortfall{fmt::format("the soft processor needs a clock of {}, the part has no oscillator (0 MHz)",
                               format_quantity(needed_hz, dimensions::frequency)),
                   needed_hz, 0, "Hz"};
}

Impossible place_on_soft_processor(Draft& draft, Placed& placed) {
  const parts::ProgrammableLogic& part = *draft.candidate.logic();
  if (!part.oscillator_frequency) return no_oscillator(draft);
  const Processor processor = soft_processor_of(draft.context, part);
  const auto blocks = draft.on(EngineKind::soft_processor);
  Firmware& firmware = placed.firmware.emplace_back(
      Firmware{EngineKind::soft_processor, "soft", make_schedule(draft.context, blocks, processor)});
  const Schedule& schedule = firmware.schedule;
  if (auto reason = check_clock(schedule, processor, "the soft processor")) return reason;
  choose_soft_clock(draft, processor, firmware);
  const MemoryNeed need = memory_need(schedule);
  constexpr double bits_per_byte = 8;
  const double bits = bits_per_byte * (need.flash_bytes.typical + need.ram_bytes);
  const double bits_there = static_cast<double>(part.ram_blocks) * part.ram_block_bits;
  if (bits > bits_there) {
    return Shortfall{fmt::format("the soft processor needs {:.0f} bits of memory, the RAM blocks hold {:.0f}",
                                 bits, bits_there),
                     bits, bits_there, "bit"};
  }
  placed.added_blocks.push_back(sized_soft_processor(*draft.candidate.soft_processor, need));
  draft.option.notes.push_back(fmt::format(
      "soft processor with {:.0f} bytes of program and {:.0f} of data at {}: {}", need.flash_bytes.typical,
      need.ram_bytes, format_quantity(schedule.clock_hz.value_or(0), dimensions::frequency),
      describe_limit(schedule)));
  return std::nullopt;
}

Impossible place_on_host(Draft& draft, Placed& placed) {
  const study::Host& host = *draft.context.study.host;
  Processor processor = host_processor_of(draft.context);
  if (placed.link) processor.link = task_of(*placed.link);
  const Schedule& schedule =
      placed.firmware
          .emplace_back(Firmware{EngineKind::host, host.core,
                                 make_schedule(draft.context, draft.on(EngineKind::host), processor)})
          .schedule;
  const double load = (schedule.busy_hz.high + schedule.attached_hz.high) / host.clock.value_si;
  if (load > host.free_load.range.low) {
    return Shortfall{fmt::format("the host would be loaded by {:.1f} %, it has {:.1f} % to spare", 100 * load,
                                 100 * host.free_load.range.low),
                     load, host.free_load.range.low};
  }
  return check_clock(schedule, processor, "the host processor");
}

Impossible place_on_engines(Draft& draft, Placed& placed) {
  const Candidate& candidate = draft.candidate;
  if (auto reason = check_placements(draft)) return reason;
  if (auto reason = place_link(draft, placed)) return reason;
  if (candidate.fixed() != nullptr) {
    if (auto reason = check_features(draft)) return reason;
  }
  if (candidate.microcontroller() != nullptr) {
    if (auto reason = place_on_microcontroller(draft, placed)) return reason;
  }
  if (candidate.uses(EngineKind::soft_processor)) {
    if (auto reason = place_on_soft_processor(draft, placed)) return reason;
  }
  return candidate.uses(EngineKind::host) ? place_on_host(draft, placed) : std::nullopt;
}

}  // namespace

LinkTask task_of(const Link& link) {
  return {link_controller(link), link.byte_s, link.answer_s, link.bytes_per_message};
}

const Firmware* Placed::firmware_on(EngineKind engine) const {
  const auto found = std::find_if(firmware.begin(), firmware.end(),
                                  [&](const Firmware& other) { return other.engine == engine; });
  return found == firmware.end() ? nullptr : &*found;
}

OrShortfall<Placed> place_blocks(Draft& draft) {
  const auto& blocks = draft.context.study.function.blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    draft.option.assignment.emplace_back(blocks[i].name, to_string(draft.candidate.engine_of_block[i]));
  }
  Placed placed;
  if (auto reason = place_on_engines(draft, placed)) return std::move(*reason);
  return placed;
}

}  // namespace portweigh::options

// Pins, package and external parts: what leaves the chip, which body offers enough pins and can be assembled,
// and which analogue functions the part lacks.
#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "figures/format_quantity.hpp"
#include "options/draft.hpp"

namespace portweigh::options {
namespace {

using figures::format_quantity;
namespace dimensions = figures::dimensions;

// Pins of all blocks on the engines of one chip.
unsigned pins_on(const Draft& draft, std::initializer_list<EngineKind> engines) {
  const auto& blocks = draft.context.study.function.blocks;
  unsigned pins = 0;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const bool is_here =
        std::find(engines.begin(), engines.end(), draft.candidate.engine_of_block[i]) != engines.end();
    if (is_here && blocks[i].kind->pins) pins += blocks[i].kind->pins(blocks[i].settings).total();
  }
  // A host interface among the blocks is already counted with them.
  const bool is_for_host = draft.candidate.uses(EngineKind::host);
  const bool has_interface = is_for_host && std::any_of(blocks.begin(), blocks.end(), [](const auto& block) {
                               return block.kind->name == "host-interface";
                             });
  return pins + (draft.link && !has_interface ? draft.link->pins : 0);
}

std::string why_not(const parts::Package& package, unsigned pins, const study::Assembly& assembly) {
  const auto mm = [](double value_m) { return format_quantity(value_m, dimensions::length); };
  if (package.usable_pins < pins) {
    return fmt::format("{} has {} usable pins, {} are needed", package.name, package.usable_pins, pins);
  }
  if (package.leads == parts::Leads::array && !assembly.allows_array) {
    return fmt::format("{} has its leads under the body, the product's assembly takes peripheral leads only",
                       package.name);
  }
  if (package.pitch.value_si < assembly.smallest_pitch.value_si * (1 - 1e-9)) {
    return fmt::format("{} has a pitch of {}, the assembly takes {} at least", package.name,
                       mm(package.pitch.value_si), mm(assembly.smallest_pitch.value_si));
  }
  const double body_m = std::max(package.body_length.value_si, package.body_width.value_si);
  if (body_m > assembly.largest_body.value_si * (1 + 1e-9)) {
    return fmt::format("{} is {} long, the board allows {}", package.name, mm(body_m),
                       mm(assembly.largest_body.value_si));
  }
  if (package.height.value_si > assembly.largest_height.value_si * (1 + 1e-9)) {
    return fmt::format("{} is {} high, the product allows {}", package.name, mm(package.height.value_si),
                       mm(assembly.largest_height.value_si));
  }
  return "";
}

double body_area_m2(const parts::Package& package) {
  return package.body_length.value_si * package.body_width.value_si;
}

// The smallest body that has the pins and can be assembled.
Impossible choose(Draft& draft, const parts::Part& part, unsigned pins) {
  const parts::Package* best = nullptr;
  std::vector<std::string> reasons;
  for (const parts::Package& package : part.packages) {
    const std::string reason = why_not(package, pins, draft.context.study.assembly);
    if (!reason.empty()) {
      reasons.push_back(reason);
    } else if (best == nullptr || body_area_m2(package) < body_area_m2(*best)) {
      best = &package;
    }
  }
  if (best == nullptr) return fmt::format("no package of {} fits: {}", part.id, fmt::join(reasons, "; "));
  draft.packages.push_back({&part, best});
  draft.option.bill.push_back({part.id, best->name, 1});
  draft.option.notes.push_back(
      fmt::format("{} in {}: {} of {} pins used", part.id, best->name, pins, best->usable_pins));
  return std::nullopt;
}

unsigned peripheral_count(const parts::Microcontroller& part, std::string_view name) {
  const auto found = part.peripherals.find(std::string(name));
  return found == part.peripherals.end() ? 0 : found->second;
}

void name_lead_time(Draft& draft) {
  const Candidate& candidate = draft.candidate;
  figures::Figure longest = draft.zero(dimensions::time);
  const auto wait_for = [&](const parts::Part& part) {
    longest = maximum(longest, draft.input(fmt::format("parts.{}.lead_time", part.id),
                                           "lead time of " + part.id, part.lead_time));
  };
  if (candidate.logic != nullptr) wait_for(candidate.logic->part);
  if (candidate.microcontroller != nullptr) wait_for(candidate.microcontroller->part);
  if (candidate.fixed != nullptr) wait_for(candidate.fixed->part);
  draft.name(longest, "lead_time", "longest lead time of its parts", "d");
}

const parts::ExternalPart* cheapest(const parts::Catalog& catalog, parts::ExternalRole role) {
  const parts::ExternalPart* best = nullptr;
  for (const parts::ExternalPart& part : catalog.external_parts) {
    if (part.role != role || part.prices.breaks.empty()) continue;
    const auto per_channel = [](const parts::ExternalPart& of) {
      return of.prices.breaks.back().price.value_si / of.channels;
    };
    if (best == nullptr || per_channel(part) < per_channel(*best)) best = &part;
  }
  return best;
}

}  // namespace

unsigned most_usable_pins(const parts::Part& part, const study::Assembly& assembly) {
  unsigned most = 0;
  for (const parts::Package& package : part.packages) {
    if (why_not(package, 0, assembly).empty()) most = std::max(most, package.usable_pins);
  }
  return most;
}

figures::Figure thermal_resistance(Draft& draft, const parts::Part& part) {
  const auto chosen = std::find_if(draft.packages.begin(), draft.packages.end(),
                                   [&](const ChosenPackage& package) { return package.part == &part; });
  return draft.input(fmt::format("parts.{}.{}.thermal_resistance", part.id, chosen->package->name),
                     fmt::format("junction to ambient, {}", chosen->package->name),
                     chosen->package->thermal_resistance);
}

Impossible choose_packages(Draft& draft) {
  const Candidate& candidate = draft.candidate;
  name_lead_time(draft);
  // Pins for the product's own use are wanted once, on the first chip.
  unsigned extra = draft.context.study.extra_pins;
  if (candidate.logic != nullptr) {
    const unsigned pins =
        pins_on(draft, {EngineKind::fabric, EngineKind::soft_processor}) + std::exchange(extra, 0U);
    if (auto reason = choose(draft, candidate.logic->part, pins)) return reason;
  }
  if (candidate.microcontroller != nullptr) {
    const bool is_second = candidate.fixed != nullptr;
    const unsigned pins =
        pins_on(draft, {EngineKind::microcontroller}) + (is_second ? 0U : std::exchange(extra, 0U));
    if (auto reason = choose(draft, candidate.microcontroller->part, pins)) return reason;
  }
  if (candidate.fixed != nullptr) {
    const unsigned pins = pins_on(draft, {EngineKind::fixed_function}) + extra;
    if (auto reason = choose(draft, candidate.fixed->part, pins)) return reason;
  }
  return std::nullopt;
}

void list_external_parts(Draft& draft) {
  const Candidate& candidate = draft.candidate;
  auto& needs = draft.external_needs;
  const auto& blocks = draft.context.study.function.blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (!blocks[i].kind->analogue || candidate.engine_of_block[i] == EngineKind::fixed_function) continue;
    const blocks::AnalogueNeeds need = blocks[i].kind->analogue(blocks[i].settings);
    unsigned comparators = 0;
    unsigned references = 0;
    if (candidate.logic != nullptr) comparators += candidate.logic->comparators;
    if (candidate.microcontroller != nullptr) {
      comparators += peripheral_count(*candidate.microcontroller, "comparator");
      references += peripheral_count(*candidate.microcontroller, "reference");
    }
    using parts::ExternalRole;
    if (need.comparators > comparators) needs[ExternalRole::comparator] += need.comparators - comparators;
    if (need.references > references) needs[ExternalRole::reference] += need.references - references;
    if (need.switches > 0) needs[ExternalRole::analogue_switch] += need.switches;
  }
  if (candidate.logic != nullptr) {
    if (candidate.logic->configuration == parts::Configuration::external_flash) {
      needs[parts::ExternalRole::configuration_flash] += 1;
    }
    if (candidate.logic->core_supply == parts::CoreSupply::external_rail)
      needs[parts::ExternalRole::regulator] += 1;
    if (!candidate.logic->oscillator_frequency) needs[parts::ExternalRole::crystal] += 1;
  }
  if (candidate.kind == OptionKind::no_silicon) needs[parts::ExternalRole::resistor] += 2;
  for (const auto& [role, channels] : needs) {
    const parts::ExternalPart* part = cheapest(draft.context.catalog, role);
    if (part == nullptr) {
      draft.option.warnings.push_back(
          fmt::format("the catalog has no external part for {} needed channels", channels));
      continue;
    }
    draft.option.bill.push_back({part->id, part->summary, (channels + part->channels - 1) / part->channels});
  }
}

}  // namespace portweigh::options

#include "options/package/package.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "figures/units/format_quantity.hpp"
#include "options/package/escape_layers.hpp"

namespace portweigh::options {
namespace {

using figures::format_quantity;
namespace dimensions = figures::dimensions;

// What a package is measured against. Array leads that can't be soldered are out of reach, pins and all.
enum class Rule { pins, reachable_pins, pitch, body, height, layers };

struct Measure {
  Rule rule = Rule::pins;
  double needed = 0;  // SI
  double available = 0;

  // How far from fitting, as a share of what is there; 0: it fits.
  double excess() const {
    constexpr double rounding = 1e-9;
    if (needed <= available * (1 + rounding)) return 0;
    return available > 0 ? needed / available - 1 : 1e9;
  }
};

// The rule by which a package fails most.
Measure worst_of(const parts::Package& package, unsigned pins, const study::Assembly& assembly) {
  const bool is_out_of_reach = package.leads == parts::Leads::array && !assembly.allows_array;
  const double layers = escape_layers(package, pins);
  const Measure measures[] = {
      is_out_of_reach ? Measure{Rule::reachable_pins, std::max(1.0, 1.0 * pins), 0}
                      : Measure{Rule::pins, 1.0 * pins, 1.0 * package.usable_pins},
      {Rule::pitch, assembly.smallest_pitch.value_si, package.pitch.value_si},
      {Rule::body, std::max(package.body_length.value_si, package.body_width.value_si),
       assembly.largest_body.value_si},
      {Rule::height, package.height.value_si, assembly.largest_height.value_si},
      {Rule::layers, layers, assembly.layers > 0 ? assembly.layers : layers}};
  return *std::max_element(std::begin(measures), std::end(measures),
                           [](const Measure& a, const Measure& b) { return a.excess() < b.excess(); });
}

std::string describe(const parts::Package& package, const Measure& measure) {
  const auto mm = [](double value_m) { return format_quantity(value_m, dimensions::length); };
  switch (measure.rule) {
    case Rule::pins:
      return fmt::format("{} has {} usable {}, {} {} needed", package.name, package.usable_pins,
                         package.usable_pins == 1 ? "pin" : "pins", measure.needed,
                         measure.needed == 1 ? "is" : "are");
    case Rule::reachable_pins:
      return fmt::format(
          "{} {} needed along the edges, {} has 0 there, all {} are under the body and "
          "the product's assembly takes peripheral leads only",
          measure.needed, measure.needed == 1 ? "pin is" : "pins are", package.name, package.usable_pins);
    case Rule::pitch:
      return fmt::format("{} has a pitch of {}, the assembly takes {} at least", package.name,
                         mm(measure.available), mm(measure.needed));
    case Rule::body:
      return fmt::format("{} is {} long, the board allows {}", package.name, mm(measure.needed),
                         mm(measure.available));
    case Rule::height:
      return fmt::format("{} is {} high, the product allows {}", package.name, mm(measure.needed),
                         mm(measure.available));
    case Rule::layers:
      return fmt::format("{} needs a board of {} layers for its pins to leave it, the product's has {}",
                         package.name, measure.needed, measure.available);
  }
  return "";
}

std::string_view unit_of(Rule rule) {
  return rule == Rule::pitch || rule == Rule::body || rule == Rule::height ? "m" : "1";
}

double body_area_m2(const parts::Package& package) {
  return package.body_length.value_si * package.body_width.value_si;
}

// The smallest body that has the pins and can be assembled; if there is none, what keeps the nearest away.
Impossible choose(Draft& draft, Chip& chip, unsigned pins) {
  const parts::Part& part = chip.part();
  const parts::Package* best = nullptr;
  const parts::Package* nearest = nullptr;
  Measure fails;
  for (const parts::Package& package : part.packages) {
    const Measure worst = worst_of(package, pins, draft.context.study.assembly);
    if (worst.excess() > 0) {
      if (nearest != nullptr && worst.excess() >= fails.excess()) continue;
      nearest = &package;
      fails = worst;
    } else if (best == nullptr || body_area_m2(package) < body_area_m2(*best)) {
      best = &package;
    }
  }
  if (best == nullptr && nearest == nullptr) return Shortfall{part.id + " has 0 packages", 1, 0};
  if (best == nullptr) {
    return Shortfall{fmt::format("none of the {} packages of {} fits, not even the nearest: {}",
                                 part.packages.size(), part.id, describe(*nearest, fails)),
                     fails.needed, fails.available, std::string(unit_of(fails.rule))};
  }
  chip.package = best;
  draft.option.bill.push_back({part.id, best->name, 1});
  draft.option.notes.push_back(
      fmt::format("{} in {}: {} of {} pins used", part.id, best->name, pins, best->usable_pins));
  return std::nullopt;
}

figures::Figure longest_lead_time(Draft& draft) {
  figures::Figure longest = draft.zero(dimensions::time);
  for (const Chip& chip : draft.candidate.chips)
    longest = maximum(longest, draft.input(chip.part().lead_time));
  return draft.name(longest, "lead_time", "longest lead time of its parts", "d");
}

}  // namespace

unsigned most_usable_pins(const parts::Part& part, const study::Assembly& assembly) {
  unsigned most = 0;
  for (const parts::Package& package : part.packages) {
    if (worst_of(package, 0, assembly).excess() == 0) most = std::max(most, package.usable_pins);
  }
  return most;
}

std::vector<unsigned> pins_of_chips(const Context& context, const Candidate& candidate, const Link* link) {
  const auto& blocks = context.study.function.blocks;
  // A host interface among the blocks is already counted with them.
  const bool has_interface =
      candidate.uses(EngineKind::host) && std::any_of(blocks.begin(), blocks.end(), [](const auto& block) {
        return block.kind->stage == blocks::Stage::host_bus;
      });
  std::vector<unsigned> pins;
  for (const Chip& chip : candidate.chips) {
    pins.push_back(link != nullptr && !has_interface ? link->pins : 0);
    for (std::size_t i = 0; i < blocks.size(); ++i) {
      if (!blocks[i].kind->pins || !chip.carries(candidate.engine_of_block[i])) continue;
      pins.back() += blocks[i].kind->pins(blocks[i].settings).total();
    }
  }
  // Pins for the product's own use are wanted once: on the fabric, or else where the line arrives.
  const bool is_on_last = candidate.logic() == nullptr;
  if (!pins.empty()) (is_on_last ? pins.back() : pins.front()) += context.study.extra_pins;
  return pins;
}

OrShortfall<Packaged> choose_packages(Draft& draft, const Placed& placed) {
  Packaged packaged{draft.candidate.chips, longest_lead_time(draft)};
  const auto pins = pins_of_chips(draft.context, draft.candidate, placed.link ? &*placed.link : nullptr);
  for (std::size_t i = 0; i < pins.size(); ++i) {
    if (auto reason = choose(draft, packaged.chips[i], pins[i])) return std::move(*reason);
  }
  return packaged;
}

}  // namespace portweigh::options

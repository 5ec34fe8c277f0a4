#include "options/package/external_parts.hpp"

#include <fmt/core.h>

#include <limits>

#include "figures/units/format_quantity.hpp"
#include "options/firmware/field_update.hpp"
#include "options/money/price.hpp"

namespace portweigh::options {
namespace {

using parts::ExternalRole;

void add_analogue_needs(const Context& context, const Candidate& candidate,
                        std::vector<ExternalNeed>& needs) {
  unsigned comparators = 0;
  unsigned references = 0;
  for (const Chip& chip : candidate.chips) {
    comparators += chip.comparators();
    references += chip.references();
  }
  blocks::AnalogueNeeds all;
  const auto& blocks = context.study.function.blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (!blocks[i].kind->analogue || candidate.engine_of_block[i] == EngineKind::fixed_function) continue;
    const blocks::AnalogueNeeds need = blocks[i].kind->analogue(blocks[i].settings);
    all.comparators += need.comparators;
    all.references += need.references;
    all.switches += need.switches;
  }
  const auto add = [&](ExternalRole role, unsigned needed, unsigned inside) {
    if (needed > inside) needs.push_back({role, needed - inside, {}, 0});
  };
  add(ExternalRole::comparator, all.comparators, comparators);
  add(ExternalRole::analogue_switch, all.switches, 0);
  add(ExternalRole::reference, all.references, references);
}

std::string describe(const ExternalNeed& need) {
  switch (need.role) {
    case ExternalRole::comparator:
      return "comparator";
    case ExternalRole::analogue_switch:
      return "analogue switch";
    case ExternalRole::reference:
      return "reference";
    case ExternalRole::crystal:
      return "crystal";
    case ExternalRole::regulator:
      return fmt::format("regulator of {}",
                         figures::format_quantity(need.output_v.typical, figures::dimensions::voltage));
    case ExternalRole::configuration_flash:
      return fmt::format("configuration memory of {}{:.0f} bytes",
                         need.images == 1 ? "" : fmt::format("{} times ", need.images), need.capacity_bytes);
    case ExternalRole::level_shifter:
      return "level shifter";
    case ExternalRole::resistor:
      return "resistor";
  }
  return "";
}

CostOfBodies cost_in(const Context& context) {
  return [&context](const parts::ExternalPart& part, unsigned count) {
    const study::Money& money = context.study.money;
    const double of_order =
        count * context.study.volume_per_year.range.typical / context.study.orders_per_year.range.typical;
    const double price = price_at(part.prices, of_order, conversion(context, currency_of(part.prices)));
    return count * (price * (1 + money.attrition.range.typical) + money.placement_cost.range.typical +
                    part.board_area.value_si * money.board_area_cost.range.typical);
  };
}

}  // namespace

std::vector<ExternalNeed> external_needs(const Context& context, const Candidate& candidate) {
  std::vector<ExternalNeed> needs;
  add_analogue_needs(context, candidate, needs);
  if (const parts::ProgrammableLogic* logic = candidate.logic()) {
    if (!logic->oscillator_frequency) needs.push_back({ExternalRole::crystal, 1, {}, 0});
    if (logic->core_supply == parts::CoreSupply::external_rail) {
      needs.push_back({ExternalRole::regulator, 1, logic->core_voltage.range, 0});
    }
    const unsigned inside = logic->configuration == parts::Configuration::non_volatile ? 1 : 0;
    const unsigned images = images_of(context, candidate, *candidate.carrier_of(EngineKind::fabric));
    if (images > inside) {
      needs.push_back(
          {ExternalRole::configuration_flash, 1, {}, logic->configuration_bytes, images - inside});
    }
  }
  if (candidate.kind == OptionKind::no_silicon) needs.push_back({ExternalRole::resistor, 2, {}, 0});
  return needs;
}

bool serves(const parts::ExternalPart& part, const ExternalNeed& need, const figures::Range& supply_v) {
  if (part.role != need.role || part.prices.breaks.empty()) return false;
  if (part.supply_voltage &&
      (part.supply_voltage->range.low > supply_v.low || part.supply_voltage->range.high < supply_v.high)) {
    return false;
  }
  if (need.role == ExternalRole::regulator) {
    if (!part.output_voltage) return false;
    const figures::Range& made = part.output_voltage->range;
    if (made.low > need.output_v.high || made.high < need.output_v.low) return false;
  }
  return part.capacity_bytes >= need.images * in_pages(need.capacity_bytes, part.erase_page_bytes);
}

std::optional<std::vector<Bodies>> cheapest_bodies(const std::vector<const parts::ExternalPart*>& parts,
                                                   unsigned channels, const CostOfBodies& cost) {
  struct Set {
    double cost = std::numeric_limits<double>::infinity();
    std::vector<Bodies> bodies;
  };
  // best[c]: the cheapest set with c channels of the parts so far.
  std::vector<Set> best(channels + 1);
  best[0].cost = 0;
  for (const parts::ExternalPart* part : parts) {
    const std::vector<Set> before = best;
    for (unsigned wanted = 1; wanted <= channels; ++wanted) {
      const unsigned most = (wanted + part->channels - 1) / part->channels;
      for (unsigned count = 1; count <= most; ++count) {
        const unsigned given = std::min(wanted, count * part->channels);
        const double total = before[wanted - given].cost + cost(*part, count);
        if (total >= best[wanted].cost) continue;
        best[wanted] = {total, before[wanted - given].bodies};
        best[wanted].bodies.push_back({part, count});
      }
    }
  }
  if (best[channels].cost == std::numeric_limits<double>::infinity()) return std::nullopt;
  return best[channels].bodies;
}

Impossible list_external_parts(Draft& draft) {
  const Context& context = draft.context;
  for (const ExternalNeed& need : external_needs(context, draft.candidate)) {
    std::vector<const parts::ExternalPart*> serving;
    for (const parts::ExternalPart& part : context.catalog.external_parts) {
      if (serves(part, need, context.study.supply_voltage.range)) serving.push_back(&part);
    }
    const auto chosen = cheapest_bodies(serving, need.channels, cost_in(context));
    if (!chosen) {
      return Shortfall{fmt::format("the catalog has no {} that works on the study's rail, {} needed",
                                   describe(need), need.channels),
                       static_cast<double>(need.channels), 0};
    }
    for (const Bodies& bodies : *chosen) {
      draft.option.bill.push_back({bodies.part->id, bodies.part->summary, bodies.count});
    }
  }
  return std::nullopt;
}

}  // namespace portweigh::options

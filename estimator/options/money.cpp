// What a unit costs at this volume, what the option costs once, and what change is likely to cost.
//
//   unit   = (parts (1 + attrition) + placement + board area + programming + test)
//   once   = effort x labour rate + tools + certification
//   change = sum over revisions (chance a year x years x cost of the event), event = rework + its route:
//            field: a campaign; factory: campaign + returned units; none: a new board or silicon, and
//            returned units
//   cost for each unit over life = unit + (once + change) / (volume x years)
// Prices between breaks are log-log; common practice in purchasing.
#include <fmt/format.h>

#include <algorithm>

#include "options/draft.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

const parts::Part* main_part(const Draft& draft, const std::string& id) {
  const Candidate& candidate = draft.candidate;
  if (candidate.logic != nullptr && candidate.logic->part.id == id) return &candidate.logic->part;
  if (candidate.microcontroller != nullptr && candidate.microcontroller->part.id == id) {
    return &candidate.microcontroller->part;
  }
  if (candidate.fixed != nullptr && candidate.fixed->part.id == id) return &candidate.fixed->part;
  return nullptr;
}

const parts::ExternalPart* external_part(const Draft& draft, const std::string& id) {
  const auto& all = draft.context.catalog.external_parts;
  const auto found = std::find_if(all.begin(), all.end(), [&](const auto& part) { return part.id == id; });
  return found == all.end() ? nullptr : &*found;
}

double rate_of(const Draft& draft, const std::string& currency) {
  const auto found = draft.context.catalog.currencies.find(currency);
  return found == draft.context.catalog.currencies.end() ? 1.0 : found->second.per_base;
}

// The list price at the study's volume, in the study's currency.
Figure part_price(Draft& draft, const std::string& id, const parts::Prices& prices, Figure volume) {
  figures::LookupTable table;
  table.x_dimension = dimensions::dimensionless;
  table.y_dimension = dimensions::money;
  table.scale = figures::Scale::log_log;
  table.label = "price of " + id;
  const std::string& target = draft.context.study.currency;
  for (const parts::PriceBreak& entry : prices.breaks) {
    const std::string& currency = entry.price.unit.currency;
    table.x.push_back(entry.quantity);
    table.y.push_back(entry.price.value_si * rate_of(draft, target) /
                      rate_of(draft, currency.empty() ? target : currency));
  }
  const double typical_volume = draft.context.study.volume_per_year.range.typical;
  if (typical_volume > table.x.back()) {
    draft.option.warnings.push_back(
        fmt::format("price of {} beyond its last break of {:.0f}: that price is taken", id, table.x.back()));
  }
  const Figure negotiation = draft.ledger().input({.key = fmt::format("parts.{}.price", id),
                                                   .label = fmt::format("price of {} against its list", id),
                                                   .range = {prices.low_factor, 1, prices.high_factor},
                                                   .unit = figures::parse_unit("1"),
                                                   .source = prices.source,
                                                   .correlation = "prices"});
  return draft.name(lookup(volume, table) * negotiation, fmt::format("price.{}", id), "price of " + id,
                    target);
}

struct MoneyInputs {
  Figure volume;
  Figure years;
  Figure units;
};

Figure of_study(Draft& draft, std::string_view field, std::string_view label,
                const reading::SourcedRange& range) {
  return draft.input(fmt::format("study.{}", field), label, range);
}

Figure unit_cost(Draft& draft, const MoneyInputs& in) {
  const study::Money& money = draft.context.study.money;
  Figure parts_cost = draft.zero(dimensions::money);
  Figure area = draft.zero(dimensions::area);
  double bodies = 0;
  for (const BillLine& line : draft.option.bill) {
    bodies += line.count;
    const parts::ExternalPart* external = external_part(draft, line.id);
    const parts::Part* part = main_part(draft, line.id);
    const parts::Prices& prices = external != nullptr ? external->prices : part->prices;
    parts_cost = parts_cost + static_cast<double>(line.count) * part_price(draft, line.id, prices, in.volume);
    if (external != nullptr) {
      area = area + static_cast<double>(line.count) * draft.input(fmt::format("parts.{}.board_area", line.id),
                                                                  "board area of " + line.id,
                                                                  external->board_area);
    }
  }
  for (const ChosenPackage& chosen : draft.packages) {
    // A body's keep-out for solder and routing adds about half of its area; common practice.
    constexpr double keep_out = 1.5;
    const double body_m2 =
        chosen.package->body_length.value_si * chosen.package->body_width.value_si * keep_out;
    area = area + draft.counted(fmt::format("parts.{}.board_area", chosen.part->id),
                                "board area of " + chosen.part->id, exactly(body_m2),
                                "package outline with half of its area as keep-out", "mm2");
  }
  draft.name(area, "board_area", "board area", "mm2");
  const Figure lost = of_study(draft, "attrition", "share of parts lost in production", money.attrition);
  Figure cost = parts_cost * (1.0 + lost) +
                bodies * of_study(draft, "placement_cost", "placing a body", money.placement_cost) +
                area * of_study(draft, "board_area_cost", "board area", money.board_area_cost);
  for (const ChosenPackage& chosen : draft.packages) {
    const Figure time = draft.input(fmt::format("parts.{}.programming_time", chosen.part->id),
                                    "programming time", chosen.part->programming_time);
    cost = cost + time * of_study(draft, "programming_rate", "programming fixture", money.programming_rate);
  }
  if (!draft.packages.empty()) cost = cost + of_study(draft, "test_cost", "test of a unit", money.test_cost);
  return draft.name(cost, "unit_cost", "unit cost", draft.context.study.currency);
}

Figure one_time_cost(Draft& draft, Figure labour) {
  const study::Money& money = draft.context.study.money;
  Figure effort = draft.zero(dimensions::time);
  for (const auto& [group, time] : draft.effort_by_group) effort = effort + time;
  const Figure named = draft.name(effort, "effort", "engineering effort", "h");
  Figure cost = named * labour;
  if (!draft.effort_by_group.empty()) {
    cost = cost + of_study(draft, "certification_cost", "certification", money.certification_cost);
    if (draft.candidate.fixed == nullptr)
      cost = cost + of_study(draft, "tools_cost", "tools", money.tools_cost);
  }
  return draft.name(cost, "one_time_cost", "one-time cost", draft.context.study.currency);
}

enum class Route { field, factory, board };

// How the blocks that a revision touches can follow it on this option.
Route route_of(const Draft& draft, const study::Revision& revision) {
  const auto& blocks = draft.context.study.function.blocks;
  Route worst = Route::field;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const auto& touches = revision.touches;
    if (std::find(touches.begin(), touches.end(), blocks[i].revision_group) == touches.end()) continue;
    const Candidate& candidate = draft.candidate;
    const parts::Part* part = nullptr;
    switch (candidate.engine_of_block[i]) {
      case EngineKind::fabric:
      case EngineKind::soft_processor:
        part = &candidate.logic->part;
        break;
      case EngineKind::microcontroller:
        part = &candidate.microcontroller->part;
        break;
      case EngineKind::fixed_function:
        part = &candidate.fixed->part;
        break;
      case EngineKind::host:
        break;  // the product updates its own processor in the field
      case EngineKind::external:
      case EngineKind::none:
        continue;
    }
    if (part == nullptr || part->upgrade == parts::Upgrade::field) continue;
    worst = std::max(worst, part->upgrade == parts::Upgrade::factory ? Route::factory : Route::board);
  }
  return worst;
}

Figure event_cost(Draft& draft, const study::Revision& revision, const MoneyInputs& in, Figure labour) {
  const study::Money& money = draft.context.study.money;
  Figure rework = draft.zero(dimensions::time);
  for (const std::string& group : revision.touches) {
    const auto effort = draft.effort_by_group.find(group);
    if (effort != draft.effort_by_group.end()) rework = rework + effort->second;
  }
  const Figure share = draft.input("effort.rework_share", "share of a block's effort that a revision costs",
                                   draft.context.effort.rework_share, "effort");
  Figure cost = rework * share * labour;
  const Route route = route_of(draft, revision);
  const Figure campaign = of_study(draft, "field_update_cost", "update campaign", money.field_update_cost);
  if (route == Route::field) return cost + campaign;
  // On average half of all units are in the field when the revision comes.
  const Figure returned =
      0.5 * in.units * of_study(draft, "recall_share", "share of units that come back", money.recall_share);
  const Figure rework_cost =
      returned * of_study(draft, "factory_update_cost", "rework of a unit", money.factory_update_cost);
  if (route == Route::factory) return cost + campaign + rework_cost;
  return cost + of_study(draft, "board_turn_cost", "new board or silicon", money.board_turn_cost) +
         returned * draft.ledger().at("unit_cost") + rework_cost;
}

Figure expected_change_cost(Draft& draft, const MoneyInputs& in, Figure labour) {
  const std::string& currency = draft.context.study.currency;
  Figure total = draft.zero(dimensions::money);
  for (const study::Revision& revision : draft.context.study.revisions) {
    const Figure chance = draft.input(fmt::format("revision.{}.chance", revision.name),
                                      revision.name + ": chance a year", revision.chance_per_year);
    const Figure event =
        draft.name(event_cost(draft, revision, in, labour), fmt::format("change.{}.event", revision.name),
                   revision.name + ": cost if it comes", currency);
    total = total + draft.name(chance * in.years * event, fmt::format("change.{}", revision.name),
                               revision.name + ": expected cost", currency);
  }
  return draft.name(total, "change_cost", "expected cost of change", currency);
}

}  // namespace

void add_money(Draft& draft) {
  const study::Study& study = draft.context.study;
  const Figure volume = draft.input("volume_per_year", "units a year", study.volume_per_year);
  const Figure years = draft.input("years", "years of production", study.years);
  const MoneyInputs in{volume, years, draft.name(volume * years, "units", "units over life", "1")};
  const Figure unit = unit_cost(draft, in);
  const Figure labour = of_study(draft, "labour_rate", "labour rate", study.money.labour_rate);
  const Figure once = one_time_cost(draft, labour);
  const Figure change = expected_change_cost(draft, in, labour);
  draft.name(unit + (once + change) / in.units, "cost_per_unit_over_life", "cost for each unit over life",
             study.currency);
}

}  // namespace portweigh::options

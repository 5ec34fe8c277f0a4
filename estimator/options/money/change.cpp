// What changes of the standard are likely to cost on this option, and how long it takes to follow them.
//
//   event    = rework of the blocks touched + certification, where the revision needs it + the route by which units
//   follow:
//     field     a campaign
//     factory   a campaign + units that come back x rework of a unit
//     new part  a new board or silicon + bringing it up + units that come back x (a new unit + rework of a
//     unit)
//   expected = chance a year x years x event;   dated: chance x event, if its day is within the production
//   units that come back = recall share x units in use; in the cost of each year, of the units in use in its middle
// A part that can't change is not just marked so: it pays for the board turn. A revision that touches no
// block of the option costs nothing; one in a late year meets more units. Spread and worst 5 % come from the
// exact distribution of how often revisions come (event_distribution.hpp), with all other inputs typical; their
// low and high follow the chances' low and high. Tested by tests/options/money/change_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "figures/evaluation/evaluate.hpp"
#include "options/money/event_distribution.hpp"
#include "options/money/money.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;
namespace dimensions = figures::dimensions;

enum class Route { nothing, field, factory, new_part };

const char* to_text(Route route) {
  switch (route) {
    case Route::nothing:
      return "touches no block of it";
    case Route::field:
      return "field update";
    case Route::factory:
      return "factory update";
    case Route::new_part:
      return "new board or part";
  }
  return "";
}

// External parts, such as comparators, don't know the protocol and are not touched.
Route route_on(const Candidate& candidate, EngineKind engine) {
  if (engine == EngineKind::external || engine == EngineKind::none) return Route::nothing;
  const Chip* chip = candidate.carrier_of(engine);
  if (chip == nullptr || chip->part().upgrade == parts::Upgrade::field) return Route::field;
  return chip->part().upgrade == parts::Upgrade::factory ? Route::factory : Route::new_part;
}

// The worst route of the blocks that a revision touches.
Route route_of(const Draft& draft, const study::Revision& revision) {
  const auto& blocks = draft.context.study.function.blocks;
  Route worst = Route::nothing;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const auto& touches = revision.touches;
    if (std::find(touches.begin(), touches.end(), blocks[i].revision_group) == touches.end()) continue;
    worst = std::max(worst, route_on(draft.candidate, draft.candidate.engine_of_block[i]));
  }
  return worst;
}

// Engineering time of an event.
Figure rework_of(Draft& draft, const std::vector<EffortItem>& items, const study::Revision& revision,
                 Route route) {
  const parts::Effort& effort = draft.context.effort;
  std::vector<Figure> touched;
  for (const EffortItem& item : items) {
    const auto& touches = revision.touches;
    if (std::find(touches.begin(), touches.end(), item.revision_group) == touches.end()) continue;
    touched.push_back(item.anew);
  }
  std::vector<Figure> shares;
  if (!touched.empty()) {
    shares.push_back(sum(touched) * draft.input(effort.rework_share));
  }
  if (route == Route::new_part) {
    shares.push_back(draft.input(effort.integration_time));
    if (draft.candidate.fixed() != nullptr) {
      shares.push_back(draft.input(effort.fixed_function_time));
    }
  }
  const Figure time = shares.empty() ? draft.zero(dimensions::time) : sum(shares);
  return draft.name(time, fmt::format("change.{}.rework", revision.name), revision.name + ": engineering",
                    "h");
}

struct Event {
  const study::Revision* revision = nullptr;
  Route route = Route::nothing;
  Figure in_field;
  Figure rework;
};

// What an event costs once, and for each unit in use.
struct EventCost {
  Figure once;
  std::optional<Figure> each;

  Figure with(Figure in_field) const { return each ? once + in_field * *each : once; }
};

EventCost event_cost(Draft& draft, const Event& event, const ChangeInputs& in) {
  const study::Money& money = draft.context.study.money;
  Figure engineering = event.rework * in.labour_rate;
  if (event.revision->needs_certification) engineering = engineering + certification_of(draft);
  const auto campaign = [&] { return draft.input(money.field_update_cost); };
  if (event.route == Route::field) return {engineering + campaign(), {}};
  const Figure rework = draft.input(money.factory_update_cost);
  const Figure recalled = draft.input(money.recall_share);
  if (event.route == Route::factory) return {engineering + campaign(), recalled * rework};
  return {engineering + draft.input(money.board_turn_cost), recalled * (in.unit_cost + rework)};
}

// From the revision's publication until units in use follow it.
Figure reaction_time(Draft& draft, const Event& event, Figure lead_time) {
  const parts::Effort& effort = draft.context.effort;
  constexpr double month_s = 365.25 / 12 * 86400;
  Figure time = event.rework / draft.input(effort.person_month) / draft.input(effort.team_size) *
                draft.ledger().constant(month_s, dimensions::time, "a month");
  if (event.route == Route::field) {
    time = time + draft.input(effort.field_update_time);
  } else {
    time = time + draft.input(effort.factory_update_time);
  }
  if (event.route == Route::new_part) {
    time = time + draft.input(effort.board_turn_time) + lead_time;
  }
  return draft.name(time, fmt::format("change.{}.reaction_time", event.revision->name),
                    event.revision->name + ": time to follow it", "d");
}

const study::SourcedRange& chance_in(const study::Revision& revision) {
  return revision.chance_per_year ? *revision.chance_per_year : revision.chance;
}

Figure chance_of(Draft& draft, const study::Revision& revision) {
  return draft.input(chance_in(revision));
}

Figure day_of(Draft& draft, const study::Revision& revision) {
  return draft.input(fmt::format("revision.{}.years_after_start", revision.name),
                     revision.name + ": years after the start of production",
                     figures::exactly(revision.years_after_start), revision.source);
}

// Units in use in the middle of a year's production.
Figure in_use_in(const ProductionYear& year) {
  return year.units_so_far - 0.5 * year.units;
}

// A revision in one year: it comes with `chance`, as far as the year is one of production.
struct PossibleEvent {
  const study::Revision* revision = nullptr;
  Figure share;  // of the year, 0..1; of a dated revision 1 while production goes on at its day
  Figure cost;
};

std::vector<Outcome> distribution_with(const Draft& draft, const std::vector<PossibleEvent>& possible,
                                       double figures::Range::*bound) {
  std::vector<figures::Setting> settings;
  for (const study::Revision& revision : draft.context.study.revisions) {
    settings.push_back({chance_in(revision).input.key, chance_in(revision).range.*bound});
  }
  const auto values = figures::evaluate_all(draft.option.ledger, settings);
  std::vector<RepeatedEvent> events;
  for (const PossibleEvent& one : possible) {
    events.push_back(
        {chance_in(*one.revision).range.*bound, values[one.share.index()], values[one.cost.index()]});
  }
  return total_distribution(events);
}

void add_distribution(Draft& draft, const std::vector<PossibleEvent>& possible) {
  constexpr double worst_share = 0.05;
  figures::Range spread;
  figures::Range worst;
  for (const auto bound : {&figures::Range::low, &figures::Range::typical, &figures::Range::high}) {
    const auto outcomes = distribution_with(draft, possible, bound);
    spread.*bound = deviation_of(outcomes);
    worst.*bound = worst_mean_of(outcomes, worst_share);
  }
  // More chance can mean less spread (what is certain has none).
  const auto ordered = [](const figures::Range& range) {
    return figures::Range{std::min(range.low, range.typical), range.typical,
                          std::max({range.typical, range.high, range.low})};
  };
  const std::string& currency = draft.context.study.currency;
  const auto add = [&](const std::string& key, const std::string& label, const figures::Range& range) {
    // The same revisions come whatever was chosen, so that the options' figures move together.
    const Figure counted = draft.input(
        fmt::format("counts.{}.{}", draft.candidate.id, key), label, ordered(range),
        {"exact distribution of how often revisions come", "", 0, 0}, currency, "revisions that come");
    draft.name(counted, key, label, currency);
  };
  add("change_cost_spread", "standard deviation of the cost of change", spread);
  add("change_cost_worst", "cost of change, mean of the worst 5 %", worst);
}

}  // namespace

ChangeCost add_change(Draft& draft, const ChangeInputs& in) {
  const LifePlan& plan = in.plan;
  const std::string& currency = draft.context.study.currency;
  const Figure nothing = draft.zero(dimensions::money);
  ChangeCost change{nothing, std::vector<Figure>(plan.by_year.size(), nothing)};
  Figure slowest = draft.zero(dimensions::time);
  std::vector<Figure> expected_costs;
  std::vector<PossibleEvent> possible;
  for (const study::Revision& revision : draft.context.study.revisions) {
    const std::string key = "change." + revision.name;
    // Known to every option, so that it can be moved whether it touches this one or not.
    const Figure chance = chance_of(draft, revision);
    const Route route = route_of(draft, revision);
    draft.option.notes.push_back(fmt::format("{}: {}.", revision.name, to_text(route)));
    if (route == Route::nothing) continue;
    const bool is_dated = !revision.chance_per_year.has_value();
    const Event event{&revision, route,
                      is_dated ? units_in_field(draft, plan, day_of(draft, revision)) : plan.in_field,
                      rework_of(draft, in.effort, revision, route)};
    const EventCost one = event_cost(draft, event, in);
    if (one.each) {
      draft.name(event.in_field * draft.input(draft.context.study.money.recall_share),
                 key + ".returned_units", revision.name + ": units that come back", "1");
    }
    const Figure cost =
        draft.name(one.with(event.in_field), key + ".event",
                   fmt::format("{}: cost if it comes, {}", revision.name, to_text(route)), currency);
    slowest = maximum(slowest, reaction_time(draft, event, in.lead_time));
    Figure times = plan.years;  // it may come, once in each
    if (is_dated) {
      const Figure share = at_least(plan.years, day_of(draft, revision));
      times = share;
      const auto year =
          std::min(static_cast<std::size_t>(revision.years_after_start), plan.by_year.size() - 1);
      change.by_year[year] = change.by_year[year] + chance * share * cost;
      possible.push_back({&revision, share, cost});
    } else {
      for (std::size_t i = 0; i < plan.by_year.size(); ++i) {
        const Figure of_year = one.with(in_use_in(plan.by_year[i]));
        change.by_year[i] = change.by_year[i] + chance * plan.by_year[i].share * of_year;
        possible.push_back({&revision, plan.by_year[i].share, of_year});
      }
    }
    expected_costs.push_back(
        draft.name(chance * times * cost, key, revision.name + ": expected cost", currency));
  }
  change.total = draft.name(expected_costs.empty() ? nothing : sum(expected_costs), "change_cost",
                            "expected cost of change", currency);
  draft.name(slowest, "reaction_time", "longest time to follow a revision", "d");
  add_distribution(draft, possible);
  return change;
}

}  // namespace portweigh::options

#include "report/document/document.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <set>

#include "exploration/structure.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "figures/units/format_quantity.hpp"
#include "report/certainty.hpp"
#include "report/number_words.hpp"
#include "study/figure_names.hpp"

namespace portweigh::report {
namespace {

using decision::BudgetResult;
using decision::RankedOption;
using figures::format_quantity;

std::string shown_figure(const RankedOption& ranked, const std::string& key) {
  const auto found = ranked.figures.find(key);
  return found == ranked.figures.end() ? "-" : amount_words(found->second.value, found->second.unit, "");
}

// The hard budget or limit that an option misses by most.
const BudgetResult* worst_miss(const RankedOption& ranked) {
  const BudgetResult* worst = nullptr;
  for (const BudgetResult& budget : ranked.budgets) {
    if (budget.is_hard && !budget.meets && (worst == nullptr || budget.margin < worst->margin))
      worst = &budget;
  }
  return worst;
}

std::string what_sentence(const Run& run, const RankedOption& best) {
  const options::Option& option = run.considered.options[best.option];
  const std::string range = life_cost_words(best);
  const std::string figures =
      fmt::format("at typical inputs {} a unit, {} over life{}, {} while active, {} on average",
                  shown_figure(best, "unit_cost"), shown_figure(best, "cost_per_unit_over_life"),
                  range.empty() ? "" : fmt::format(" ({})", range), shown_figure(best, "active_power"),
                  shown_figure(best, "average_power"));
  if (best.meets_budgets) {
    return fmt::format(
        "Carry the port function on {}, {}: {}; it comes first of {} options that can be built.", option.id,
        words_of(option.kind), figures, run.ranking.ranked.size());
  }
  const BudgetResult* miss = worst_miss(best);
  return fmt::format(
      "No option meets every hard budget; the nearest is {}, {} ({}), which misses {}.", option.id,
      words_of(option.kind), figures,
      miss == nullptr
          ? std::string("none at typical values")
          : fmt::format("the limit of {} on {} with {}", amount_words(miss->limit, miss->unit, ""),
                        label_of_figure(miss->figure), amount_words(miss->value, miss->unit, "")));
}

std::string certainty_sentence(const Run& run, const RankedOption& best) {
  const unsigned samples = run.ranking.sampling.samples;
  const std::string rival = rival_words(run);
  return fmt::format(
      "The choice is {} ({}): it keeps all hard budgets in {} of {} samples of what is uncertain, and leads "
      "in "
      "{} of them when the weights of the budgets are left open{}{}.",
      word_of(certainty_of(best)), certainty_scale(),
      share_words(best.probability_meets_budgets, samples, best.standard_error), samples,
      share_words(best.first_rank_share, samples), rival.empty() ? "" : "; ", rival);
}

// An input of the leader's own chip and what people may know by its label.
std::string input_words(const Run& run, const std::string& key) {
  for (const options::Option& option : run.considered.options) {
    if (const auto figure = option.ledger.find(key)) return option.ledger.name_of(figure->index())->label;
  }
  return key;
}

std::string change_sentence(const Run& run, const Analysis& analysis) {
  const RankedOption& best = run.ranking.ranked.front();
  if (!best.meets_budgets) {
    return "Relaxing that limit, or another part in the catalog, would change this.";
  }
  std::string rival = run.ranking.ranked.size() > 1
                          ? fmt::format("Next is {}", run.considered.options[run.ranking.ranked[1].option].id)
                          : std::string("There is no other option");
  if (analysis.typical_leader != run.considered.options[best.option].id) {
    return fmt::format(
        "{}; at typical values alone {} has the larger weighted margin, but it keeps the budgets less "
        "surely.",
        rival, analysis.typical_leader);
  }
  const auto& flips = analysis.sensitivity.flips;
  const auto inside = std::find_if(flips.begin(), flips.end(),
                                   [](const NamedFlip& flip) { return flip.flip.is_within_range; });
  if (inside == flips.end()) {
    return rival + "; no single input, moved within its range, makes another option lead.";
  }
  const std::string label = input_words(run, inside->flip.input);
  return fmt::format("{}; the nearest change that makes another option lead ({}) is {} going from {} to {}.",
                     rival, inside->new_leader == "none" ? "or none feasible" : inside->new_leader, label,
                     amount_words(inside->flip.typical, inside->unit, label),
                     amount_words(inside->flip.value, inside->unit, label));
}

std::vector<std::string> recommendation(const Run& run, const Analysis& analysis) {
  if (run.ranking.ranked.empty()) {
    return {
        "No option can be built from this catalog.",
        "This is certain: each candidate fails at typical values.",
        "The reasons stand under rejected options; another part or a looser requirement would change it."};
  }
  const RankedOption& best = run.ranking.ranked.front();
  return {what_sentence(run, best), certainty_sentence(run, best), change_sentence(run, analysis)};
}

std::vector<RejectedGroup> group_rejections(const Run& run) {
  std::vector<RejectedGroup> groups;
  for (const options::Rejection& rejection : run.considered.rejections) {
    auto found = std::find_if(groups.begin(), groups.end(),
                              [&](const RejectedGroup& group) { return group.reason == rejection.reason; });
    if (found == groups.end()) found = groups.insert(groups.end(), RejectedGroup{rejection.reason, {}});
    found->ids.push_back(rejection.id);
  }
  return groups;
}

// How far the range reaches, in words and numbers.
std::string confidence_of(const figures::Range& range) {
  if (range.low == range.high) return "exact";
  if (range.typical == 0) return "open";
  const double below = (range.low - range.typical) / range.typical;
  const double above = (range.high - range.typical) / range.typical;
  const double widest = std::max(-below, above);
  const char* words = widest <= 0.15 ? "good" : widest <= 0.6 ? "fair" : "low";
  return fmt::format("{}: {:+.0f} .. {:+.0f} %", words, 100 * below, 100 * above);
}

// Temperatures are judged by their difference, not as a share of absolute zero.
std::string confidence_of(const figures::Input& input) {
  if (input.unit.offset == 0 || input.range.low == input.range.high) return confidence_of(input.range);
  return fmt::format("{:+.0f} .. {:+.0f} K", input.range.low - input.range.typical,
                     input.range.high - input.range.typical);
}

std::set<std::string> key_inputs(const Sensitivity& sensitivity) {
  constexpr std::size_t most_drivers = 3;
  constexpr double least_share = 0.05;
  std::set<std::string> keys;
  for (const Sensitivity::Figure& figure : sensitivity.figures) {
    for (std::size_t i = 0; i < std::min(figure.drivers.drivers.size(), most_drivers); ++i) {
      const exploration::Driver& driver = figure.drivers.drivers[i];
      if (driver.total.value >= least_share) keys.insert(driver.inputs.begin(), driver.inputs.end());
    }
  }
  for (const NamedFlip& flip : sensitivity.flips) {
    if (flip.flip.is_within_range) keys.insert(flip.flip.input);
  }
  return keys;
}

std::vector<Assumption> assumptions_of(const Document& document) {
  std::map<std::string, Assumption> found;
  const std::set<std::string> key_ones = key_inputs(document.analysis.sensitivity);
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    for (const figures::Input& input : option_at(document, i).ledger.inputs()) {
      const figures::Range& range = input.range;
      const bool is_counted = input.source.file.empty();
      found.try_emplace(
          input.key,
          Assumption{input.key, input.label, format_quantity(range.typical, input.unit),
                     range.low == range.high ? ""
                                             : fmt::format("{} .. {}", format_quantity(range.low, input.unit),
                                                           format_quantity(range.high, input.unit)),
                     confidence_of(input), input.source.text, document.run->places.of(input.source),
                     is_counted, key_ones.contains(input.key)});
    }
  }
  std::vector<Assumption> all;
  for (auto& [key, assumption] : found) all.push_back(std::move(assumption));
  std::stable_partition(all.begin(), all.end(), [](const Assumption& one) { return !one.is_counted; });
  return all;
}

std::vector<std::string> collect_warnings(const Document& document) {
  std::vector<std::string> warnings;
  for (std::size_t i = 0; i < document.shown.size(); ++i) {
    const options::Option& option = option_at(document, i);
    for (const std::string& warning : option.warnings) warnings.push_back(option.id + ": " + warning);
  }
  return warnings;
}

std::vector<std::string> method_of(const Run& run) {
  return {
      "The port function is a list of blocks. A block exists as a logic network, which is covered with lookup tables, packed "
      "and simulated on generated traffic, and, where firmware can do it, as a routine, which is executed and counted. What is "
      "counted is what ran.",
      fmt::format("Every sensible assignment of blocks to the parts of the catalog was tried: {} can be "
                  "built, {} were "
                  "rejected. Each figure of an option is a formula over inputs with a low, a typical and a "
                  "high value.",
                  run.considered.options.size(), run.considered.rejections.size()),
      fmt::format(
          "Certainty comes from {} quasi-random samples (seed {}) of triangular ranges, the same samples for "
          "all options. Values shown are typical; ranges are the 5 % and 95 % points.",
          run.ranking.sampling.samples, run.ranking.sampling.seed),
      "Order: options that keep every hard budget at typical values; then the probability of keeping them "
      "all, in "
      "steps of one percent; then the margin to all budgets, weighted as the study asks. The margin is "
      "(allowed - "
      "value) / allowed, where allowed is the limit less the wanted margin.",
      "An option is dominated if another is no worse in every budgeted figure and better in one. Rank shares "
      "take all "
      "possible weights as equally likely (SMAA-2, Lahdelma and Salminen 2001); drivers are variance-based "
      "indices "
      "(Saltelli 2010, Jansen 1999)."};
}

}  // namespace

std::string label_of_figure(const std::string& key) {
  const study::FigureName* known = study::find_figure(key);
  if (known != nullptr) return known->label;
  std::string words = key;
  std::replace(words.begin(), words.end(), '_', ' ');
  return words;
}

std::string words_of(options::OptionKind kind) {
  switch (kind) {
    case options::OptionKind::programmable_logic:
      return "programmable logic";
    case options::OptionKind::microcontroller:
      return "a microcontroller";
    case options::OptionKind::fixed_function:
      return "a fixed-function part";
    case options::OptionKind::split:
      return "a split over several engines";
    case options::OptionKind::no_silicon:
      return "no silicon of its own";
  }
  return "";
}

const RankedOption& ranked_at(const Document& document, std::size_t shown) {
  return document.run->ranking.ranked[document.shown[shown]];
}

const options::Option& option_at(const Document& document, std::size_t shown) {
  return document.run->considered.options[ranked_at(document, shown).option];
}

CostShares cost_shares(const options::Option& option) {
  const auto values = figures::evaluate_all(option.ledger, std::span<const figures::Setting>());
  const auto at = [&](std::initializer_list<const char*> keys, double otherwise) {
    for (const char* key : keys) {
      if (const auto figure = option.ledger.find(key)) return values[figure->index()];
    }
    return otherwise;
  };
  CostShares shares;
  shares.parts = at({"parts_cost_by_yield", "parts_cost"}, 0) * at({"price_level"}, 1);
  shares.making = at({"average_unit_cost", "unit_cost"}, 0) - shares.parts;
  shares.one_time = at({"one_time_cost_per_unit"}, 0);
  shares.change = at({"change_cost_per_unit"}, 0);
  shares.stock = at({"last_time_buy_cost_per_unit"}, 0);
  return shares;
}

Document make_document(const Run& run) {
  Document document;
  document.run = &run;
  document.analysis = analyse(run);
  document.shown = shown_options(run, document.analysis);
  document.title = run.study.name;
  document.summary = run.study.summary;
  document.recommendation = recommendation(run, document.analysis);
  document.rejected = group_rejections(run);
  document.assumptions = assumptions_of(document);
  document.warnings = collect_warnings(document);
  document.method = method_of(run);
  for (const auto& input : exploration::structural_inputs()) document.structural_inputs.push_back(input.key);
  return document;
}

}  // namespace portweigh::report

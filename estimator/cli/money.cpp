// The verbs family and break-even: one platform for several products, and what it takes to change the winner.
#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/session.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "options/limits.hpp"
#include "reading/diagnostic.hpp"
#include "report/terminal/family_report.hpp"
#include "study/family_reader.hpp"

namespace portweigh::cli {
namespace {

struct FamilyArguments {
  Common common;
  std::filesystem::path family;
};

struct BreakEvenArguments {
  Common common;
  std::filesystem::path study;
};

struct Costed {
  const options::Option* option = nullptr;
  bool meets_budgets = false;
  double cost_over_life = 0;
};

// Cheapest over life first, those that keep the hard budgets before the others.
std::vector<Costed> costed_options(const std::vector<options::Option>& options, const study::Study& study) {
  std::vector<Costed> all;
  for (const options::Option& option : options) {
    const auto values = figures::evaluate_all(option.ledger);
    const auto limits = options::limits_of(option, study);
    const bool meets_all = std::all_of(limits.begin(), limits.end(), [&](const auto& limit) {
      const auto figure = option.ledger.find(limit.figure);
      return !limit.is_hard || !figure || options::meets(limit, values[figure->index()]);
    });
    all.push_back({&option, meets_all, values[option.ledger.at("cost_per_unit_over_life").index()]});
  }
  std::stable_sort(all.begin(), all.end(), [](const Costed& a, const Costed& b) {
    if (a.meets_budgets != b.meets_budgets) return a.meets_budgets;
    return a.cost_over_life < b.cost_over_life;
  });
  return all;
}

int run_family(const FamilyArguments& arguments, std::ostream& out) {
  const parts::Catalog catalog = parts::read_catalog(arguments.common.catalog);
  const parts::Effort effort = parts::read_effort(arguments.common.catalog / "effort.toml");
  const study::Family family = study::read_family(arguments.family, arguments.common.catalog);
  options::BlockLibrary library(catalog.cores);
  decision::Sampling sampling;
  sampling.threads = thread_count(arguments.common);
  const auto result = options::choose_for_family(
      catalog, effort, family, library,
      [&](const options::Context& context) { return decision::consider_best_settings(context, sampling); });
  print_result(
      out, arguments.common, report::notices_of(catalog, family), [&] { return report::family_json(result); },
      [&] { return report::family_text(result); });
  return 0;
}

int run_break_even(const BreakEvenArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const options::Considered considered = consider_options(*session, thread_count(arguments.common));
  const auto costed = costed_options(considered.options, session->study);
  if (costed.empty()) {
    throw reading::InputError(reading::Diagnostic{
        arguments.study.string(), 0, 0, "no option can be built, so nothing breaks even; see rank", ""});
  }
  // Two decades around the study's volume, as far as one is likely to be wrong.
  constexpr double reach = 100;
  report::BreakEven result;
  const Costed& cheapest = costed.front();
  result.study = session->study.name;
  result.currency = session->study.currency;
  result.volume_per_year = session->study.volume_per_year.range.typical;
  result.from = std::max(1.0, result.volume_per_year / reach);
  result.to = result.volume_per_year * reach;
  result.cheapest = cheapest.option->id;
  result.cost_over_life = cheapest.cost_over_life;
  for (std::size_t i = 1; i < costed.size(); ++i) {
    result.lines.push_back(
        {costed[i].option->id, costed[i].meets_budgets, costed[i].cost_over_life,
         options::break_even_volumes(*cheapest.option, *costed[i].option, result.from, result.to),
         options::winning_price(*costed[i].option, *cheapest.option)});
  }
  print_result(
      out, arguments.common, report::notices_of(session->catalog, session->study),
      [&] { return report::break_even_json(result); }, [&] { return report::break_even_text(result); });
  return 0;
}

void declare_family(Options& options, FamilyArguments& arguments) {
  options.required("FILE", arguments.family, "family file (TOML)");
}

void declare_break_even(Options& options, BreakEvenArguments& arguments) {
  options.study(arguments.study);
}

}  // namespace

Verb family_verb();
Verb family_verb() {
  return make_verb<FamilyArguments>("family", "the platforms for several products that cost least together",
                                    "portweigh family studies/families/shop-instruments.toml", declare_family,
                                    run_family);
}

Verb break_even_verb();
Verb break_even_verb() {
  return make_verb<BreakEvenArguments>(
      "break-even", "volumes and prices at which another option would cost less over life",
      "portweigh break-even studies/flow-meter.toml", declare_break_even, run_break_even);
}

}  // namespace portweigh::cli

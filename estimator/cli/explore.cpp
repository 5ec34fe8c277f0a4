// The verbs sweep, crossover and sensitivity: what happens when inputs move.
#include <fmt/core.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>
#include <set>

#include "cli/session.hpp"
#include "decision/clock_settings.hpp"
#include "decision/information_value.hpp"
#include "decision/ranking.hpp"
#include "exploration/selection.hpp"
#include "exploration/structure.hpp"
#include "reading/diagnostic.hpp"
#include "reading/suggest.hpp"
#include "report/terminal/exploration_text.hpp"
#include "study/figure_names.hpp"

namespace portweigh::cli {
namespace {

struct SweepArguments {
  Common common;
  std::filesystem::path study;
  std::vector<std::string> over;  // one or two of INPUT=FROM:TO[:STEPS[:log]]
  std::string figure = "average_power";
  std::vector<std::string> only;  // option ids; empty: all
};

struct CrossoverArguments {
  Common common;
  std::filesystem::path study;
  std::string over;
  std::string figure;  // the least leads; empty: the best by the budgets
  std::vector<std::string> only;
};

struct SensitivityArguments {
  Common common;
  std::filesystem::path study;
  std::string option;  // empty: the leader
  std::vector<std::string> only;
  unsigned samples = 4096;
  std::uint64_t seed = 1;
};

// Inputs of all ledgers, and those that change the structure.
std::vector<exploration::KnownInput> known_inputs(const std::vector<options::Option>& options) {
  std::map<std::string, figures::Unit> found;
  for (const options::Option& option : options) {
    for (const figures::Input& input : option.ledger.inputs()) found.try_emplace(input.key, input.unit);
  }
  for (const auto& input : exploration::structural_inputs()) found.insert_or_assign(input.key, input.unit);
  std::vector<exploration::KnownInput> known;
  for (const auto& [key, unit] : found) known.push_back({key, unit});
  return known;
}

[[noreturn]] void refuse_over(std::string message) {
  throw reading::InputError(reading::Diagnostic{"--over", 0, 0, std::move(message), ""});
}

// The options that take part with --only, and what can be moved.
struct Chosen {
  std::vector<options::Option> options;
  std::vector<exploration::KnownInput> known;      // inputs of these options
  std::vector<exploration::KnownInput> all_known;  // inputs of all options of the study
};

exploration::Axis read_axis(const std::string& text, const Chosen& chosen) {
  exploration::Axis axis;
  try {
    axis = exploration::parse_axis(text, chosen.all_known);
  } catch (const exploration::AxisError& error) {
    refuse_over(error.what());
  }
  const bool is_of_chosen = std::any_of(chosen.known.begin(), chosen.known.end(),
                                        [&](const auto& known) { return known.key == axis.input; });
  if (!is_of_chosen) {
    refuse_over(
        fmt::format("no option chosen with --only has the input \"{}\", though others have it", axis.input));
  }
  return axis;
}

std::vector<exploration::Axis> read_axes(const std::vector<std::string>& texts, const Chosen& chosen) {
  if (texts.size() > 2) refuse_over(fmt::format("{} inputs, expected one or two", texts.size()));
  std::vector<exploration::Axis> axes;
  for (const std::string& text : texts) axes.push_back(read_axis(text, chosen));
  if (axes.size() == 2 && axes[0].input == axes[1].input) {
    refuse_over(fmt::format("\"{}\" is given twice, expected two different inputs", axes[0].input));
  }
  return axes;
}

std::string leader_name(const std::vector<options::Option>& options, Eigen::Index leader) {
  return leader < 0 ? "none" : options[static_cast<std::size_t>(leader)].id;
}

figures::Unit unit_of(const std::string& input, const std::vector<exploration::KnownInput>& known) {
  const auto found =
      std::find_if(known.begin(), known.end(), [&](const auto& one) { return one.key == input; });
  return found == known.end() ? figures::parse_unit("1") : found->unit;
}

void check_figure(const std::string& figure) {
  if (study::find_figure(figure) != nullptr) return;
  std::vector<std::string> names;
  for (const study::FigureName& known : study::known_figures()) names.push_back(known.name);
  throw reading::InputError(
      reading::Diagnostic{"--figure", 0, 0, reading::unknown_name_message("figure", figure, names), ""});
}

// Every id of `only` must be one that rank names.
Chosen chosen_options(options::Considered considered, const std::vector<std::string>& only) {
  for (const std::string& id : only) find_option(considered, id, "--only");
  Chosen chosen;
  chosen.all_known = known_inputs(considered.options);
  chosen.options = exploration::select_options(std::move(considered.options), only);
  chosen.known = known_inputs(chosen.options);
  return chosen;
}

// What a crossover is searched among.
struct Search {
  const Session& session;
  const CrossoverArguments& arguments;
  exploration::Axis axis;
  figures::Unit unit;

  // Any figure will do where none leads by its figure.
  std::string figure() const { return arguments.figure.empty() ? "active_power" : arguments.figure; }
  exploration::LeadBy by() const {
    return arguments.figure.empty() ? exploration::LeadBy::score : exploration::LeadBy::least_figure;
  }
};

// A structural input: the options are rebuilt for each value. That is dear, and whole numbers have no values
// in between, so the given steps are what is searched.
std::vector<report::NamedCrossover> structural_crossovers(const Search& search) {
  std::vector<report::NamedCrossover> found;
  std::optional<std::pair<double, std::string>> before;
  for (const double value : search.axis.values()) {
    const Session& session = search.session;
    const study::Study study = exploration::with_structure(session.study, search.axis.input, value);
    decision::Sampling sampling;
    sampling.threads = thread_count(search.arguments.common);
    options::Considered considered = decision::consider_best_settings(
        {session.catalog, session.effort, study, *session.library}, sampling);
    const auto options = exploration::select_options(std::move(considered.options), search.arguments.only);
    const exploration::Field field(options, study, search.figure());
    const auto leads = exploration::leads_of(field.at({}, 1), search.by());
    const std::string leader = leader_name(options, leads.front().leader);
    if (before && before->second != leader) {
      found.push_back({search.axis.input, search.unit, before->first, value, before->second, leader});
    }
    before = {value, leader};
  }
  return found;
}

std::vector<report::NamedCrossover> numeric_crossovers(const Search& search,
                                                       const std::vector<options::Option>& options) {
  std::vector<report::NamedCrossover> found;
  const exploration::Field field(options, search.session.study, search.figure());
  const auto lead_at = exploration::lead_along(field, search.axis.input, search.by());
  for (const auto& crossover : exploration::find_crossovers(search.axis, lead_at)) {
    found.push_back({search.axis.input, search.unit, crossover.below, crossover.above,
                     leader_name(options, crossover.leader_below),
                     leader_name(options, crossover.leader_above)});
  }
  return found;
}

// The option that was asked for, or the leader.
const options::Option& driven_option(const std::vector<options::Option>& options,
                                     const decision::Ranking& ranking,
                                     const SensitivityArguments& arguments) {
  for (const options::Option& option : options) {
    if (option.id == arguments.option) return option;
  }
  return options[ranking.ranked.front().option];
}

std::vector<report::Sensitivity::Figure> drivers_of(const options::Option& option, const study::Study& study,
                                                    const SensitivityArguments& arguments) {
  std::vector<report::Sensitivity::Figure> all;
  std::set<std::string> seen;
  for (const study::Budget& budget : study.budgets) {
    const auto figure = option.ledger.find(budget.figure);
    if (!figure || !seen.insert(budget.figure).second) continue;
    all.push_back({budget.figure,
                   exploration::figure_drivers(option.ledger, *figure, arguments.samples, arguments.seed),
                   option.ledger.name_of(figure->index())->unit});
  }
  return all;
}

int run_sweep(const SweepArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const unsigned threads = thread_count(arguments.common);
  check_figure(arguments.figure);
  const Chosen chosen = chosen_options(consider_options(*session, threads), arguments.only);
  const std::vector<exploration::Axis> axes = read_axes(arguments.over, chosen);
  exploration::Sweep result;
  try {
    result = exploration::sweep(session->context(), axes, arguments.figure, threads, arguments.only);
  } catch (const exploration::AxisError& error) {
    refuse_over(error.what());
  }
  const std::string& currency = session->study.currency;
  print_result(
      out, arguments.common, report::notices_of(session->catalog, session->study),
      [&] { return report::sweep_json(result); },
      [&] { return report::winner_map_text(result, chosen.known, currency); });
  if (arguments.common.format != Format::json) {
    out << "\n---- CSV, one row for each point and option ----\n"
        << report::sweep_csv(result, chosen.known, currency);
  }
  return 0;
}

int run_crossover(const CrossoverArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  if (!arguments.figure.empty()) check_figure(arguments.figure);
  const Chosen chosen =
      chosen_options(consider_options(*session, thread_count(arguments.common)), arguments.only);
  const exploration::Axis axis = read_axis(arguments.over, chosen);
  const Search search{*session, arguments, axis, unit_of(axis.input, chosen.known)};
  std::vector<report::NamedCrossover> found;
  try {
    found = exploration::is_structural(axis.input) ? structural_crossovers(search)
                                                   : numeric_crossovers(search, chosen.options);
  } catch (const exploration::AxisError& error) {
    refuse_over(error.what());
  }
  print_result(
      out, arguments.common, report::notices_of(session->catalog, session->study),
      [&] { return report::crossover_json(found, axis); },
      [&] { return report::crossover_text(found, axis); });
  return 0;
}

int run_sensitivity(const SensitivityArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const unsigned threads = thread_count(arguments.common);
  options::Considered considered = consider_options(*session, threads);
  if (!arguments.option.empty()) find_option(considered, arguments.option);
  const Chosen chosen = chosen_options(std::move(considered), arguments.only);
  const std::vector<options::Option>& options = chosen.options;
  const decision::Sampling sampling{arguments.samples, arguments.seed, threads};
  Eigen::ArrayXXd worth;
  const decision::Ranking ranking = decision::rank(options, session->study, sampling, &worth);
  if (ranking.ranked.empty()) {
    throw reading::InputError(reading::Diagnostic{
        arguments.study.string(), 0, 0, "no option can be built, so nothing drives a figure; see rank", ""});
  }
  const options::Option& subject = driven_option(options, ranking, arguments);
  report::Sensitivity result;
  result.option = subject.id;
  result.figures = drivers_of(subject, session->study, arguments);
  result.information =
      decision::information_values(worth, decision::sample_inputs(options, sampling), threads);
  const exploration::Field field(options, session->study, "active_power");
  for (const exploration::Flip& flip : exploration::find_flips(options, field)) {
    result.flips.push_back({flip, unit_of(flip.input, chosen.known), leader_name(options, flip.new_leader)});
  }
  print_result(
      out, arguments.common, report::notices_of(session->catalog, session->study),
      [&] { return report::sensitivity_json(result); }, [&] { return report::sensitivity_text(result); });
  return 0;
}

void declare_sweep(Options& options, SweepArguments& arguments) {
  options.study(arguments.study);
  options.required_repeated("--over", arguments.over, "INPUT=FROM:TO[:STEPS[:log]], once or twice");
  options.optional("--figure", arguments.figure, "figure of the table");
  options.only(arguments.only);
}

void declare_crossover(Options& options, CrossoverArguments& arguments) {
  options.study(arguments.study);
  options.required("--over", arguments.over, "INPUT=FROM:TO[:STEPS[:log]]");
  options.optional("--figure", arguments.figure,
                   "the option with the least of this figure leads, whatever the budgets say");
  options.only(arguments.only);
}

void declare_sensitivity(Options& options, SensitivityArguments& arguments) {
  options.study(arguments.study);
  options.optional("--option", arguments.option, "option in place of the leader");
  options.only(arguments.only);
  options.whole("--samples", arguments.samples, 64, 1048576, "base samples for each input");
  options.seed(arguments.seed);
}

}  // namespace

Verb sweep_verb();
Verb sweep_verb() {
  return make_verb<SweepArguments>(
      "sweep", "a figure of each option over one or two inputs, and who leads where",
      "portweigh sweep studies/flow-meter.toml --over clock_rate=1MHz:64MHz:13:log "
      "--over duty_cycle=0.001:1:31:log",
      declare_sweep, run_sweep);
}

Verb crossover_verb();
Verb crossover_verb() {
  return make_verb<CrossoverArguments>(
      "crossover", "values of an input at which the leading option changes",
      "portweigh crossover studies/flow-meter.toml --over duty_cycle=0.0001:1:2:log", declare_crossover,
      run_crossover);
}

Verb sensitivity_verb();
Verb sensitivity_verb() {
  return make_verb<SensitivityArguments>("sensitivity", "what drives each figure and the ranking",
                                         "portweigh sensitivity studies/flow-meter.toml", declare_sensitivity,
                                         run_sensitivity);
}

}  // namespace portweigh::cli

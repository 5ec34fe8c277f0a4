// The verbs sweep, crossover and sensitivity: what happens when inputs move.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <ostream>

#include "cli/session.hpp"
#include "decision/ranking.hpp"
#include "exploration/structure.hpp"
#include "reading/diagnostic.hpp"
#include "reading/suggest.hpp"
#include "report/exploration_text.hpp"
#include "study/figure_names.hpp"

namespace portweigh::cli {
namespace {

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

exploration::Axis read_axis(const std::string& text, const std::vector<exploration::KnownInput>& known) {
  try {
    return exploration::parse_axis(text, known);
  } catch (const exploration::AxisError& error) {
    throw reading::InputError(reading::Diagnostic{"--over", 0, 0, error.what(), ""});
  }
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

// One structural input: the options are rebuilt for each value, and leaders matched by name.
exploration::LeadAt structural_lead(const Session& session, const std::string& input, unsigned threads,
                                    std::vector<std::string>& names) {
  return [&session, input, threads, &names](const std::vector<double>& values) {
    std::vector<exploration::Lead> leads;
    for (const double value : values) {
      const study::Study study = exploration::with_structure(session.study, input, value);
      const options::Considered considered =
          options::consider({session.catalog, session.effort, study, *session.library}, threads);
      const exploration::Field field(considered.options, study, "active_power");
      const auto at = field.at({}, 1);
      const std::string name = leader_name(considered.options, at.leader.front());
      auto found = std::find(names.begin(), names.end(), name);
      if (found == names.end()) found = names.insert(names.end(), name);
      leads.push_back({static_cast<Eigen::Index>(found - names.begin()), 2});
    }
    return leads;
  };
}

}  // namespace

int run_sweep(const SweepArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const unsigned threads = thread_count(arguments.common);
  check_figure(arguments.figure);
  const options::Considered considered = options::consider(session->context(), threads);
  const auto known = known_inputs(considered.options);
  std::vector<exploration::Axis> axes;
  for (const std::string& text : arguments.over) axes.push_back(read_axis(text, known));
  exploration::Sweep result;
  try {
    result = exploration::sweep(session->context(), axes, arguments.figure, threads);
  } catch (const exploration::AxisError& error) {
    throw reading::InputError(reading::Diagnostic{"--over", 0, 0, error.what(), ""});
  }
  if (arguments.common.format == Format::json) {
    out << report::sweep_json(result).dump(2) << "\n";
  } else {
    out << report::winner_map_text(result, known) << "\n" << report::sweep_csv(result);
  }
  return 0;
}

int run_crossover(const CrossoverArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const unsigned threads = thread_count(arguments.common);
  const options::Considered considered = options::consider(session->context(), threads);
  const auto known = known_inputs(considered.options);
  const exploration::Axis axis = read_axis(arguments.over, known);
  std::vector<report::NamedCrossover> named;
  const figures::Unit unit = unit_of(axis.input, known);
  if (exploration::is_structural(axis.input)) {
    // Rebuilding is dear, and whole numbers have no values in between: the given steps are what is searched.
    std::vector<std::string> names;
    const auto values = axis.values();
    const auto leads = structural_lead(*session, axis.input, threads, names)(values);
    for (std::size_t i = 0; i + 1 < values.size(); ++i) {
      if (leads[i].leader == leads[i + 1].leader) continue;
      named.push_back({axis.input, unit, values[i], values[i + 1],
                       names[static_cast<std::size_t>(leads[i].leader)],
                       names[static_cast<std::size_t>(leads[i + 1].leader)]});
    }
  } else {
    const exploration::Field field(considered.options, session->study, "active_power");
    for (const auto& crossover :
         exploration::find_crossovers(axis, exploration::lead_along(field, axis.input))) {
      named.push_back({axis.input, unit, crossover.below, crossover.above,
                       leader_name(considered.options, crossover.leader_below),
                       leader_name(considered.options, crossover.leader_above)});
    }
  }
  if (arguments.common.format == Format::json) {
    out << report::crossover_json(named, axis).dump(2) << "\n";
  } else {
    out << report::crossover_text(named, axis);
  }
  return 0;
}

int run_sensitivity(const SensitivityArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const unsigned threads = thread_count(arguments.common);
  const options::Considered considered = options::consider(session->context(), threads);
  const auto known = known_inputs(considered.options);
  const decision::Ranking ranking =
      decision::rank(considered.options, session->study, {1024, arguments.seed, threads});
  if (ranking.ranked.empty()) {
    throw reading::InputError(reading::Diagnostic{
        arguments.study.string(), 0, 0, "no option can be built, so nothing drives a figure; see rank", ""});
  }
  const options::Option& leader = arguments.option.empty() ? considered.options[ranking.ranked.front().option]
                                                           : find_option(considered, arguments.option);
  report::Sensitivity result;
  result.option = leader.id;
  std::vector<std::string> keys;
  for (const study::Budget& budget : session->study.budgets) {
    if (std::find(keys.begin(), keys.end(), budget.figure) == keys.end()) keys.push_back(budget.figure);
  }
  for (const std::string& key : keys) {
    const auto figure = leader.ledger.find(key);
    if (!figure) continue;
    result.figures.push_back(
        {key, exploration::figure_drivers(leader.ledger, *figure, arguments.samples, arguments.seed),
         leader.ledger.name_of(figure->index())->unit});
  }
  const exploration::Field field(considered.options, session->study, "active_power");
  for (const exploration::Flip& flip : exploration::find_flips(considered.options, field)) {
    result.flips.push_back(
        {flip, unit_of(flip.input, known), leader_name(considered.options, flip.new_leader)});
  }
  if (arguments.common.format == Format::json) {
    out << report::sensitivity_json(result).dump(2) << "\n";
  } else {
    out << report::sensitivity_text(result);
  }
  return 0;
}

}  // namespace portweigh::cli

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <ostream>

#include "cli/session.hpp"
#include "figures/ledger/explain.hpp"
#include "reading/diagnostic.hpp"
#include "reading/suggest.hpp"
#include "report/places.hpp"
#include "report/saved/explain_json.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::cli {
namespace {

struct ExplainArguments {
  Common common;
  std::filesystem::path study;
  std::string option;
  std::string figure;
};

figures::Figure find_figure(const options::Option& option, const std::string& key) {
  if (const auto figure = option.ledger.find(key)) return *figure;
  std::vector<std::string> keys;
  for (const std::uint32_t node : option.ledger.named_nodes())
    keys.push_back(option.ledger.name_of(node)->key);
  throw reading::InputError(
      reading::Diagnostic{"--figure", 0, 0, reading::unknown_name_message("figure", key, keys), ""});
}

int run_explain(const ExplainArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const options::Considered considered = consider_options(*session, thread_count(arguments.common));
  const options::Option& option = find_option(considered, arguments.option);
  const figures::Explanation explanation =
      report::Places(arguments.common.catalog, arguments.study)
          .in(figures::explain(option.ledger, find_figure(option, arguments.figure)));
  if (arguments.common.format == Format::json) {
    out << report::explain_json(option, explanation).dump(2) << "\n";
    return 0;
  }
  out << fmt::format("{} of {}\n\n", arguments.figure, option.id) << figures::to_text(explanation) << "\n";
  for (const std::string& note : option.notes) out << report::wrap(note, 80, "  ");
  return 0;
}

void declare_explain(Options& options, ExplainArguments& arguments) {
  options.study(arguments.study);
  options.required("--option", arguments.option, "option, as named by rank");
  options.required("--figure", arguments.figure, "figure, see: portweigh list figures STUDY");
}

}  // namespace

Verb explain_verb();
Verb explain_verb() {
  return make_verb<ExplainArguments>(
      "explain", "the derivation of a figure, down to its sources",
      "portweigh explain studies/flow-meter.toml --option pl-flash-d --figure active_power", declare_explain,
      run_explain);
}

}  // namespace portweigh::cli

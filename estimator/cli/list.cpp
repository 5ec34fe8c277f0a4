#include <fmt/core.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "blocks/registry.hpp"
#include "cli/session.hpp"
#include "figures/units/format_quantity.hpp"
#include "reading/diagnostic.hpp"
#include "report/terminal/block_list.hpp"
#include "report/terminal/list_report.hpp"

namespace portweigh::cli {
namespace {

struct ListArguments {
  Common common;
  std::string what;  // parts, blocks, cores, inputs, figures
  std::filesystem::path study;
};

report::Listing list_parts(const parts::Catalog& catalog) {
  report::Listing listing{"parts", {"id", "kind", "summary"}, {}};
  for (const auto& part : catalog.programmable_logic) {
    listing.rows.push_back({part.part.id, "programmable-logic", part.part.summary});
  }
  for (const auto& part : catalog.microcontrollers) {
    listing.rows.push_back({part.part.id, "microcontroller", part.part.summary});
  }
  for (const auto& part : catalog.fixed_functions) {
    listing.rows.push_back({part.part.id, "fixed-function", part.part.summary});
  }
  for (const auto& part : catalog.external_parts) listing.rows.push_back({part.id, "external", part.summary});
  return listing;
}

report::Listing list_cores(const parts::Catalog& catalog) {
  report::Listing listing{"cores", {"name", "bits", "summary"}, {}};
  for (const auto& [name, core] : catalog.cores) {
    listing.rows.push_back({name, fmt::format("{:.0f}", core.word_bits), core.text});
  }
  return listing;
}

// With the width as a number, which a listing holds as text.
nlohmann::ordered_json cores_json(const parts::Catalog& catalog) {
  nlohmann::ordered_json json = report::listing_json(list_cores(catalog));
  for (auto& core : json["cores"]) core["bits"] = std::stoi(core["bits"].get<std::string>());
  return json;
}

// Inputs or figures of all options of the study, each named once.
report::Listing list_of_study(const ListArguments& arguments) {
  if (arguments.study.empty()) {
    throw reading::InputError(reading::Diagnostic{
        "list " + arguments.what, 0, 0, "no study given, expected: list " + arguments.what + " STUDY", ""});
  }
  const auto session = open_session(arguments.common, arguments.study);
  const options::Considered considered = consider_options(*session, thread_count(arguments.common));
  return arguments.what == "inputs" ? report::list_inputs(considered.options)
                                    : report::list_figures(considered.options);
}

int run_list(const ListArguments& arguments, std::ostream& out) {
  const bool as_json = arguments.common.format == Format::json;
  if (arguments.what == "blocks") {
    out << (as_json ? report::block_list_json(blocks::kinds()).dump(2) + "\n"
                    : report::block_list_text(blocks::kinds()));
    return 0;
  }
  if (arguments.what == "cores" && as_json) {
    out << cores_json(parts::read_catalog(arguments.common.catalog)).dump(2) << "\n";
    return 0;
  }
  report::Listing listing;
  if (arguments.what == "parts") {
    listing = list_parts(parts::read_catalog(arguments.common.catalog));
  } else if (arguments.what == "cores") {
    listing = list_cores(parts::read_catalog(arguments.common.catalog));
  } else {
    listing = list_of_study(arguments);
  }
  out << (as_json ? report::listing_json(listing).dump(2) + "\n" : report::listing_text(listing));
  return 0;
}

void declare_list(Options& options, ListArguments& arguments) {
  options.required_choice("WHAT", arguments.what, {"parts", "blocks", "cores", "inputs", "figures"},
                          "parts, blocks, cores, inputs or figures");
  options.optional("STUDY", arguments.study, "study file, for inputs and figures");
}

}  // namespace

Verb list_verb();
Verb list_verb() {
  return make_verb<ListArguments>("list", "what there is to name: parts, blocks, cores, inputs, figures",
                                  "portweigh list inputs studies/flow-meter.toml", declare_list, run_list);
}

}  // namespace portweigh::cli

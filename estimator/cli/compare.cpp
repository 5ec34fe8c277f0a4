// The verb compare: what moved between two saved runs and why.
#include <fmt/core.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <ostream>
#include <sstream>

#include "cli/verb.hpp"
#include "figures/ledger/export.hpp"
#include "reading/atomic_file.hpp"
#include "reading/diagnostic.hpp"
#include "report/saved/compare_runs.hpp"

namespace portweigh::cli {
namespace {

struct CompareArguments {
  Common common;
  std::filesystem::path before;
  std::filesystem::path after;
  std::filesystem::path output;  // .html; empty: print
};

report::SavedRun read_run(const std::filesystem::path& path) {
  if (!std::filesystem::exists(path)) {
    throw reading::InputError(reading::Diagnostic{
        path.string(), 0, 0, "no such file, expected a run saved by: report STUDY --output FILE.json", ""});
  }
  std::ifstream file(path, std::ios::binary);
  if (!file) throw reading::FileError(fmt::format("{}: cannot be read", path.string()));
  std::ostringstream text;
  text << file.rdbuf();
  try {
    return report::read_saved_run(nlohmann::ordered_json::parse(text.str()));
  } catch (const nlohmann::json::exception& error) {
    throw reading::InputError(reading::Diagnostic{
        path.string(), 1, 1,
        fmt::format("is no JSON ({}), expected a run saved by: report STUDY --output FILE.json",
                    error.what()),
        ""});
  } catch (const figures::ImportError& error) {
    throw reading::InputError(reading::Diagnostic{
        path.string(), 1, 1,
        fmt::format("{}, expected a run saved by: report STUDY --output FILE.json", error.what()), ""});
  }
}

int run_compare(const CompareArguments& arguments, std::ostream& out) {
  if (!arguments.output.empty() && arguments.output.extension() != ".html") {
    throw reading::InputError(reading::Diagnostic{
        "--output", 0, 0, fmt::format("\"{}\" does not end in .html", arguments.output.string()), ""});
  }
  const report::SavedRun before = read_run(arguments.before);
  const report::SavedRun after = read_run(arguments.after);
  const report::RunComparison comparison = report::compare_runs(before, after);
  if (!arguments.output.empty()) {
    reading::write_file_atomically(arguments.output, report::comparison_html(comparison));
    out << "Written: " << arguments.output.string() << "\n";
  } else if (arguments.common.format == Format::json) {
    out << report::comparison_json(comparison).dump(2) << "\n";
  } else {
    out << report::comparison_text(comparison);
  }
  return 0;
}

void declare_compare(Options& options, CompareArguments& arguments) {
  options.required("RUN_A", arguments.before, "saved run (report --output FILE.json)");
  options.required("RUN_B", arguments.after, "saved run to compare with it");
  options.optional("--output", arguments.output, "HTML file to write instead of printing");
}

}  // namespace

Verb compare_verb();
Verb compare_verb() {
  return make_verb<CompareArguments>("compare", "what moved between two saved runs and why",
                                     "portweigh compare before.json after.json --output changes.html",
                                     declare_compare, run_compare);
}

}  // namespace portweigh::cli

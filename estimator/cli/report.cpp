// The verb report: the document for management, in the format that the file's ending names.
#include <fmt/core.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/session.hpp"
#include "reading/atomic_file.hpp"
#include "reading/diagnostic.hpp"
#include "report/document/html.hpp"
#include "report/document/report_formats.hpp"

namespace portweigh::cli {
namespace {

struct ReportArguments {
  Common common;
  std::filesystem::path study;
  std::filesystem::path output;  // .html, .md, .csv or .json
  bool require_fit = false;
  unsigned samples = 4096;
  std::uint64_t seed = 1;
};

std::string render(const report::Document& document, const std::filesystem::path& output) {
  const std::string ending = output.extension().string();
  if (ending == ".html") return report::report_html(document);
  if (ending == ".md") return report::report_markdown(document);
  if (ending == ".csv") return report::report_csv(document);
  return report::report_json(document).dump() + "\n";
}

void check_ending(const std::filesystem::path& output) {
  const std::string ending = output.extension().string();
  for (const std::string_view known : {".html", ".md", ".csv", ".json"}) {
    if (ending == known) return;
  }
  throw reading::InputError(reading::Diagnostic{
      "--output", 0, 0,
      fmt::format("\"{}\" ends in \"{}\", expected .html, .md, .csv or .json", output.string(), ending), ""});
}

int run_report(const ReportArguments& arguments, std::ostream& out) {
  check_ending(arguments.output);
  const auto session = open_session(arguments.common, arguments.study);
  const report::Run run = ranked_run(*session, arguments.common, arguments.samples, arguments.seed);
  const report::Document document = report::make_document(run);
  reading::write_file_atomically(arguments.output, render(document, arguments.output));
  for (const std::string& sentence : document.recommendation) out << sentence << "\n";
  out << "Written: " << arguments.output.string() << "\n";
  return exit_code(run, arguments.require_fit);
}

void declare_report(Options& options, ReportArguments& arguments) {
  options.study(arguments.study);
  options.required("--output", arguments.output, "file to write: .html, .md, .csv or .json");
  options.require_fit(arguments.require_fit);
  options.samples(arguments.samples, arguments.seed);
}

}  // namespace

Verb report_verb();
Verb report_verb() {
  return make_verb<ReportArguments>(
      "report", "the document for management: one file to read, print and try inputs in",
      "portweigh report studies/flow-meter.toml --output report.html", declare_report, run_report);
}

}  // namespace portweigh::cli

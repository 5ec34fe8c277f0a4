#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/session.hpp"
#include "exploration/calibration.hpp"
#include "report/places.hpp"
#include "report/terminal/calibration_text.hpp"

namespace portweigh::cli {
namespace {

struct CalibrateArguments {
  Common common;
  std::filesystem::path measured;
};

int run_calibrate(const CalibrateArguments& arguments, std::ostream& out) {
  const parts::Catalog catalog = parts::read_catalog(arguments.common.catalog);
  const parts::Effort effort = parts::read_effort(arguments.common.catalog / "effort.toml");
  const exploration::Measured measured = exploration::read_measured(arguments.measured, catalog);
  options::BlockLibrary library(catalog.cores);
  const report::Places places(arguments.common.catalog, arguments.measured);
  const exploration::Calibration calibration =
      places.in(exploration::calibrate(measured, catalog, effort, library, thread_count(arguments.common)));
  if (arguments.common.format == Format::json) {
    out << report::calibration_json(calibration).dump(2) << "\n";
  } else {
    out << report::calibration_text(calibration, measured.name);
  }
  return 0;
}

void declare_calibrate(Options& options, CalibrateArguments& arguments) {
  options.required("MEASURED", arguments.measured, "file of measured results (TOML)");
}

}  // namespace

Verb calibrate_verb();
Verb calibrate_verb() {
  return make_verb<CalibrateArguments>(
      "calibrate", "refits ranges and coefficients to results of synthesis, compilers and the bench",
      "portweigh calibrate studies/measured/first-boards.toml", declare_calibrate, run_calibrate);
}

}  // namespace portweigh::cli

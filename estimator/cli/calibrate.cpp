#include <ostream>

#include "cli/session.hpp"
#include "exploration/calibration.hpp"
#include "report/calibration_text.hpp"
#include "report/places.hpp"

namespace portweigh::cli {

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

}  // namespace portweigh::cli

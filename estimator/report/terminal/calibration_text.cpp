#include "report/terminal/calibration_text.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "figures/units/format_quantity.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::report {
namespace {

using exploration::ClassFit;
using exploration::CoefficientFit;
using exploration::FittedRange;
using nlohmann::ordered_json;

constexpr int columns = 80;

bool is_of_logic(const ClassFit& fit) {
  return fit.counted == "LUTs";
}

// Outwards to whole steps; the small shift keeps 0.85 / 0.05 from becoming 16.999...
FittedRange rounded(const ClassFit& fit) {
  const double steps = is_of_logic(fit) ? 20 : 100;
  return {std::floor(fit.after.low * steps + 1e-9) / steps, std::round(fit.after.centre * steps) / steps,
          std::ceil(fit.after.high * steps - 1e-9) / steps};
}

std::ptrdiff_t inside_count(const ClassFit& fit) {
  return std::count_if(fit.observations.begin(), fit.observations.end(),
                       [](const auto& one) { return one.is_inside; });
}

// A basic string of TOML is one of JSON.
std::string quoted(const std::string& text) {
  return ordered_json(text).dump();
}

std::string lines_for_catalog(const ClassFit& fit, const std::string& name) {
  const FittedRange range = rounded(fit);
  const std::string source =
      quoted(fmt::format("{} measured in {}, leaning on the range before, {:.2f} to {:.2f}",
                         fit.observations.size(), name, fit.before.low, fit.before.high));
  if (is_of_logic(fit)) {
    return fmt::format("  [luts.{}]\n  low_factor = {:.2f}\n  high_factor = {:.2f}\n  source = {}\n",
                       fit.name, range.low, range.high, source);
  }
  return fmt::format("  [compiler.{}]\n  low = {:.2f}\n  typical = {:.2f}\n  high = {:.2f}\n  source = {}\n",
                     fit.counted == "cycles" ? "cycles" : "bytes", range.low, range.centre, range.high,
                     source);
}

// The catalog has no place for a middle of LUTs, so where it went has to be said.
std::string centre_text(const ClassFit& fit) {
  constexpr double far = 0.25;
  if (!is_of_logic(fit)) return "";
  std::string text = "The estimate of LUTs stays; only its range moves.";
  if (std::abs(fit.after.centre - 1) > far) {
    text += fmt::format(
        " A centre of {:.2f} is far from 1: your real designs of this class are {} than "
        "estimated, about {:.2f} times as large, and typical values don't show it.",
        fit.after.centre, fit.after.centre > 1 ? "larger" : "smaller", fit.after.centre);
  }
  return wrap(text, columns, "  ");
}

std::string class_text(const ClassFit& fit, const std::string& name) {
  std::string text =
      fmt::format("{}, {}: {} measured, {} inside {:.2f}..{:.2f} of the estimate\n", fit.name, fit.counted,
                  fit.observations.size(), inside_count(fit), fit.before.low, fit.before.high);
  TextTable rows({{"estimate"}, {"measured"}, {"ratio"}, {"inside", Align::left}, {"block", Align::left}});
  for (const auto& one : fit.observations) {
    rows.add_row({fmt::format("{:.0f}", one.estimate), fmt::format("{:.0f}", one.measured),
                  fmt::format("{:.2f}", one.measured / one.estimate), one.is_inside ? "yes" : "no",
                  one.what});
  }
  text += rows.to_text(columns);
  text += wrap(fmt::format("refitted: {:.2f}..{:.2f}, centre {:.2f}; for {}", fit.after.low, fit.after.high,
                           fit.after.centre, fit.place.file),
               columns, "  ");
  return text + centre_text(fit) + lines_for_catalog(fit, name);
}

std::string coefficient_text(const CoefficientFit& fit) {
  const auto& measured = fit.measured;
  const auto shown = [&](double value) { return figures::format_quantity(value, measured.unit); };
  const auto input = [&](double value) { return figures::format_quantity(value, fit.input_unit); };
  std::string text =
      fmt::format("{} of {} in {}: {} measured, {} by the estimate\n", measured.figure, measured.option,
                  measured.study, shown(measured.value_si), shown(fit.figure_before));
  std::string line = fmt::format("{} = {} ({} .. {})", measured.input, input(fit.input_before),
                                 input(fit.input_range.low), input(fit.input_range.high));
  if (!fit.fitted) {
    line += ": no value from a twentieth to twenty times of it gives what was measured";
  } else {
    const bool is_inside = *fit.fitted >= fit.input_range.low && *fit.fitted <= fit.input_range.high;
    line += fmt::format(" would have to be {}, {} its range", input(*fit.fitted),
                        is_inside ? "inside" : "outside");
  }
  text += wrap("  " + line, columns, "    ");
  return text + fmt::format("    <- {}\n", figures::place_of(fit.place));
}

ordered_json range_json(const FittedRange& range) {
  return {{"low", range.low}, {"centre", range.centre}, {"high", range.high}};
}

ordered_json place_json(const figures::Source& place) {
  return {{"file", place.file}, {"line", place.line}, {"column", place.column}};
}

}  // namespace

std::string calibration_text(const exploration::Calibration& calibration, const std::string& name) {
  std::string text;
  for (const ClassFit& fit : calibration.classes) text += class_text(fit, name) + "\n";
  for (const CoefficientFit& fit : calibration.coefficients) text += coefficient_text(fit) + "\n";
  return text +
         "Nothing was written: put the lines that you trust into your catalog. One bench figure\n"
         "can't tell which of several inputs is off; the named one is only the suspect.\n";
}

ordered_json calibration_json(const exploration::Calibration& calibration) {
  ordered_json classes = ordered_json::array();
  for (const ClassFit& fit : calibration.classes) {
    ordered_json observations = ordered_json::array();
    for (const auto& one : fit.observations) {
      observations.push_back({{"what", one.what},
                              {"estimate", one.estimate},
                              {"measured", one.measured},
                              {"inside", one.is_inside}});
    }
    classes.push_back({{"class", fit.name},
                       {"counted", fit.counted},
                       {"before", range_json(fit.before)},
                       {"after", range_json(fit.after)},
                       {"catalog_file", fit.place.file},
                       {"observations", std::move(observations)}});
  }
  ordered_json coefficients = ordered_json::array();
  for (const CoefficientFit& fit : calibration.coefficients) {
    ordered_json one = {{"study", fit.measured.study},   {"option", fit.measured.option},
                        {"figure", fit.measured.figure}, {"measured", fit.measured.value_si},
                        {"estimate", fit.figure_before}, {"input", fit.measured.input},
                        {"before", fit.input_before},    {"after", nullptr},
                        {"place", place_json(fit.place)}};
    if (fit.fitted) one["after"] = *fit.fitted;
    coefficients.push_back(std::move(one));
  }
  return {{"classes", std::move(classes)}, {"coefficients", std::move(coefficients)}};
}

}  // namespace portweigh::report

#include "exploration/calibration.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <boost/math/tools/toms748_solve.hpp>
#include <cmath>
#include <map>

#include "decision/clock_settings.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "reading/suggest.hpp"

namespace portweigh::exploration {
namespace {

using figures::Setting;

constexpr double catalog_weight = 3;
constexpr std::string_view counted_luts = "LUTs";

[[noreturn]] void refuse(const figures::Source& source, std::string message) {
  throw reading::InputError(
      reading::Diagnostic{source.file, source.line, source.column, std::move(message), ""});
}

// Collects observations by class, in the order in which the classes are first met.
class Classes {
 public:
  ClassFit& at(const std::string& name, const std::string& counted, const FittedRange& before,
               const figures::Source& place) {
    const auto found = std::find_if(fits_.begin(), fits_.end(), [&](const ClassFit& fit) {
      return fit.name == name && fit.counted == counted;
    });
    if (found != fits_.end()) return *found;
    return fits_.emplace_back(ClassFit{name, counted, {}, before, before, place});
  }

  std::vector<ClassFit> fitted() && {
    for (ClassFit& fit : fits_) {
      std::vector<double> logarithms;
      for (const Observation& one : fit.observations) {
        logarithms.push_back(std::log(one.measured / one.estimate));
      }
      fit.after = lean_on(logarithms, fit.before);
      // The estimate of LUTs itself stays inside its range.
      if (fit.counted == counted_luts) {
        fit.after.low = std::min(fit.after.low, 0.95);
        fit.after.high = std::max(fit.after.high, 1.05);
      }
    }
    return std::move(fits_);
  }

 private:
  std::vector<ClassFit> fits_;
};

void observe(ClassFit& fit, const std::string& what, double estimate, double measured) {
  const double ratio = measured / estimate;
  fit.observations.push_back({what, estimate, measured, ratio >= fit.before.low && ratio <= fit.before.high});
}

void add_logic(const MeasuredLogic& logic, const parts::Catalog& catalog, options::BlockLibrary& library,
               Classes& classes) {
  const std::string& wanted = logic.use.kind->spread_class;
  const auto own = catalog.lut_spreads.find(wanted);
  const auto& [name, spread] = own != catalog.lut_spreads.end() ? *own : *catalog.lut_spreads.find("default");
  const std::uint32_t luts = library.logic(logic.use, logic.traits).count.luts;
  if (luts == 0) refuse(logic.source, fmt::format("{} takes no LUT by the estimate", logic.use.kind->name));
  const FittedRange before{spread.low_factor, std::sqrt(spread.low_factor * spread.high_factor),
                           spread.high_factor};
  const std::string what =
      fmt::format("{}, {} inputs", options::describe(logic.use), logic.traits.lut_inputs);
  observe(classes.at(name, std::string(counted_luts), before, spread.source), what, luts, logic.luts);
}

const options::FirmwareFigures& method_of(const MeasuredFirmware& firmware,
                                          const std::vector<options::FirmwareFigures>& methods) {
  if (methods.empty()) {
    refuse(firmware.source,
           fmt::format("{} has no routine, expected a kind with one", firmware.use.kind->name));
  }
  if (firmware.method.empty()) return methods.front();
  std::vector<std::string> names;
  for (const options::FirmwareFigures& method : methods) {
    if (method.method == firmware.method) return method;
    names.push_back(method.method);
  }
  refuse(firmware.source, reading::unknown_name_message("method", firmware.method, names));
}

void add_firmware(const MeasuredFirmware& firmware, const parts::Catalog& catalog,
                  options::BlockLibrary& library, Classes& classes) {
  const firmware::Core& core = catalog.cores.at(firmware.core);
  const auto& method = method_of(firmware, library.firmware(firmware.use, firmware.core));
  const std::string what = fmt::format("{}, {}", options::describe(firmware.use), method.method);
  const figures::Source place{"", (catalog.folder / "cores" / (firmware.core + ".toml")).generic_string(), 0,
                              0};
  // The factor is that from the bare model to compiled code, so the estimate is without it.
  const auto add = [&](const std::string& counted, const firmware::CostRange& range,
                       const firmware::FactorRange& factor, const std::optional<double>& measured) {
    if (!measured || range.typical <= 0) return;
    const FittedRange before{factor.low, factor.typical, factor.high};
    observe(classes.at(firmware.core, counted, before, place), what, range.typical / factor.typical,
            *measured);
  };
  add("cycles", method.cost.cycles, core.compiler_cycles, firmware.cycles);
  add("code bytes", method.cost.code_bytes, core.compiler_bytes, firmware.code_bytes);
}

// The value at which the figure is the measured one, searched outwards from the typical value by factors.
std::optional<double> solve(const figures::Ledger& ledger, figures::Figure figure, const std::string& input,
                            double typical, double measured) {
  const auto off = [&](double logarithm) {
    const Setting setting{input, typical * std::exp(logarithm)};
    return figures::evaluate(ledger, figure, {&setting, 1}) - measured;
  };
  if (off(0.0) == 0.0) return typical;
  constexpr double widest = 3.0;  // a factor of 20
  for (double width = 0.1; width <= widest; width *= 1.5) {
    for (const double to : {width, -width}) {
      const double at_typical = off(0.0);
      const double at_end = off(to);
      if (!std::isfinite(at_end) || at_typical * at_end > 0.0) continue;
      std::uintmax_t steps = 100;
      const boost::math::tools::eps_tolerance<double> tolerance(45);
      const auto [below, above] =
          to > 0 ? boost::math::tools::toms748_solve(off, 0.0, to, at_typical, at_end, tolerance, steps)
                 : boost::math::tools::toms748_solve(off, to, 0.0, at_end, at_typical, tolerance, steps);
      return typical * std::exp((below + above) / 2);
    }
  }
  return std::nullopt;
}

std::string unknown_option(const std::string& id, const std::vector<std::string>& ids,
                           const options::Considered& considered) {
  for (const options::Rejection& rejection : considered.rejections) {
    if (rejection.id == id) return fmt::format("option \"{}\" was rejected: {}", id, rejection.reason);
  }
  const auto nearest = reading::nearest_name(id, ids);
  return fmt::format("unknown option \"{}\", expected one of those that `rank --all` names{}", id,
                     nearest ? fmt::format("; nearest: \"{}\"", *nearest) : "");
}

CoefficientFit fit_coefficient(const MeasuredFigure& measured, const options::Considered& considered) {
  std::vector<std::string> ids;
  const options::Option* option = nullptr;
  for (const options::Option& one : considered.options) {
    ids.push_back(one.id);
    if (one.id == measured.option) option = &one;
  }
  if (option == nullptr) refuse(measured.source, unknown_option(measured.option, ids, considered));
  const figures::Ledger& ledger = option->ledger;
  const auto figure = ledger.find(measured.figure);
  if (!figure) {
    refuse(measured.source, fmt::format("option {} has no figure {}", measured.option, measured.figure));
  }
  std::vector<std::string> keys;
  for (const figures::Input& input : ledger.inputs()) {
    keys.push_back(input.key);
    if (input.key != measured.input) continue;
    CoefficientFit fit{measured,
                       figures::evaluate(ledger, *figure),
                       input.range.typical,
                       input.range,
                       std::nullopt,
                       input.unit,
                       input.source};
    if (input.range.typical > 0) {
      fit.fitted = solve(ledger, *figure, input.key, input.range.typical, measured.value_si);
    }
    return fit;
  }
  const auto nearest = reading::nearest_name(measured.input, keys);
  refuse(measured.source,
         fmt::format("unknown input \"{}\" of option {}, expected one of those that `list inputs` names{}",
                     measured.input, measured.option,
                     nearest ? fmt::format("; nearest: \"{}\"", *nearest) : ""));
}

// Deviations to either side that nine in ten further designs need after so many observations.
double nine_in_ten(std::size_t observations) {
  return 1.645 * std::sqrt(1 + 1 / (static_cast<double>(observations) + catalog_weight));
}

}  // namespace

FittedRange lean_on(std::span<const double> logarithms, const FittedRange& before) {
  const double deviation_before = (std::log(before.high) - std::log(before.low)) / (2 * nine_in_ten(0));
  const double weight = static_cast<double>(logarithms.size()) + catalog_weight;
  double sum = catalog_weight * std::log(before.centre);
  for (const double x : logarithms) sum += x;
  const double centre = sum / weight;
  double squares = catalog_weight * deviation_before * deviation_before;
  for (const double x : logarithms) squares += (x - centre) * (x - centre);
  const double deviation = std::sqrt(squares / weight);
  const double reach = nine_in_ten(logarithms.size()) * deviation;
  const double low = std::exp(centre - reach);
  const double high = std::exp(centre + reach);
  return {std::min(low, 0.95 * std::exp(centre)), std::exp(centre), std::max(high, 1.05 * std::exp(centre))};
}

Calibration calibrate(const Measured& measured, const parts::Catalog& catalog, const parts::Effort& effort,
                      options::BlockLibrary& library, unsigned threads) {
  Calibration result;
  Classes classes;
  for (const MeasuredLogic& logic : measured.logic) add_logic(logic, catalog, library, classes);
  for (const MeasuredFirmware& firmware : measured.firmware)
    add_firmware(firmware, catalog, library, classes);
  result.classes = std::move(classes).fitted();
  std::map<std::string, options::Considered> considered;
  for (const MeasuredFigure& figure : measured.figures) {
    const auto [entry, is_new] = considered.try_emplace(figure.study);
    if (is_new) {
      decision::Sampling sampling;
      sampling.threads = threads;
      entry->second = decision::consider_best_settings(
          {catalog, effort, measured.studies.at(figure.study), library}, sampling);
    }
    result.coefficients.push_back(fit_coefficient(figure, entry->second));
  }
  return result;
}

}  // namespace portweigh::exploration

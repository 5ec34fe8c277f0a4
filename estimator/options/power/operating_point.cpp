#include "options/power/operating_point.hpp"

#include <fmt/core.h>

#include "figures/units/format_quantity.hpp"

namespace portweigh::options {

using figures::Figure;

std::size_t points_of(const parts::Microcontroller& part) {
  return 1 + part.operating_points.size();
}

bool reaches(const parts::Microcontroller& part, std::size_t point, double clock_hz) {
  constexpr double rounding = 1e-9;
  return point == 0 || clock_hz <= part.operating_points[point - 1].highest_clock.value_si * (1 + rounding);
}

PointCurrents currents_at(const parts::Microcontroller& part, std::size_t point, double supply_v) {
  if (point == 0) {
    return {part.run_current_per_clock.range.typical, part.sleep_current_per_clock.range.typical, 0};
  }
  const parts::OperatingPoint& at = part.operating_points[point - 1];
  const double ratio = at.regulator_efficiency
                           ? at.voltage.range.typical / (at.regulator_efficiency->range.typical * supply_v)
                           : 1;
  return {at.run_current_per_clock.range.typical * ratio, at.sleep_current_per_clock.range.typical * ratio,
          at.regulator_current ? at.regulator_current->range.typical : 0};
}

PointFigures point_figures(Draft& draft, const parts::Microcontroller& part, std::size_t point) {
  const std::string& id = part.part.id;
  const std::string prefix =
      point == 0 ? fmt::format("parts.{}", id) : fmt::format("parts.{}.operating_point_{}", id, point);
  const auto input = [&](std::string_view field, std::string_view label, const parts::SourcedRange& range) {
    return draft.input(fmt::format("{}.{}", prefix, field), label, range, fmt::format("process of {}", id));
  };
  const std::string at_voltage =
      point == 0 ? ""
                 : " at " + figures::format_quantity(part.operating_points[point - 1].voltage.range.typical,
                                                     figures::dimensions::voltage);
  const auto run_of = [&](const parts::SourcedRange& range) {
    return input("run_current_per_clock", "running current for each clock" + at_voltage, range);
  };
  const auto sleep_of = [&](const parts::SourcedRange& range) {
    return input("sleep_current_per_clock", "sleeping current for each clock" + at_voltage, range);
  };
  if (point == 0) return {run_of(part.run_current_per_clock), sleep_of(part.sleep_current_per_clock), {}};
  const parts::OperatingPoint& at = part.operating_points[point - 1];
  PointFigures figures{run_of(at.run_current_per_clock), sleep_of(at.sleep_current_per_clock), {}};
  if (at.regulator_efficiency) {
    const Figure supply = draft.input("study.supply_voltage", "supply of the port's silicon",
                                      draft.context.study.supply_voltage);
    const Figure ratio = input("voltage", "core voltage", at.voltage) /
                         (supply * input("regulator_efficiency", "efficiency of the core's regulator",
                                         *at.regulator_efficiency));
    figures.run_a_per_hz = figures.run_a_per_hz * ratio;
    figures.sleep_a_per_hz = figures.sleep_a_per_hz * ratio;
  }
  if (at.regulator_current) {
    figures.added_a =
        input("regulator_current", "quiescent current of the core's regulator", *at.regulator_current);
  }
  return figures;
}

}  // namespace portweigh::options

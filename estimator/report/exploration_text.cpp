#include "report/exploration_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "figures/format_quantity.hpp"
#include "report/text_table.hpp"

namespace portweigh::report {
namespace {

using exploration::Sweep;
using exploration::SweepPoint;
using nlohmann::ordered_json;

constexpr std::size_t most_drivers = 6;
constexpr std::size_t most_flips = 12;
// Less than this share of the value of knowing everything is noise of the samples.
constexpr double least_information = 0.005;

figures::Unit unit_of(const std::string& input, const std::vector<exploration::KnownInput>& inputs) {
  for (const auto& known : inputs) {
    if (known.key == input) return known.unit;
  }
  return figures::parse_unit("1");
}

std::string leader_of(const Sweep& sweep, const SweepPoint& point) {
  return point.leader ? sweep.options[*point.leader] : "none";
}

// Options that lead somewhere, in the order in which they first do, each with a letter.
std::map<std::string, char> letters_of(const Sweep& sweep) {
  std::map<std::string, char> letters;
  char next = 'A';
  for (const SweepPoint& point : sweep.points) {
    if (!point.leader || letters.contains(leader_of(sweep, point))) continue;
    letters.emplace(leader_of(sweep, point), next);
    next = next == 'Z' ? 'a' : static_cast<char>(next + 1);
  }
  return letters;
}

std::string one_way_text(const Sweep& sweep, const figures::Unit& unit) {
  TextTable rows({{sweep.axes[0].input}, {"leads", Align::left}, {sweep.figure}, {"feasible"}});
  for (const SweepPoint& point : sweep.points) {
    std::size_t feasible = 0;
    for (const auto& option : point.options) feasible += option.is_feasible ? 1 : 0;
    const exploration::SweptOption leading =
        point.leader ? point.options[*point.leader] : exploration::SweptOption{};
    rows.add_row({figures::format_quantity(point.inputs[0], unit), leader_of(sweep, point),
                  leading.value.has_value() ? fmt::format("{:.4g}", leading.value.value()) : "-",
                  fmt::format("{}", feasible)});
  }
  return rows.to_text();
}

std::string two_way_text(const Sweep& sweep, const figures::Unit& down, const figures::Unit& across) {
  const auto letters = letters_of(sweep);
  const auto columns = sweep.axes[1].values();
  const auto rows = sweep.axes[0].values();
  std::string text = fmt::format("down: {}; across: {} from {} to {}\n\n", sweep.axes[0].input,
                                 sweep.axes[1].input, figures::format_quantity(columns.front(), across),
                                 figures::format_quantity(columns.back(), across));
  TextTable map({{""}, {"", Align::left}});
  for (std::size_t r = rows.size(); r-- > 0;) {
    std::string line;
    for (std::size_t c = 0; c < columns.size(); ++c) {
      const SweepPoint& point = sweep.points[r * columns.size() + c];
      line += point.leader ? letters.at(leader_of(sweep, point)) : '.';
    }
    map.add_row({figures::format_quantity(rows[r], down), line});
  }
  text += map.to_text() + "\n";
  std::vector<std::pair<char, std::string>> legend;
  for (const auto& [id, letter] : letters) legend.emplace_back(letter, id);
  std::sort(legend.begin(), legend.end());
  for (const auto& [letter, id] : legend) text += fmt::format("  {}  {}\n", letter, id);
  return text + "  .  no option is feasible\n";
}

ordered_json index_json(const exploration::Index& index) {
  return {{"value", index.value}, {"low", index.low}, {"high", index.high}};
}

std::string information_text(const decision::Information& information) {
  std::string text = "\nWhat it is worth to know an input before choosing, in margin\n";
  TextTable rows({{"  input", Align::left}, {"worth"}, {"share"}});
  for (const auto& known : information.inputs) {
    const double share = information.everything > 0 ? known.value / information.everything : 0;
    if (share < least_information || rows.size() == most_drivers) break;
    rows.add_row(
        {"  " + known.input.name, fmt::format("{:.4f}", known.value), fmt::format("{:.0f} %", 100 * share)});
  }
  text +=
      rows.size() == 0 ? "  no single input is worth knowing: the choice stays the same\n" : rows.to_text();
  return text + fmt::format("  everything: {:.4f}; the best choice without it is worth {:.4f}\n",
                            information.everything, information.expected_worth);
}

}  // namespace

std::string winner_map_text(const Sweep& sweep, const std::vector<exploration::KnownInput>& inputs) {
  const figures::Unit first = unit_of(sweep.axes[0].input, inputs);
  return sweep.axes.size() == 1 ? one_way_text(sweep, first)
                                : two_way_text(sweep, first, unit_of(sweep.axes[1].input, inputs));
}

std::string csv_cell(std::string_view text) {
  std::string cell(text);
  // A minus before a digit is a number, not a formula.
  const bool is_number =
      cell.size() > 1 && cell[0] == '-' && std::isdigit(static_cast<unsigned char>(cell[1])) != 0;
  if (!cell.empty() && std::string_view("=+-@\t\r").find(cell[0]) != std::string_view::npos && !is_number) {
    cell.insert(cell.begin(), '\'');
  }
  if (cell.find_first_of(",\"\r\n") == std::string::npos) return cell;
  std::string quoted = "\"";
  for (const char c : cell) quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
  return quoted + "\"";
}

std::string sweep_csv(const Sweep& sweep) {
  std::vector<std::string> cells;
  for (const auto& axis : sweep.axes) cells.push_back(csv_cell(axis.input));
  cells.emplace_back("leader");
  for (const std::string& id : sweep.options) {
    cells.push_back(csv_cell(fmt::format("{} {}", id, sweep.figure)));
    cells.push_back(csv_cell(fmt::format("{} feasible", id)));
  }
  std::string text = fmt::format("{}\r\n", fmt::join(cells, ","));
  for (const SweepPoint& point : sweep.points) {
    cells.clear();
    for (const double input : point.inputs) cells.push_back(fmt::format("{}", input));
    cells.push_back(csv_cell(leader_of(sweep, point)));
    for (const auto& option : point.options) {
      cells.push_back(option.value ? fmt::format("{}", *option.value) : "");
      cells.emplace_back(option.value ? (option.is_feasible ? "1" : "0") : "");
    }
    text += fmt::format("{}\r\n", fmt::join(cells, ","));
  }
  return text;
}

ordered_json sweep_json(const Sweep& sweep) {
  ordered_json axes = ordered_json::array();
  for (const auto& axis : sweep.axes) axes.push_back({{"input", axis.input}, {"values", axis.values()}});
  ordered_json points = ordered_json::array();
  for (const SweepPoint& point : sweep.points) {
    ordered_json values = ordered_json::array();
    ordered_json feasible = ordered_json::array();
    for (const auto& option : point.options) {
      values.push_back(option.value ? ordered_json(*option.value) : ordered_json(nullptr));
      feasible.push_back(option.is_feasible);
    }
    points.push_back(
        {{"inputs", point.inputs},
         {"leader", point.leader ? ordered_json(sweep.options[*point.leader]) : ordered_json(nullptr)},
         {"values", std::move(values)},
         {"feasible", std::move(feasible)}});
  }
  return {{"figure", sweep.figure},
          {"axes", std::move(axes)},
          {"options", sweep.options},
          {"points", std::move(points)}};
}

std::string crossover_text(const std::vector<NamedCrossover>& crossovers, const exploration::Axis& axis) {
  if (crossovers.empty())
    return fmt::format("The leader does not change over this range of {}.\n", axis.input);
  TextTable rows({{axis.input}, {"below", Align::left}, {"above", Align::left}});
  for (const NamedCrossover& crossover : crossovers) {
    constexpr int digits = 5;
    rows.add_row({figures::format_quantity(crossover.above, crossover.unit, digits), crossover.leader_below,
                  crossover.leader_above});
  }
  return rows.to_text();
}

ordered_json crossover_json(const std::vector<NamedCrossover>& crossovers, const exploration::Axis& axis) {
  ordered_json all = ordered_json::array();
  for (const NamedCrossover& crossover : crossovers) {
    all.push_back({{"input", crossover.input},
                   {"below", crossover.below},
                   {"above", crossover.above},
                   {"leader_below", crossover.leader_below},
                   {"leader_above", crossover.leader_above}});
  }
  return {{"input", axis.input}, {"from", axis.from}, {"to", axis.to}, {"crossovers", std::move(all)}};
}

std::string sensitivity_text(const Sensitivity& sensitivity) {
  std::string text = fmt::format(
      "What drives the figures of {}: share of the variance, alone and with others\n", sensitivity.option);
  for (const Sensitivity::Figure& figure : sensitivity.figures) {
    const auto& drivers = figure.drivers;
    figures::Unit difference = figure.unit;
    difference.offset = 0;
    text += fmt::format("\n{}: mean {}, standard deviation {}\n", figure.key,
                        figures::format_quantity(drivers.mean, figure.unit),
                        figures::format_quantity(std::sqrt(drivers.variance), difference));
    TextTable rows({{"  input", Align::left}, {"alone"}, {"with others"}, {"95 %", Align::left}});
    for (std::size_t i = 0; i < std::min(drivers.drivers.size(), most_drivers); ++i) {
      const auto& driver = drivers.drivers[i];
      rows.add_row({"  " + driver.coordinate, fmt::format("{:.2f}", driver.first.value),
                    fmt::format("{:.2f}", driver.total.value),
                    fmt::format("{:.2f}..{:.2f}", driver.total.low, driver.total.high)});
    }
    text += rows.to_text();
  }
  text += "\nSmallest change of one input that makes another option lead\n";
  if (sensitivity.flips.empty()) {
    return text + "  none within a factor of ten\n" + information_text(sensitivity.information);
  }
  TextTable rows({{"  input", Align::left}, {"typical"}, {"leader changes at"}, {"by"}, {"to", Align::left}});
  for (std::size_t i = 0; i < std::min(sensitivity.flips.size(), most_flips); ++i) {
    const NamedFlip& named = sensitivity.flips[i];
    rows.add_row(
        {"  " + named.flip.input, figures::format_quantity(named.flip.typical, named.unit),
         figures::format_quantity(named.flip.value, named.unit),
         fmt::format("{:+.0f} %{}", 100 * named.flip.relative, named.flip.is_within_range ? " *" : ""),
         named.new_leader});
  }
  return text + rows.to_text() + "  * within the input's low..high range\n" +
         information_text(sensitivity.information);
}

ordered_json sensitivity_json(const Sensitivity& sensitivity) {
  ordered_json figures = ordered_json::array();
  for (const Sensitivity::Figure& figure : sensitivity.figures) {
    ordered_json drivers = ordered_json::array();
    for (const auto& driver : figure.drivers.drivers) {
      drivers.push_back({{"coordinate", driver.coordinate},
                         {"inputs", driver.inputs},
                         {"first", index_json(driver.first)},
                         {"total", index_json(driver.total)}});
    }
    figures.push_back({{"figure", figure.key},
                       {"mean", figure.drivers.mean},
                       {"variance", figure.drivers.variance},
                       {"drivers", std::move(drivers)}});
  }
  ordered_json flips = ordered_json::array();
  for (const NamedFlip& named : sensitivity.flips) {
    flips.push_back({{"input", named.flip.input},
                     {"typical", named.flip.typical},
                     {"value", named.flip.value},
                     {"relative", named.flip.relative},
                     {"within_range", named.flip.is_within_range},
                     {"new_leader", named.new_leader}});
  }
  ordered_json inputs = ordered_json::array();
  for (const auto& known : sensitivity.information.inputs) {
    inputs.push_back(
        {{"coordinate", known.input.name}, {"inputs", known.input.inputs}, {"value", known.value}});
  }
  return {{"option", sensitivity.option},
          {"figures", std::move(figures)},
          {"flips", std::move(flips)},
          {"information",
           {{"expected_worth", sensitivity.information.expected_worth},
            {"everything", sensitivity.information.everything},
            {"inputs", std::move(inputs)}}}};
}

}  // namespace portweigh::report

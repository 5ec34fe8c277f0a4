#include "report/terminal/exploration_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "figures/units/format_quantity.hpp"
#include "report/number_words.hpp"
#include "report/terminal/flip_text.hpp"
#include "report/terminal/text_table.hpp"
#include "study/figure_names.hpp"

namespace portweigh::report {
namespace {

using exploration::Sweep;
using exploration::SweepPoint;
using nlohmann::ordered_json;

constexpr int columns = 80;
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

figures::Unit unit_of_figure(const std::string& figure, const std::string& currency) {
  const study::FigureName* known = study::find_figure(figure);
  if (known == nullptr) return figures::parse_unit("1");
  return figures::parse_unit(known->unit == "money" ? currency : known->unit);
}

std::string heading(const Sweep& sweep) {
  return wrap(fmt::format(
                  "Who leads: the largest weighted margin among the options that keep every hard budget "
                  "at typical inputs. Figure shown: {} of the leader.",
                  sweep.figure),
              columns, "  ") +
         "\n";
}

std::string one_way_text(const Sweep& sweep, const figures::Unit& unit, const figures::Unit& figure) {
  TextTable rows({{sweep.axes[0].input}, {sweep.figure}, {"feasible"}, {"leads", Align::left}});
  for (const SweepPoint& point : sweep.points) {
    std::size_t feasible = 0;
    for (const auto& option : point.options) feasible += option.is_feasible ? 1 : 0;
    const exploration::SweptOption leading =
        point.leader ? point.options[*point.leader] : exploration::SweptOption{};
    rows.add_row({figures::format_quantity(point.inputs[0], unit),
                  leading.value ? figures::format_quantity(*leading.value, figure) : "-",
                  fmt::format("{} of {}", feasible, point.options.size()), leader_of(sweep, point)});
  }
  return rows.to_text(columns);
}

// Least and largest value of the figure where each option leads.
std::map<std::string, std::pair<double, double>> values_of_leaders(const Sweep& sweep) {
  std::map<std::string, std::pair<double, double>> values;
  for (const SweepPoint& point : sweep.points) {
    if (!point.leader || !point.options[*point.leader].value) continue;
    const double value = *point.options[*point.leader].value;
    const auto [found, is_new] = values.try_emplace(leader_of(sweep, point), value, value);
    found->second = {std::min(found->second.first, value), std::max(found->second.second, value)};
  }
  return values;
}

std::string legend(const Sweep& sweep, const figures::Unit& figure) {
  const auto values = values_of_leaders(sweep);
  std::vector<std::pair<char, std::string>> entries;
  for (const auto& [id, letter] : letters_of(sweep)) entries.emplace_back(letter, id);
  std::sort(entries.begin(), entries.end());
  std::string text;
  for (const auto& [letter, id] : entries) {
    std::string line = fmt::format("{}  {}", letter, id);
    if (const auto found = values.find(id); found != values.end()) {
      line +=
          fmt::format(": {} {} .. {}", sweep.figure, figures::format_quantity(found->second.first, figure),
                      figures::format_quantity(found->second.second, figure));
    }
    text += wrap(line, columns, "     ");
  }
  return text + ".  no option is feasible\n";
}

std::string two_way_text(const Sweep& sweep, const figures::Unit& down, const figures::Unit& across,
                         const figures::Unit& figure) {
  const auto letters = letters_of(sweep);
  const auto values_across = sweep.axes[1].values();
  const auto rows = sweep.axes[0].values();
  std::string text = fmt::format("down: {}; across: {} from {} to {}\n\n", sweep.axes[0].input,
                                 sweep.axes[1].input, figures::format_quantity(values_across.front(), across),
                                 figures::format_quantity(values_across.back(), across));
  TextTable map({{""}, {"", Align::left}});
  for (std::size_t r = rows.size(); r-- > 0;) {
    std::string line;
    for (std::size_t c = 0; c < values_across.size(); ++c) {
      const SweepPoint& point = sweep.points[r * values_across.size() + c];
      line += point.leader ? letters.at(leader_of(sweep, point)) : '.';
    }
    map.add_row({figures::format_quantity(rows[r], down), line});
  }
  // The map's columns have no titles.
  text += map.to_text().substr(1) + "\n";
  std::vector<std::string> names;
  for (const double value : values_across) names.push_back(figures::format_quantity(value, across));
  text += wrap(fmt::format("columns from the left, {}: {}", sweep.axes[1].input, fmt::join(names, ", ")),
               columns, "  ");
  return text + "\n" + legend(sweep, figure);
}

// In twelve digits, so that 298.15 K are 25 degC and not 24.999999999999943.
std::string number_in(double value_si, const figures::Unit& unit) {
  return fmt::format("{:.12g}", figures::from_si(value_si, unit));
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
  text += rows.size() == 0 ? "  no single input is worth knowing: the choice stays the same\n"
                           : rows.to_text(columns);
  return text + fmt::format("  everything: {:.4f}; the best choice without it is worth {:.4f}\n",
                            information.everything, information.expected_worth);
}

}  // namespace

std::string winner_map_text(const Sweep& sweep, const std::vector<exploration::KnownInput>& inputs,
                            const std::string& currency) {
  const figures::Unit first = unit_of(sweep.axes[0].input, inputs);
  const figures::Unit figure = unit_of_figure(sweep.figure, currency);
  return heading(sweep) + (sweep.axes.size() == 1
                               ? one_way_text(sweep, first, figure)
                               : two_way_text(sweep, first, unit_of(sweep.axes[1].input, inputs), figure));
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

std::string sweep_csv(const Sweep& sweep, const std::vector<exploration::KnownInput>& inputs,
                      const std::string& currency) {
  const figures::Unit figure = unit_of_figure(sweep.figure, currency);
  std::vector<figures::Unit> units;
  std::vector<std::string> cells;
  for (const auto& axis : sweep.axes) {
    units.push_back(unit_of(axis.input, inputs));
    cells.push_back(csv_cell(fmt::format("{} [{}]", axis.input, units.back().text)));
  }
  cells.emplace_back("option");
  cells.push_back(csv_cell(fmt::format("{} [{}]", sweep.figure, figure.text)));
  cells.insert(cells.end(), {"feasible", "leads"});
  std::string text = fmt::format("{}\r\n", fmt::join(cells, ","));
  for (const SweepPoint& point : sweep.points) {
    std::string place;
    for (std::size_t i = 0; i < units.size(); ++i) place += number_in(point.inputs[i], units[i]) + ",";
    for (std::size_t i = 0; i < point.options.size(); ++i) {
      const exploration::SweptOption& option = point.options[i];
      text += fmt::format("{}{},{},{},{}\r\n", place, csv_cell(sweep.options[i]),
                          option.value ? number_in(*option.value, figure) : "",
                          option.value ? (option.is_feasible ? "1" : "0") : "", point.leader == i ? 1 : 0);
    }
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
  return rows.to_text(columns);
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
      rows.add_row({"  " + driver.coordinate, fixed(driver.first.value, 2), fixed(driver.total.value, 2),
                    fixed(driver.total.low, 2) + ".." + fixed(driver.total.high, 2)});
    }
    text += rows.to_text(columns);
  }
  text += "\nSmallest change of one input that makes another option lead\n";
  if (sensitivity.flips.empty()) {
    return text + "  none within a factor of ten\n" + information_text(sensitivity.information);
  }
  TextTable rows({{"  input", Align::left}, {"typical"}, {"leader changes at"}, {"by"}, {"to", Align::left}});
  for (std::size_t i = 0; i < std::min(sensitivity.flips.size(), most_flips); ++i) {
    const NamedFlip& named = sensitivity.flips[i];
    rows.add_row({"  " + named.flip.input, figures::format_quantity(named.flip.typical, named.unit),
                  figures::format_quantity(named.flip.value, named.unit),
                  change_text(named.flip) + (named.flip.is_within_range ? " *" : ""), named.new_leader});
  }
  return text + rows.to_text(columns) + "  * within the input's low..high range\n" +
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
                     {"change", named.flip.value - named.flip.typical},
                     {"unit", figures::to_string(named.unit.dimension)},
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

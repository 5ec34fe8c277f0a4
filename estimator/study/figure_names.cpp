#include "study/figure_names.hpp"

#include <algorithm>

namespace portweigh::study {

const std::vector<FigureName>& known_figures() {
  namespace dims = figures::dimensions;
  static const std::vector<FigureName> figures = {
      {"logic_cells", "1", "logic cells", dims::dimensionless},
      {"clock_rate", "Hz", "clock rate", dims::frequency},
      {"active_power", "W", "active power", dims::power},
      {"average_power", "W", "average power", dims::power},
      {"standby_power", "W", "standby power", dims::power},
      {"energy_per_day", "J", "energy a day", dims::energy},
      {"battery_life", "d", "battery life", dims::time},
      {"standby_loss_per_day", "%", "battery lost a day with nothing attached", dims::dimensionless},
      {"unit_cost", "money", "unit cost", dims::money},
      {"cost_per_unit_over_life", "money", "cost for each unit over its life", dims::money},
      {"one_time_cost", "money", "one-time cost", dims::money},
      {"change_cost", "money", "expected cost of change", dims::money},
      {"change_cost_worst", "money", "cost of change, mean of the worst 5 %", dims::money},
      {"net_present_cost", "money", "net present cost of all units", dims::money},
      {"effort", "h", "engineering effort", dims::time},
      {"development_time", "d", "development time", dims::time},
      {"reaction_time", "d", "longest time to follow a revision", dims::time},
      {"junction_temperature", "degC", "junction temperature", dims::temperature},
      {"board_area", "mm2", "board area", dims::area},
      {"lead_time", "d", "longest lead time of its parts", dims::time},
      {"single_sourced_parts", "1", "main parts without a second source", dims::dimensionless},
      {"availability_shortfall", "year", "production beyond the promised supply", dims::time}};
  return figures;
}

const FigureName* find_figure(std::string_view name) {
  const auto& all = known_figures();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const FigureName& figure) { return figure.name == name; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace portweigh::study

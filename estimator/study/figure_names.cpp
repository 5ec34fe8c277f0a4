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
      {"unit_cost", "money", "unit cost", dims::money},
      {"cost_per_unit_over_life", "money", "cost for each unit over its life", dims::money},
      {"one_time_cost", "money", "one-time cost", dims::money},
      {"junction_temperature", "degC", "junction temperature", dims::temperature},
      {"board_area", "mm2", "board area", dims::area},
      {"lead_time", "d", "longest lead time of its parts", dims::time}};
  return figures;
}

const FigureName* find_figure(std::string_view name) {
  const auto& all = known_figures();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const FigureName& figure) { return figure.name == name; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace portweigh::study

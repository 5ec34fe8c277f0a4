// The figures of the interface contract are known, with units that fit their dimensions.
#include "study/figure_names.hpp"

#include <catch2/catch.hpp>

#include "figures/units/unit.hpp"

namespace portweigh::study {
namespace {

TEST_CASE("the figures of the interface contract are known") {
  for (const char* name : {"logic_cells", "clock_rate", "active_power", "average_power", "standby_power",
                           "unit_cost", "cost_per_unit_over_life", "one_time_cost", "junction_temperature"}) {
    INFO(name);
    CHECK(find_figure(name) != nullptr);
  }
  CHECK(find_figure("activ_power") == nullptr);
}

TEST_CASE("the unit of a figure has its dimension") {
  for (const auto& figure : known_figures()) {
    INFO(figure.name);
    CHECK_FALSE(figure.label.empty());
    if (figure.unit == "money") {
      CHECK(figure.dimension == figures::dimensions::money);
    } else {
      CHECK(figures::parse_unit(figure.unit).dimension == figure.dimension);
    }
  }
}

}  // namespace
}  // namespace portweigh::study

#include "study/battery_reader.hpp"

#include <fmt/core.h>
#include <algorithm>

namespace portweigh::study {

using namespace reading;
namespace dims = figures::dimensions;

const Fields<Battery>& battery_fields() {
  using B = Battery;
  const auto share = QuantityRule(dims::dimensionless).between(0, 1);
  static const Fields<Battery> fields = {
      range("energy", &B::energy, QuantityRule(dims::energy).between(1e-3, 1e10), "Wh",
            "when full; either this, or capacity and voltage")
          .as_input("energy of the full battery"),
      range("capacity", &B::capacity, QuantityRule(dims::charge).between(1e-3, 1e8), "mAh",
            "charge when full, with voltage")
          .as_input("capacity of the battery"),
      range("voltage", &B::voltage, QuantityRule(dims::voltage).between(0.5, 1000), "V",
            "mean while it is emptied, with capacity")
          .as_input("voltage of the battery"),
      range("self_discharge", &B::self_discharge, share, "1",
            "share of the full charge that it loses in a year by itself")
          .as_input("share lost a year"),
      range("efficiency", &B::efficiency, QuantityRule(dims::dimensionless).between(0.05, 1), "1",
            "of the conversion from battery to the port's rail; absent: 1")
          .as_input("efficiency from battery to rail"),
      range("other_power", &B::other_power, QuantityRule(dims::power).between(0, 1e5), "mW",
            "what the rest of the product takes from the battery, mean; absent: none")
          .as_input("what the rest of the product takes")};
  return fields;
}

namespace {

void check_content(TableReader& root) {
  auto battery = root.optional_table("battery");
  if (!battery) return;
  const bool has_energy = battery->has("energy");
  const bool has_capacity = battery->has("capacity");
  const bool has_voltage = battery->has("voltage");
  if (has_energy && (has_capacity || has_voltage)) {
    battery->report("energy", "energy beside capacity or voltage, expected either energy, or both of these");
  } else if (!has_energy && !(has_capacity && has_voltage)) {
    battery->report("a battery without its energy, expected energy, or capacity and voltage");
  }
}

}  // namespace

void check_battery(TableReader& root, const Study& study) {
  check_content(root);
  auto budgets = root.optional_tables("budget");
  for (std::size_t i = 0; i < std::min(budgets.size(), study.budgets.size()); ++i) {
    const std::string& figure = study.budgets[i].figure;
    if (figure == "battery_life") {
      budgets[i].report("figure",
                        "a limit is an upper one and a longer battery_life is better, expected a limit on "
                        "average_power or standby_loss_per_day");
    } else if (figure == "standby_loss_per_day" && !study.battery) {
      budgets[i].report("figure",
                        fmt::format("{} in a study without a battery, expected a table [battery]", figure));
    }
  }
}

}  // namespace portweigh::study

#include "parts/effort.hpp"

#include <utility>

#include "reading/document.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

QuantityRule plain(double lower, double upper) {
  return QuantityRule(dims::dimensionless).between(lower, upper);
}

QuantityRule span_of_time() {
  constexpr double ten_years_s = 3.2e8;
  return QuantityRule(dims::time).between(0, ten_years_s);
}

// Of one block, on its engine.
Fields<Effort> block_effort_fields() {
  using E = Effort;
  return {choice("cocomo_model", &E::model,
                 {{"basic", CocomoModel::basic}, {"intermediate", CocomoModel::intermediate}},
                 "intermediate takes the cost drivers into account"),
          choice("cocomo_mode", &E::mode,
                 {{"organic", CocomoMode::organic},
                  {"semi-detached", CocomoMode::semi_detached},
                  {"embedded", CocomoMode::embedded}},
                 "how tight the constraints on the firmware are"),
          range("firmware_accuracy", &E::firmware_accuracy, plain(0.1, 10), "1",
                "actual effort of firmware by that of the model")
              .as_input("actual effort of firmware by the model's", "effort"),
          range("person_month", &E::person_month, span_of_time(), "h", "working time of a person-month")
              .as_input("working time of a person-month"),
          range("bytes_per_line", &E::bytes_per_line, plain(1, 100), "1", "code bytes of a source line")
              .as_input("code bytes of a source line"),
          range("logic_design_time_per_lut", &E::logic_design_time_per_lut, span_of_time(), "h",
                "design of one LUT of new logic, without verification")
              .as_input("design of a LUT of new logic", "effort"),
          range("verification_share", &E::verification_share, plain(0, 0.9), "1",
                "share of verification in all effort for logic")
              .as_input("share of verification in effort for logic"),
          range("fixed_function_time", &E::fixed_function_time, span_of_time(), "h",
                "configuration and bring-up of a fixed-function part")
              .as_input("configuration of a fixed-function part", "effort")};
}

// Of chips, boards and updates.
Fields<Effort> product_effort_fields() {
  using E = Effort;
  return {range("driver_time", &E::driver_time, span_of_time(), "h",
                "start-up, clocks and drivers of the peripherals of one processor")
              .as_input("drivers of a processor", "effort"),
          range("power_management_time", &E::power_management_time, span_of_time(), "h",
                "sleep modes and wake-ups of one chip that is programmed, measured on the board")
              .as_input("power management of a chip", "effort"),
          range("boot_loader_bytes", &E::boot_loader_bytes, plain(0, 1e6), "1",
                "code of a boot loader that takes a new image in the field")
              .as_input("code bytes of a boot loader"),
          range("update_path_time", &E::update_path_time, span_of_time(), "h",
                "how a new image gets into a product in use, and back if it fails")
              .as_input("update path into a chip", "effort"),
          range("production_test_time", &E::production_test_time, span_of_time(), "h",
                "test program and fixture for the units made")
              .as_input("production test", "effort"),
          range("integration_time", &E::integration_time, span_of_time(), "h",
                "board bring-up and system test of any option")
              .as_input("board bring-up and system test", "effort"),
          range("second_engine_time", &E::second_engine_time, span_of_time(), "h",
                "making a further engine work with the first")
              .as_input("making a further engine work with the first", "effort"),
          range("qualification_time", &E::qualification_time, span_of_time(), "h",
                "approving a main part that the company doesn't use yet")
              .as_input("approving a part new to the company", "effort"),
          range("reuse_share", &E::reuse_share, plain(0, 1), "1",
                "share of a block's effort left where the company has it already")
              .as_input("share of effort left for a block the company has"),
          range("rework_share", &E::rework_share, plain(0, 1), "1",
                "share of a block's effort that a revision touching it costs")
              .as_input("share of a block's effort that a revision costs", "effort"),
          range("team_size", &E::team_size, plain(0.1, 1000), "1", "engineers who can work on it at once")
              .as_input("engineers who can work on it at once"),
          range("field_update_time", &E::field_update_time, span_of_time(), "d",
                "from a tested change to units in use that have it")
              .as_input("until units in use have an update"),
          range("factory_update_time", &E::factory_update_time, span_of_time(), "d",
                "the same where units come back to the factory")
              .as_input("until units came back and are reworked"),
          range("board_turn_time", &E::board_turn_time, span_of_time(), "d",
                "layout, boards and approval of a new board or part")
              .as_input("new board, its approval")};
}

const Fields<Effort>& fields_of_effort() {
  static const Fields<Effort> fields = [] {
    Fields<Effort> all = block_effort_fields();
    for (auto& field : product_effort_fields()) all.push_back(std::move(field));
    return all;
  }();
  return fields;
}

// The published multipliers bound a driver; only names of the published table are accepted.
void read_drivers(TableReader& root, Effort& effort) {
  auto table = root.optional_table("cost_drivers");
  if (!table) return;
  if (effort.model == CocomoModel::basic) {
    root.report("cost_drivers",
                "cost drivers with the basic model, expected cocomo_model = \"intermediate\"");
  }
  for (const CocomoDriver& driver : cocomo_drivers()) {
    if (auto value = table->optional_range(driver.name, plain(driver.lowest, driver.highest))) {
      effort.cost_drivers.emplace(driver.name, std::move(*value));
    }
  }
  table->finish();
}

}  // namespace

std::vector<FieldInfo> effort_infos() {
  auto infos = infos_of(fields_of_effort());
  std::vector<FieldInfo> drivers;
  for (const CocomoDriver& driver : cocomo_drivers()) {
    drivers.push_back({driver.name, driver.meaning, Presence::optional, Multiplicity::one,
                       RangeShape{plain(driver.lowest, driver.highest), "1"}});
  }
  infos.push_back({"cost_drivers", "multipliers of the intermediate model; one not listed is nominal, 1",
                   Presence::optional, Multiplicity::one, TableShape{std::move(drivers)}});
  infos.push_back(
      {"summary", "one line for people", Presence::optional, Multiplicity::one, TextShape{Pattern::any}});
  return infos;
}

Effort read_effort(const std::filesystem::path& file) {
  auto document = Document::load(file);
  auto root = document.root();
  root.optional_string("source");
  root.optional_string("summary");
  Effort effort;
  read_record(root, fields_of_effort(), effort);
  read_drivers(root, effort);
  name_inputs(fields_of_effort(), effort, {"effort", "", ""});
  for (auto& [name, driver] : effort.cost_drivers) {
    driver.input = {"effort.cost_drivers." + name, "cost driver: " + name, ""};
  }
  root.finish();
  document.throw_if_errors();
  return effort;
}

}  // namespace portweigh::parts

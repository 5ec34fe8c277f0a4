#include "study/study_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "reading/suggest.hpp"
#include "study/assignment_reader.hpp"
#include "study/battery_reader.hpp"
#include "study/catalog_names.hpp"
#include "study/figure_names.hpp"
#include "study/study_checks.hpp"

namespace portweigh::study {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

const auto share = QuantityRule(dims::dimensionless).between(0, 1);

const Fields<PortState>& state_fields() {
  using S = PortState;
  static const Fields<PortState> fields = {
      text("name", &S::name, "unique in the study", Pattern::identifier),
      range("share", &S::share, share, "1", "share of the port's life").as_input("{}: share of time"),
      flag("attached", &S::is_attached, "a cable is attached", Presence::optional),
      flag("active", &S::is_active, "the state that the duty cycle scales; exactly one", Presence::optional),
      range("line_activity", &S::line_activity, share, "1",
            "share of the state's time in which the line carries bits")
          .as_input("{}: share of time the line is busy"),
      range("wake_ups", &S::wake_ups, QuantityRule(dims::frequency).between(0, 1e6), "Hz",
            "times a second that a sleeping processor is woken for anything but messages")
          .as_input("{}: wake-ups a second for anything but messages")};
  return fields;
}

const Fields<Assembly>& assembly_fields() {
  using A = Assembly;
  const auto size = QuantityRule(dims::length).between(0.05e-3, 0.2);
  static const Fields<Assembly> fields = {
      quantity("smallest_pitch", &A::smallest_pitch, size, "mm", "between lead centres"),
      quantity("largest_body", &A::largest_body, size, "mm", "longer side of a body"),
      quantity("largest_height", &A::largest_height, size, "mm", "above the board"),
      flag("allows_array", &A::allows_array, "balls or lands under the body can be soldered and inspected",
           Presence::optional),
      count("layers", &A::layers, 1, 40, "of the product's board; absent: as many as it takes",
            Presence::optional),
      range("thermal_coupling", &A::thermal_coupling, QuantityRule(dims::thermal_resistance).between(0, 1000),
            "K/W", "how much one chip warms for each watt of another; absent: not at all")
          .as_input("warming of one chip by another")};
  return fields;
}

const Fields<Host>& host_fields() {
  using H = Host;
  const auto energy = QuantityRule(dims::energy).between(0, 1);
  static const Fields<Host> fields = {
      text("core", &H::core, "core class of catalog/cores"),
      quantity("clock", &H::clock, QuantityRule(dims::frequency).between(1e3, 1e11), "MHz", "of its core"),
      range("energy_per_cycle", &H::energy_per_cycle, energy, "pJ", "for each added cycle, memory included")
          .as_input("host: energy of an added cycle"),
      range("wake_up_energy", &H::wake_up_energy, energy, "uJ", "to bring it out of sleep for one event")
          .as_input("host: energy of a wake-up"),
      range("free_load", &H::free_load, share, "1", "share of its time left for the port"),
      range("latency", &H::latency, QuantityRule(dims::time).between(0, 60), "us",
            "interrupt request to its handler, with its other work"),
      choice("interface", &H::interface, {{"i2c", "i2c"}, {"spi", "spi"}, {"uart", "uart"}},
             "bus to the port's silicon", Presence::optional)};
  return fields;
}

const Fields<ExcludedPart>& excluded_part_fields() {
  static const Fields<ExcludedPart> fields = {
      text("part", &ExcludedPart::part, "id of the part", Pattern::identifier),
      text("reason", &ExcludedPart::reason, "why the study leaves it out, as results tell it")};
  return fields;
}

Field<Study> excluded_parts_field() {
  auto read = [](TableReader& reader, Study& study) {
    for (auto& entry : excluded_part_readers(reader)) {
      read_record(entry, excluded_part_fields(), study.excluded_parts.emplace_back());
    }
  };
  return {{"excluded_parts", "parts not to look at, each with the reason", Presence::optional,
           Multiplicity::list, TableShape{infos_of(excluded_part_fields())}},
          std::move(read)};
}

// A table that may be missing and then keeps its record's defaults.
template <class Inner>
Field<Study> optional_table(std::string key, Inner Study::*member, const Fields<Inner>& fields,
                            std::string meaning) {
  auto read = [key, member, &fields](TableReader& reader, Study& study) {
    if (auto inner = reader.optional_table(key)) read_record(*inner, fields, study.*member);
  };
  return {{std::move(key), std::move(meaning), Presence::optional, Multiplicity::one,
           TableShape{infos_of(fields)}},
          std::move(read)};
}

Fields<Study> list_study_fields() {
  using S = Study;
  return {
      text("name", &S::name, "unique name", Pattern::identifier),
      text("summary", &S::summary, "one line for people"),
      text("currency", &S::currency, "code of the currency of all its money", Pattern::currency),
      remembered_source(&S::source),
      range("supply_voltage", &S::supply_voltage, QuantityRule(dims::voltage).between(0.5, 60), "V",
            "of the rail that the port's silicon runs from")
          .as_input("supply of the port's silicon"),
      range("ambient", &S::ambient, QuantityRule(dims::temperature).between(200, 450), "degC",
            "air around the part")
          .as_input("ambient temperature"),
      range("volume_per_year", &S::volume_per_year, QuantityRule(dims::dimensionless).between(1, 1e10), "1",
            "products made a year"),
      range("orders_per_year", &S::orders_per_year, QuantityRule(dims::dimensionless).between(0.1, 366), "1",
            "how often a part is ordered; prices are those of one order; absent: 4", Presence::optional),
      range("years", &S::years, QuantityRule(dims::dimensionless).between(0.1, 50), "1",
            "of production, as a plain number"),
      range("capacity_reserve", &S::capacity_reserve, QuantityRule(dims::dimensionless).between(0, 0.95), "1",
            "share of cells, flash and RAM to keep free for later")
          .as_input("share of capacity to keep free"),
      count("extra_pins", &S::extra_pins, 0, 1000, "pins wanted for the product's own use",
            Presence::optional),
      flag("second_image", &S::has_second_image,
           "a field update keeps the image before it until the new one works: twice the memory",
           Presence::optional),
      words("only_parts", &S::only_parts, "ids of the parts to look at; absent: the whole catalog",
            Presence::optional),
      excluded_parts_field(),
      assignment_field(),
      while_line_busy_field(),
      table("battery", &S::battery, battery_fields(), "what the product runs from, if it has one"),
      table("host", &S::host, host_fields(), "the product's own processor, if it may carry blocks"),
      tables("state", &S::states, state_fields(), "states of the port and their shares"),
      table("assembly", &S::assembly, assembly_fields(), "what the product's assembly can do"),
      tables("budget", &S::budgets, budget_fields(), "limits and wishes"),
      tables("revision", &S::revisions, revision_fields(), "changes of the standard that may come",
             Presence::optional),
      text("production_start", &S::production_start, "day of the first unit, such as 2026-07-01",
           Pattern::any, Presence::optional),
      table("money", &S::money, money_fields(), "prices of labour, board, production and change"),
      optional_table("life", &S::life, life_fields(), "how volume and prices move over the years"),
      optional_table("reuse", &S::reuse, reuse_fields(), "blocks and parts that the company has")};
}

const Fields<Study>& study_fields() {
  static const Fields<Study> fields = list_study_fields();
  return fields;
}

// The function's file: a path if it looks like one, otherwise a name of the catalog. Nothing after a mistake.
std::optional<std::filesystem::path> find_function(TableReader& root, const std::filesystem::path& study_file,
                                                   const std::filesystem::path& catalog_folder,
                                                   const CatalogNames& names) {
  const auto given = root.required_string("function");
  if (given.empty()) return std::nullopt;
  if (given.ends_with(".toml")) {
    auto path = (study_file.parent_path() / given).lexically_normal();
    if (std::filesystem::is_regular_file(path)) return path;
    root.report("function", fmt::format("no file {}, expected a function's path from the study's folder",
                                        path.generic_string()));
    return std::nullopt;
  }
  if (std::find(names.functions.begin(), names.functions.end(), given) == names.functions.end()) {
    root.report("function", unknown_name_message("port function", given, names.functions));
    return std::nullopt;
  }
  return catalog_folder / "functions" / (given + ".toml");
}

}  // namespace

std::vector<FieldInfo> study_infos() {
  auto infos = infos_of(study_fields());
  infos.insert(infos.begin() + 2,
               {"function", "name of a function in catalog/functions, or the path of a .toml file",
                Presence::required, Multiplicity::one, TextShape{}});
  for (auto& info : infos) {
    if (info.key != "budget") continue;
    auto& fields = std::get<TableShape>(info.shape).fields;
    fields.insert(fields.begin() + 1, {"limit", "at most this, in a unit of the figure", Presence::required,
                                       Multiplicity::one, AnyScalarShape{}});
  }
  return infos;
}

bool is_considered(const Study& study, const std::string& part) {
  const auto& only = study.only_parts;
  const auto& excluded = study.excluded_parts;
  return (only.empty() || std::find(only.begin(), only.end(), part) != only.end()) &&
         std::none_of(excluded.begin(), excluded.end(), [&](const auto& one) { return one.part == part; });
}

void name_inputs(Study& study) {
  name_inputs(study_fields(), study, {"study", "", ""});
  study.volume_per_year.input = {"volume_per_year", "units a year", ""};
  study.orders_per_year.input = {"orders_per_year", "orders of a part a year", ""};
  study.years.input = {"years", "years of production", ""};
  name_inputs(assembly_fields(), study.assembly, {"study", "", ""});
  name_inputs(money_fields(), study.money, {"study", "", ""});
  name_inputs(life_fields(), study.life, {"life", "", ""});
  for (std::size_t i = 0; i < study.life.volume_ramp.size(); ++i) {
    study.life.volume_ramp[i].input = {fmt::format("life.volume_ramp.year_{}", i + 1),
                                       fmt::format("share of the full volume in year {}", i + 1), ""};
  }
  if (study.battery) name_inputs(battery_fields(), *study.battery, {"study.battery", "", ""});
  if (study.host) name_inputs(host_fields(), *study.host, {"study.host", "", ""});
  for (PortState& state : study.states) {
    name_inputs(state_fields(), state, {"use." + state.name, state.name, ""});
    if (state.is_active) state.share.input = {"duty_cycle", "share of time in the active state", ""};
  }
  for (Revision& revision : study.revisions) {
    name_inputs(revision_fields(), revision, {"revision." + revision.name, revision.name, ""});
  }
}

Study read_study(const std::filesystem::path& file, const std::filesystem::path& catalog_folder) {
  auto document = Document::load(file);
  auto root = document.root();
  const auto names = names_in_catalog(catalog_folder);
  Study study;
  study.file = file;
  read_record(root, study_fields(), study);
  const auto function_file = find_function(root, file, catalog_folder, names);
  Diagnostics function_mistakes;
  bool has_function = false;
  if (function_file) {
    try {
      study.function = read_function(*function_file, catalog_folder);
      has_function = true;
    } catch (const InputError& error) {
      function_mistakes = error.diagnostics();
    }
  }
  check_study(root, study, names);
  check_battery(root, study);
  read_dates(root, study);
  name_inputs(study);
  if (has_function) {
    check_revision_groups(root, study, names);
    check_assignment(root, study);
    check_reuse(root, study, names);
  }
  document.throw_if_errors(function_mistakes);
  return study;
}

}  // namespace portweigh::study

#include "parts/programmable_logic_reader.hpp"

#include <fmt/core.h>

#include <cmath>

#include "parts/part_reader.hpp"

namespace portweigh::parts {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

const auto delay = QuantityRule(dims::time).between(1e-12, 1e-6);
const auto energy = QuantityRule(dims::energy).between(0, 1e-6);
const auto current = QuantityRule(dims::current).between(0, 1);

Fields<ProgrammableLogic> fabric_fields() {
  using P = ProgrammableLogic;
  return {
      count("cells", &P::cells, 16, 10'000'000, "logic cells, a LUT and a register each"),
      count("lut_inputs", &P::lut_inputs, 3, 8, "inputs of a LUT"),
      flag("carry_chain", &P::has_carry_chain, "adders take one cell a bit"),
      flag("register_control", &P::has_register_control,
           "registers have a clock enable and a synchronous reset"),
      count("ram_blocks", &P::ram_blocks, 0, 1'000'000, "RAM blocks"),
      count("ram_block_bits", &P::ram_block_bits, 0, 10'000'000, "bits of a RAM block"),
      count("smallest_ram_bits", &P::smallest_ram_bits, 0, 10'000'000,
            "memories smaller than this become registers"),
      range("fill_limit", &P::fill_limit, QuantityRule(dims::dimensionless).between(0, 1), "1",
            "share of the cells that can be used before routing fails")
          .as_input("share of cells that still routes"),
      range("clock_to_output", &P::clock_to_output, delay, "ns", "of a register")
          .as_input("clock to output", "speed of {}"),
      range("lut_delay", &P::lut_delay, delay, "ns", "through a LUT").as_input("LUT delay", "speed of {}"),
      range("routing_delay", &P::routing_delay, delay, "ns", "for each LUT level at moderate fill")
          .as_input("routing delay", "speed of {}"),
      range("setup", &P::setup, delay, "ns", "of a register").as_input("set-up", "speed of {}"),
      range("carry_delay", &P::carry_delay, delay, "ns", "for each bit of a carry chain")
          .as_input("carry delay", "speed of {}")};
}

Field<ProgrammableLogic> oscillator_dividers() {
  const auto rule = QuantityRule(dims::dimensionless).between(1, 1 << 20);
  auto read = [rule](TableReader& reader, ProgrammableLogic& device) {
    const auto given = reader.optional_quantities("oscillator_dividers", rule);
    if (!given.empty()) device.oscillator_dividers.clear();
    for (const SourcedQuantity& divider : given) device.oscillator_dividers.push_back(divider.value_si);
  };
  return {
      {"oscillator_dividers",
       "whole numbers that divide it for the clock of a soft processor, rising; absent: the powers of two from 1 to 128",
       Presence::optional, Multiplicity::list, QuantityShape{rule, "1"}},
      std::move(read)};
}

Fields<ProgrammableLogic> power_fields() {
  using P = ProgrammableLogic;
  return {
      range("core_voltage", &P::core_voltage, QuantityRule(dims::voltage).between(0.3, 6), "V",
            "of the fabric")
          .as_input("core voltage", "process of {}"),
      choice("core_supply", &P::core_supply,
             {{"internal-linear", CoreSupply::internal_linear}, {"external-rail", CoreSupply::external_rail}},
             "where the core voltage comes from"),
      range("leakage_current", &P::leakage_current, current, "uA", "of the core at 25 degC junction")
          .as_input("core leakage at 25 degC", "process of {}"),
      range("leakage_doubling", &P::leakage_doubling,
            QuantityRule(dims::temperature).between(3, 100).as_difference(), "K",
            "rise of junction temperature that doubles the leakage")
          .as_input("temperature step that doubles leakage", "process of {}"),
      range("toggle_energy", &P::toggle_energy, energy, "pJ",
            "for each toggle of a cell's output with its routing, at core voltage")
          .as_input("energy of a toggle", "process of {}"),
      range("clock_trunk_energy", &P::clock_trunk_energy, energy, "pJ",
            "for each clock cycle, the clock tree as a whole")
          .as_input("clock trunk energy", "process of {}"),
      range("clock_register_energy", &P::clock_register_energy, energy, "fJ",
            "for each clock cycle and clocked register")
          .as_input("clock energy of a register", "process of {}"),
      range("ram_access_energy", &P::ram_access_energy, energy, "pJ", "for each access of a RAM block")
          .as_input("energy of a RAM access", "process of {}"),
      range("bias_current", &P::bias_current, current, "uA",
            "from the supply: references, input and output banks, monitors")
          .as_input("bias and monitors", "process of {}"),
      range("pin_capacitance", &P::pin_capacitance, QuantityRule(dims::capacitance).between(0, 1e-9), "pF",
            "on each output pin, with a short trace")
          .as_input("load of an output pin", "process of {}"),
      range("oscillator_frequency", &P::oscillator_frequency, QuantityRule(dims::frequency).between(1e3, 1e9),
            "MHz", "of the built-in oscillator, where there is one"),
      range("oscillator_current", &P::oscillator_current, current, "uA", "of the built-in oscillator",
            Presence::optional)
          .as_input("oscillator", "process of {}"),
      oscillator_dividers(),
      range("standby_current", &P::standby_current, current, "uA",
            "clocks stopped, state kept; absent: leakage and bias")
          .as_input("standby, clocks stopped, at 25 degC", "process of {}"),
      range("wake_up", &P::wake_up, QuantityRule(dims::time).between(0, 1), "us",
            "from stopped clocks, state kept, to working; absent: clocks run while a cable is attached")
          .as_input("wake-up time", "process of {}"),
      choice(
          "configuration", &P::configuration,
          {{"non-volatile", Configuration::non_volatile}, {"external-flash", Configuration::external_flash}},
          "where the configuration is kept"),
      memory_size("configuration_size", &P::configuration_bytes,
                  "of an image: what a memory outside has to hold; absent: any will do", Presence::optional),
      range("configuration_time", &P::configuration_time, QuantityRule(dims::time).between(0, 60), "ms",
            "power-up to working"),
      range("configuration_energy", &P::configuration_energy, QuantityRule(dims::energy).between(0, 10), "mJ",
            "power-up to working"),
      count("comparators", &P::comparators, 0, 100, "built in", Presence::optional),
      range("comparator_current", &P::comparator_current, current, "uA", "each, while on", Presence::optional)
          .as_input("current of a comparator", "process of {}"),
      range("comparator_standby_current", &P::comparator_standby_current, current, "uA",
            "each, slow, with nothing attached; absent: as while on")
          .as_input("current of a slow comparator", "process of {}")};
}

void check_dividers(TableReader& reader, const ProgrammableLogic& device) {
  if (!reader.has("oscillator_dividers")) return;
  if (!device.oscillator_frequency) {
    reader.report("oscillator_dividers", "oscillator_dividers without oscillator_frequency, expected both");
  }
  const std::vector<double>& dividers = device.oscillator_dividers;
  for (std::size_t i = 0; i < dividers.size(); ++i) {
    if (dividers[i] != std::floor(dividers[i])) {
      reader.report("oscillator_dividers", i,
                    fmt::format("divider {}, expected a whole number", dividers[i]));
    }
    if (i == 0 || dividers[i] > dividers[i - 1]) continue;
    reader.report(
        "oscillator_dividers", i,
        fmt::format("divider {} follows {}, expected rising dividers", dividers[i], dividers[i - 1]));
  }
}

void check_programmable_logic(TableReader& reader, const ProgrammableLogic& device) {
  check_dividers(reader, device);
  if (device.oscillator_frequency && !reader.has("oscillator_current")) {
    reader.report("oscillator_frequency", "oscillator_frequency without oscillator_current, expected both");
  }
  if (device.comparators > 0 && !reader.has("comparator_current")) {
    reader.report("comparators", "comparators without comparator_current, expected both");
  }
  check_standby(reader, "comparator_standby_current", device.comparator_standby_current, "comparator_current",
                device.comparator_current);
  if (device.ram_blocks > 0 && device.ram_block_bits == 0) {
    reader.report("ram_block_bits",
                  fmt::format("{} RAM blocks of 0 bits, expected at least 1 bit", device.ram_blocks));
  }
  if (device.core_supply == CoreSupply::internal_linear &&
      device.core_voltage.range.typical > device.part.supply_voltage.range.typical) {
    reader.report("core_voltage",
                  fmt::format("core at {} V from a linear regulator on {} V, expected at most "
                              "the supply voltage",
                              device.core_voltage.range.typical, device.part.supply_voltage.range.typical));
  }
}

}  // namespace

const Fields<ProgrammableLogic>& programmable_logic_fields() {
  static const Fields<ProgrammableLogic> fields = [] {
    auto all = fabric_fields();
    for (auto& field : power_fields()) all.push_back(std::move(field));
    return all;
  }();
  return fields;
}

std::vector<FieldInfo> programmable_logic_infos() {
  auto infos = infos_of(part_fields());
  for (auto& info : infos_of(programmable_logic_fields())) infos.push_back(std::move(info));
  return infos;
}

void name_inputs(ProgrammableLogic& device) {
  name_inputs(device.part);
  const InputOwner owner = owner_of(device.part.id);
  name_inputs(programmable_logic_fields(), device, owner);
}

ProgrammableLogic read_programmable_logic(TableReader& reader, const ReadingContext& context) {
  ProgrammableLogic device;
  read_record(reader, part_fields(), device.part);
  read_record(reader, programmable_logic_fields(), device);
  check_part(reader, device.part, context);
  check_programmable_logic(reader, device);
  name_inputs(device);
  return device;
}

}  // namespace portweigh::parts

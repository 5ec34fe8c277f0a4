#include "parts/microcontroller_reader.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "figures/units/format_quantity.hpp"
#include "parts/part_reader.hpp"
#include "reading/suggest.hpp"

namespace portweigh::parts {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

constexpr std::int64_t most_peripherals = 100;

Field<Microcontroller> peripherals() {
  TableShape shape;
  for (const auto& [name, meaning] : known_peripherals()) {
    shape.fields.push_back(
        {name, meaning, Presence::optional, Multiplicity::one, IntegerShape{0, most_peripherals}});
  }
  auto read = [](TableReader& reader, Microcontroller& record) {
    auto inner = reader.required_table("peripherals");
    for (const auto& [name, meaning] : known_peripherals()) {
      const auto amount = inner.optional_integer(name, 0, most_peripherals);
      if (amount && *amount > 0) record.peripherals[name] = static_cast<unsigned>(*amount);
    }
  };
  return {
      {"peripherals", "how many of each peripheral", Presence::required, Multiplicity::one, std::move(shape)},
      std::move(read)};
}

const Fields<OperatingPoint>& operating_point_fields() {
  using P = OperatingPoint;
  const auto per_clock = QuantityRule(dims::current_per_frequency).between(0, 1e-8);
  static const Fields<OperatingPoint> fields = {
      range("voltage", &P::voltage, QuantityRule(dims::voltage).between(0.2, 10), "V", "of the core")
          .as_input("core voltage", "process of {}"),
      quantity("highest_clock", &P::highest_clock, QuantityRule(dims::frequency).between(1e3, 1e10), "MHz",
               "up to which the core works at this voltage"),
      range("run_current_per_clock", &P::run_current_per_clock, per_clock, "uA/MHz", "of the core")
          .as_input("running current for each clock at {}", "process of {}"),
      range("sleep_current_per_clock", &P::sleep_current_per_clock, per_clock, "uA/MHz",
            "of the core, stopped, peripherals clocked")
          .as_input("sleeping current for each clock at {}", "process of {}"),
      range("regulator_efficiency", &P::regulator_efficiency,
            QuantityRule(dims::dimensionless).between(0.01, 1), "1",
            "of a switching regulator; absent: a linear one")
          .as_input("efficiency of the core's regulator", "process of {}"),
      range("regulator_current", &P::regulator_current, QuantityRule(dims::current).between(0, 1), "uA",
            "that the core's regulator takes beside, clock running")
          .as_input("quiescent current of the core's regulator", "process of {}")};
  return fields;
}

void check_operating_points(TableReader& reader, const Microcontroller& device) {
  if (device.operating_points.empty()) return;
  auto readers = reader.required_tables("operating_point");
  for (std::size_t i = 0; i < device.operating_points.size(); ++i) {
    const OperatingPoint& point = device.operating_points[i];
    if (!device.clocks.empty() && point.highest_clock.value_si < device.clocks.front().value_si) {
      readers[i].report("highest_clock",
                        fmt::format("{} Hz is below the lowest clock, expected {} Hz at least",
                                    point.highest_clock.value_si, device.clocks.front().value_si));
    }
    if (i == 0) continue;
    const OperatingPoint& before = device.operating_points[i - 1];
    if (point.voltage.range.typical <= before.voltage.range.typical) {
      readers[i].report("voltage", fmt::format("{} V follows {} V, expected rising voltages",
                                               point.voltage.range.typical, before.voltage.range.typical));
    }
    if (point.highest_clock.value_si <= before.highest_clock.value_si) {
      readers[i].report("highest_clock",
                        fmt::format("{} Hz follows {} Hz, expected rising clocks",
                                    point.highest_clock.value_si, before.highest_clock.value_si));
    }
  }
}

void check_microcontroller(TableReader& reader, const Microcontroller& device,
                           const ReadingContext& context) {
  const auto& cores = context.core_classes;
  if (!device.core.empty() && std::find(cores.begin(), cores.end(), device.core) == cores.end()) {
    reader.report("core", unknown_name_message("core class", device.core, cores));
  }
  for (std::size_t i = 1; i < device.clocks.size(); ++i) {
    if (device.clocks[i].value_si > device.clocks[i - 1].value_si) continue;
    reader.report("clocks", i,
                  fmt::format("clock of {} Hz follows {} Hz, expected rising clocks",
                              device.clocks[i].value_si, device.clocks[i - 1].value_si));
  }
  if (reader.has("erase_page") &&
      (device.erase_page_bytes < 1 || device.erase_page_bytes > device.flash_bytes)) {
    reader.report("erase_page",
                  fmt::format("erase page of {} bytes, expected 1 byte to the {:.0f} bytes of flash",
                              device.erase_page_bytes, device.flash_bytes));
  }
  if (device.peripherals.contains("comparator") && !reader.has("comparator_current")) {
    reader.report("peripherals", "comparators without comparator_current, expected both");
  }
  check_standby(reader, "comparator_standby_current", device.comparator_standby_current, "comparator_current",
                device.comparator_current);
}

}  // namespace

const std::vector<std::pair<std::string, std::string>>& known_peripherals() {
  static const std::vector<std::pair<std::string, std::string>> all = {
      {"capture", "timer channels that latch the time of an edge"},
      {"compare-output", "timer channels that switch a pin at a time"},
      {"edge-interrupt", "pins that interrupt on an edge"},
      {"dma", "channels that move data without the core"},
      {"crc-unit", "units that compute a CRC of settable polynomial"},
      {"bit-serial-port", "ports that shift bits out or in at a set clock"},
      {"comparator", "analogue comparators"},
      {"reference", "adjustable references for the comparators"},
      {"i2c-target", "I2C targets in hardware"},
      {"i2c-controller", "I2C controllers in hardware"},
      {"spi-target", "SPI targets in hardware"},
      {"spi-controller", "SPI controllers in hardware"},
      {"uart", "asynchronous serial ports"},
      {"pulse-width", "pulse-width channels"}};
  return all;
}

const Fields<Microcontroller>& microcontroller_fields() {
  using M = Microcontroller;
  const auto per_clock = QuantityRule(dims::current_per_frequency).between(0, 1e-8);
  const auto current = QuantityRule(dims::current).between(0, 1);
  static const Fields<Microcontroller> fields = {
      text("core", &M::core, "core class of catalog/cores"),
      memory_size("flash", &M::flash_bytes, "program memory"),
      memory_size("erase_page", &M::erase_page_bytes,
                  "of the program memory: what is erased at once; absent: a byte", Presence::optional),
      memory_size("ram", &M::ram_bytes, "data memory"),
      quantities("clocks", &M::clocks, QuantityRule(dims::frequency).between(1e3, 1e10), "MHz",
                 "settings of its oscillator and dividers, rising"),
      number("clocks_per_cycle", &M::clocks_per_cycle, 1, 100,
             "oscillator clocks for each cycle of the core class", Presence::optional),
      range("run_current_per_clock", &M::run_current_per_clock, per_clock, "uA/MHz", "code from flash")
          .as_input("running current for each clock", "process of {}"),
      range("run_base_current", &M::run_base_current, current, "uA", "running, at any clock")
          .as_input("running current beside the clock's", "process of {}"),
      range("sleep_current_per_clock", &M::sleep_current_per_clock, per_clock, "uA/MHz",
            "core stopped, peripherals clocked")
          .as_input("sleeping current for each clock", "process of {}"),
      range("sleep_base_current", &M::sleep_base_current, current, "uA", "asleep, at any clock")
          .as_input("sleeping current beside the clock's", "process of {}"),
      range("stop_current", &M::stop_current, current, "uA", "at 25 degC, clocks stopped, memory kept")
          .as_input("stopped current at 25 degC", "process of {}"),
      range("stop_doubling", &M::stop_doubling,
            QuantityRule(dims::temperature).between(3, 100).as_difference(), "K",
            "rise of temperature that doubles the stop current")
          .as_input("temperature step that doubles it", "process of {}"),
      range("wake_up", &M::wake_up, QuantityRule(dims::time).between(0, 1), "us",
            "from stop to the first instruction")
          .as_input("wake-up time", "process of {}"),
      peripherals(),
      range("comparator_current", &M::comparator_current, current, "uA", "of each comparator while on",
            Presence::optional)
          .as_input("current of a comparator", "process of {}"),
      range("comparator_standby_current", &M::comparator_standby_current, current, "uA",
            "of each comparator, slow, with nothing attached; absent: as while on")
          .as_input("current of a slow comparator", "process of {}"),
      tables("operating_point", &M::operating_points, operating_point_fields(),
             "lower core voltages than at full speed, rising", Presence::optional)};
  return fields;
}

std::vector<FieldInfo> microcontroller_infos() {
  auto infos = infos_of(part_fields());
  for (auto& info : infos_of(microcontroller_fields())) infos.push_back(std::move(info));
  return infos;
}

void name_inputs(Microcontroller& device) {
  name_inputs(device.part);
  const InputOwner owner = owner_of(device.part.id);
  name_inputs(microcontroller_fields(), device, owner);
  for (std::size_t i = 0; i < device.operating_points.size(); ++i) {
    OperatingPoint& point = device.operating_points[i];
    name_inputs(operating_point_fields(), point,
                {fmt::format("{}.operating_point_{}", owner.key, i + 1),
                 figures::format_quantity(point.voltage.range.typical, dims::voltage), owner.part});
  }
}

Microcontroller read_microcontroller(TableReader& reader, const ReadingContext& context) {
  Microcontroller device;
  read_record(reader, part_fields(), device.part);
  read_record(reader, microcontroller_fields(), device);
  check_part(reader, device.part, context);
  check_microcontroller(reader, device, context);
  check_operating_points(reader, device);
  name_inputs(device);
  return device;
}

}  // namespace portweigh::parts

#include "part_texts_fixture.hpp"

#include <fmt/core.h>

#include <catch2/catch.hpp>

namespace portweigh::parts::texts {

std::string common() {
  return R"(id = "part"
summary = "a part"
family = "family"
source = "made up for the test"
upgrade = "field"
supply_voltage = { low = "3 V", typical = "3.3 V", high = "3.6 V" }
highest_junction = "100 degC"
lead_time = "80 d"
second_source = false
availability = "10 years"
programming_time = "2 s"
)";
}

std::string packages_and_prices() {
  return R"([price]
low_factor = 0.9
high_factor = 1.2
breaks = [
  { quantity = 1000, price = "2 USD" },
  { quantity = 10000, price = "1.5 USD" },
]
[[package]]
name = "qfn-24"
leads = "peripheral"
body_length = "4 mm"
body_width = "4 mm"
height = "0.8 mm"
pitch = "0.5 mm"
usable_pins = 17
thermal_resistance = "45 K/W"
)";
}

std::string programmable_logic() {
  return common() + R"(cells = 512
lut_inputs = 4
carry_chain = true
register_control = true
ram_blocks = 2
ram_block_bits = 9216
smallest_ram_bits = 129
fill_limit = { low = 0.7, typical = 0.85, high = 0.93 }
clock_to_output = "0.8 ns"
lut_delay = "0.5 ns"
routing_delay = "1.2 ns"
setup = "0.3 ns"
carry_delay = "0.07 ns"
core_voltage = "1.2 V"
core_supply = "internal-linear"
leakage_current = { low = "15 uA", typical = "28 uA", high = "70 uA", source = "curve 3" }
leakage_doubling = "23 K"
toggle_energy = "1.8 pJ"
clock_trunk_energy = "6 pJ"
clock_register_energy = "55 fJ"
ram_access_energy = "8 pJ"
bias_current = "600 uA"
pin_capacitance = "9 pF"
oscillator_frequency = "12 MHz"
oscillator_current = "450 uA"
configuration = "non-volatile"
configuration_time = "1.5 ms"
configuration_energy = "40 uJ"
)" + packages_and_prices();
}

std::string microcontroller() {
  return common() + R"(core = "32-bit-two-stage"
flash = "32 KiB"
ram = "4 KiB"
clocks = ["8 MHz", "16 MHz", "48 MHz"]
run_current_per_clock = "260 uA/MHz"
run_base_current = "600 uA"
sleep_current_per_clock = "100 uA/MHz"
sleep_base_current = "450 uA"
stop_current = "2.5 uA"
stop_doubling = "15 K"
wake_up = "7 us"
peripherals = { capture = 4, uart = 1 }
)" + packages_and_prices();
}

std::string fixed_function() {
  return common() + R"(features = ["line-code", "policy-sink"]
general_purpose_pins = 4
active_current = "1.8 mA"
attached_current = "250 uA"
detached_current = "8 uA"
)" + packages_and_prices();
}

std::string external_part() {
  return R"(id = "part"
summary = "two comparators"
role = "comparator"
channels = 2
active_current = "70 uA"
standby_current = "5 uA"
board_area = "9 mm2"
price = { breaks = [ { quantity = 1000, price = "0.2 USD" } ] }
)";
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  if (at == std::string::npos) FAIL("the text has no \"" << from << "\"");
  return text.replace(at, from.size(), to);
}

ReadingContext context() {
  ReadingContext context;
  context.expected_id = "part";
  context.core_classes = {"16-bit-register", "32-bit-two-stage", "8-bit-two-stage"};
  context.currencies = {"EUR", "JPY", "USD"};
  return context;
}

std::vector<std::string> mistakes(const std::string& text,
                                  const std::function<void(reading::TableReader&)>& read) {
  try {
    auto document = reading::Document::parse(text, "part.toml");
    auto root = document.root();
    read(root);
    document.throw_if_errors();
  } catch (const reading::InputError& error) {
    std::vector<std::string> all;
    for (const auto& mistake : error.diagnostics().all()) {
      all.push_back(fmt::format("{}:{}:{}: {}", mistake.file, mistake.line, mistake.column, mistake.message));
    }
    return all;
  }
  return {};
}

}  // namespace portweigh::parts::texts

#include "study_texts_fixture.hpp"

#include <fmt/core.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>

#include "reading/diagnostic.hpp"
#include "study/study.hpp"

namespace portweigh::study::texts {

Folder::Folder() {
  std::string pattern = (std::filesystem::temp_directory_path() / "study-test-XXXXXX").string();
  if (mkdtemp(pattern.data()) == nullptr) FAIL("no folder for the test");
  path_ = pattern;
}

Folder::~Folder() {
  std::error_code ignored;
  std::filesystem::remove_all(path_, ignored);
}

void Folder::write(const std::string& name, const std::string& text) const {
  const auto file = path_ / name;
  std::filesystem::create_directories(file.parent_path());
  std::ofstream(file) << text;
}

std::string function() {
  return R"(name = "small"
summary = "a small function"
source = "made up for the test"
[timing]
bit_rate = "300 kHz"
message_bits = { low = 149, typical = 229, high = 429 }
turn_round = "195 us"
inter_frame_gap = "25 us"
response = "15 ms"
tick = "100 us"
[[block]]
name = "check"
kind = "crc"
layer = "physical"
feature = "crc"
revision_group = "line"
settings = { width = 16, polynomial = 0x1021, reflected = false }
[[block]]
name = "policy"
kind = "state-machine"
layer = "policy"
revision_group = "policy"
deadline = "response"
settings = { file = "lamp.toml" }
)";
}

std::string state_table() {
  return R"(name = "lamp"
summary = "a lamp with a key"
source = "made up for the test"
initial = "dark"
[events]
press = "the key is pressed"
[actions]
light = "switch the lamp on"
[[state]]
name = "dark"
on = [ { event = "press", to = "bright" } ]
[[state]]
name = "bright"
enter = ["light"]
on = [ { event = "press", to = "dark" } ]
)";
}

std::string study() {
  return R"(name = "study"
summary = "a study"
function = "small"
currency = "USD"
volume_per_year = 1000
years = 5
supply_voltage = "3.3 V"
ambient = "25 degC"
capacity_reserve = 0.2
only_parts = ["pl-a", "mc-b"]
[[state]]
name = "detached"
attached = false
share = 0.9
line_activity = 0
wake_ups = "0 Hz"
[[state]]
name = "active"
active = true
share = 0.1
line_activity = 1
wake_ups = "100 Hz"
[assembly]
smallest_pitch = "0.5 mm"
largest_body = "7 mm"
largest_height = "1 mm"
[[budget]]
figure = "active_power"
limit = "12 mW"
[[revision]]
name = "change"
chance_per_year = 0.25
touches = ["policy"]
[host]
core = "32-bit-a"
clock = "64 MHz"
energy_per_cycle = "400 pJ"
wake_up_energy = "3 uJ"
free_load = 0.3
latency = "200 us"
[money]
labour_rate = "95 USD/h"
board_area_cost = "450 USD/m2"
placement_cost = "0.015 USD"
test_cost = "0.08 USD"
programming_rate = "25 USD/h"
attrition = 0.01
certification_cost = "12000 USD"
tools_cost = "2500 USD"
board_turn_cost = "45000 USD"
field_update_cost = "8000 USD"
factory_update_cost = "18 USD"
recall_share = 0.05
discount_rate = 0.08
)";
}

std::string changed(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  if (at == std::string::npos) FAIL("the text has no \"" << from << "\"");
  return text.replace(at, from.size(), to);
}

std::vector<std::string> mistakes_of_study(const std::string& study_text, const std::string& function_text,
                                           const std::string& table_text) {
  const Folder folder;
  folder.write("study.toml", study_text);
  folder.write("catalog/functions/small.toml", function_text);
  folder.write("catalog/state-machines/lamp.toml", table_text);
  folder.write("catalog/cores/32-bit-a.toml", "");
  folder.write("catalog/cores/8-bit-b.toml", "");
  folder.write("catalog/programmable-logic/pl-a.toml", "");
  folder.write("catalog/microcontrollers/mc-b.toml", "");
  folder.write("catalog/currencies.toml",
               "base = \"USD\"\n[rates.EUR]\nper_base = 0.96\ndate = \"2025-01-02\"\n");
  std::vector<std::string> all;
  try {
    (void)read_study(folder.path() / "study.toml", folder.path() / "catalog");
  } catch (const reading::InputError& error) {
    for (const auto& mistake : error.diagnostics().all()) {
      all.push_back(fmt::format("{}:{}:{}: {}", std::filesystem::path(mistake.file).filename().string(),
                                mistake.line, mistake.column, mistake.message));
    }
  }
  return all;
}

}  // namespace portweigh::study::texts

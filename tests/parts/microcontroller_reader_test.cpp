// Mistakes that only microcontrollers can have, word for word.
#include "parts/microcontroller_reader.hpp"

#include <catch2/catch.hpp>

#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_after(const std::string& from, const std::string& to) {
  return texts::mistakes(
      texts::changed(texts::microcontroller(), from, to),
      [](reading::TableReader& reader) { (void)read_microcontroller(reader, texts::context()); });
}

TEST_CASE("a right microcontroller arrives in bytes, hertz and coulombs") {
  auto document = reading::Document::parse(texts::microcontroller(), "part.toml");
  auto root = document.root();
  const auto device = read_microcontroller(root, texts::context());
  document.throw_if_errors();
  CHECK(device.flash_bytes == 32768);
  CHECK(device.ram_bytes == 4096);
  CHECK(device.erase_page_bytes == 1);
  CHECK(device.clocks.size() == 3);
  CHECK(device.clocks_per_cycle == 1);
  CHECK(device.run_current_per_clock.range.typical == Approx(260e-12));
  CHECK(device.peripherals == std::map<std::string, unsigned>{{"capture", 4}, {"uart", 1}});
}

TEST_CASE("each value that figures take knows its key, label and group") {
  auto document = reading::Document::parse(texts::microcontroller(), "part.toml");
  auto root = document.root();
  auto device = read_microcontroller(root, texts::context());
  const std::string id = device.part.id;
  CHECK(device.wake_up.input.key == "parts." + id + ".wake_up");
  CHECK(device.wake_up.input.label == "wake-up time");
  CHECK(device.wake_up.input.correlation == "process of " + id);
  CHECK(device.part.lead_time.input.label == "lead time of " + id);
  const Package& package = device.part.packages.front();
  CHECK(package.thermal_resistance.input.key == "parts." + id + "." + package.name + ".thermal_resistance");
  CHECK(package.height.input.key.empty());

  device.part.id = "another";
  name_inputs(device);
  CHECK(device.wake_up.input.key == "parts.another.wake_up");
  CHECK(device.wake_up.input.correlation == "process of another");
}

TEST_CASE("a core class must exist in the catalog") {
  CHECK(mistakes_after("32-bit-two-stage", "32-bit-two-stag") ==
        Lines{"part.toml:12:8: unknown core class \"32-bit-two-stag\", expected one of 16-bit-register, "
              "32-bit-two-stage, 8-bit-two-stage; nearest: \"32-bit-two-stage\""});
}

TEST_CASE("clocks rise") {
  CHECK(mistakes_after("\"16 MHz\"", "\"6 MHz\"") ==
        Lines{"part.toml:15:20: clock of 6000000 Hz follows 8000000 Hz, expected rising clocks"});
}

TEST_CASE("memory sizes have a unit") {
  CHECK(mistakes_after("\"32 KiB\"", "32768") ==
        Lines{"part.toml:13:9: flash without a unit, expected a size such as \"32 KiB\""});
}

TEST_CASE("an erase page is a byte at least and the whole flash at most") {
  CHECK(mistakes_after("ram = ", "erase_page = \"1 KiB\"\nram = ").empty());
  CHECK(mistakes_after("ram = ", "erase_page = \"0 B\"\nram = ") ==
        Lines{"part.toml:14:14: erase page of 0 bytes, expected 1 byte to the 32768 bytes of flash"});
  CHECK(mistakes_after("ram = ", "erase_page = \"64 KiB\"\nram = ") ==
        Lines{"part.toml:14:14: erase page of 65536 bytes, expected 1 byte to the 32768 bytes of flash"});
}

TEST_CASE("peripherals come from a closed list") {
  CHECK(mistakes_after("uart = 1", "uarts = 1") ==
        Lines{"part.toml:23:30: unknown key \"uarts\", expected one of bit-serial-port, capture, comparator, "
              "compare-output, crc-unit, dma, edge-interrupt, i2c-controller, i2c-target, pulse-width, "
              "reference, spi-controller, spi-target, uart; nearest: \"uart\""});
  CHECK(mistakes_after("uart = 1", "comparator = 1") ==
        Lines{"part.toml:23:15: comparators without comparator_current, expected both"});
  CHECK(
      mistakes_after("wake_up",
                     "comparator_current = \"10 uA\"\ncomparator_standby_current = \"11 uA\"\nwake_up") ==
      Lines{
          "part.toml:23:30: comparator_standby_current above comparator_current, expected at most as much at "
          "low, typical and high"});
}

}  // namespace
}  // namespace portweigh::parts

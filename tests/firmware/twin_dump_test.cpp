#include <cstdlib>
#include <filesystem>
#include <fstream>

#include <catch2/catch.hpp>

#include "c_twin.hpp"
#include "measured_routines.hpp"

using namespace portweigh::firmware;

// Used by tests/reference/twins/measure.sh: writes the C twins and their events to $PORTWEIGH_TWINS.
TEST_CASE("write twins", "[.twins]") {
  const char* folder = std::getenv("PORTWEIGH_TWINS");
  REQUIRE(folder != nullptr);
  std::filesystem::create_directories(folder);
  for (auto& candidate : measured_routines()) {
    RecordingMachine machine(candidate.routine);
    machine.record(60);
    candidate.events(machine);
    const std::string base = std::string(folder) + "/" + candidate.name;
    std::ofstream(base + ".c") << c_source(candidate.routine);
    std::ofstream(base + ".events") << machine.text();
    std::ofstream(base + ".symbols") << symbol_list(candidate.routine);
  }
}

TEST_CASE("a C twin says what the routine says") {
  Routine r("twin");
  const auto crc = r.state_u16("crc");
  const auto byte = r.parameter_u8("byte");
  r.set(crc, (crc << 1) ^ byte);
  const auto source = c_source(r);
  CHECK(source.find("uint16_t v_crc;") != std::string::npos);
  CHECK(source.find("void event_function(uint8_t v_byte)") != std::string::npos);
  CHECK(source.find("v_crc = (uint16_t)((uint16_t)(uint16_t)((uint16_t)v_crc << 1u) ^ (uint16_t)v_byte);") !=
        std::string::npos);
  RecordingMachine machine(r);
  machine.record(1);
  machine.run({5});
  CHECK(machine.text() == "event 5\npoke v_crc 0 0\nexpect v_crc 0 5\n");
}

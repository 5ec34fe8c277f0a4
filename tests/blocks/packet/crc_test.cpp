// The CRC network and routine against G. Cook's catalogue, boost::crc and zlib, and against each other.
#include "blocks/packet/crc.hpp"

#include <zlib.h>

#include <boost/crc.hpp>
#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "blocks/random_traffic.hpp"
#include "logic/cover/cover.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

constexpr std::uint64_t ones(unsigned width) {
  return width == 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << width) - 1;
}

struct Entry {
  const char* name;
  CrcCode code;
  std::uint64_t check;
};

// Check values over ASCII "123456789": catalogue of parametrised CRC algorithms, G. Cook, seen or from
// memory [S or M] and all recomputed by a separate program [C].
const std::vector<Entry> catalogue{
    {"CRC-5/USB", {5, 0x05, true, 0x1F, 0x1F}, 0x19},
    {"CRC-5/G-704", {5, 0x15, true, 0, 0}, 0x07},
    {"CRC-6/G-704", {6, 0x03, true, 0, 0}, 0x06},
    {"CRC-7/MMC", {7, 0x09, false, 0, 0}, 0x75},
    {"CRC-8/SMBUS", {8, 0x07, false, 0, 0}, 0xF4},
    {"CRC-8/MAXIM-DOW", {8, 0x31, true, 0, 0}, 0xA1},
    {"CRC-11/FLEXRAY", {11, 0x385, false, 0x01A, 0}, 0x5A3},
    {"CRC-15/CAN", {15, 0x4599, false, 0, 0}, 0x059E},
    {"CRC-16/IBM-3740", {16, 0x1021, false, 0xFFFF, 0}, 0x29B1},
    {"CRC-16/KERMIT", {16, 0x1021, true, 0, 0}, 0x2189},
    {"CRC-16/XMODEM", {16, 0x1021, false, 0, 0}, 0x31C3},
    {"CRC-16/IBM-SDLC", {16, 0x1021, true, 0xFFFF, 0xFFFF}, 0x906E},
    {"CRC-16/MODBUS", {16, 0x8005, true, 0xFFFF, 0}, 0x4B37},
    {"CRC-16/USB", {16, 0x8005, true, 0xFFFF, 0xFFFF}, 0xB4C8},
    {"CRC-16/DNP", {16, 0x3D65, true, 0, 0xFFFF}, 0xEA82},
    {"CRC-17/CAN-FD", {17, 0x1685B, false, 0, 0}, 0x04F03},
    {"CRC-21/CAN-FD", {21, 0x102899, false, 0, 0}, 0x0ED841},
    {"CRC-24/OPENPGP", {24, 0x864CFB, false, 0xB704CE, 0}, 0x21CF02},
    {"CRC-32/ISO-HDLC", {32, 0x04C11DB7, true, ones(32), ones(32)}, 0xCBF43926},
    {"CRC-32/BZIP2", {32, 0x04C11DB7, false, ones(32), ones(32)}, 0xFC891918},
    {"CRC-32/ISCSI", {32, 0x1EDC6F41, true, ones(32), ones(32)}, 0xE3069283},
    {"CRC-32/MPEG-2", {32, 0x04C11DB7, false, ones(32), 0}, 0x0376E6E7},
    {"CRC-32/CKSUM", {32, 0x04C11DB7, false, 0, ones(32)}, 0x765E7680},
};

const std::vector<std::uint8_t> digits{'1', '2', '3', '4', '5', '6', '7', '8', '9'};

std::vector<bool> bits_of(const std::vector<std::uint8_t>& message, bool is_reflected) {
  std::vector<bool> bits;
  for (const std::uint8_t byte : message) {
    for (unsigned i = 0; i < 8; ++i) bits.push_back((byte >> (is_reflected ? i : 7 - i) & 1U) != 0);
  }
  return bits;
}

void start(logic::Simulator& simulator) {
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  simulator.set("enable", 1);
}

// Message bits in order; as many as fill whole clocks.
void feed(logic::Simulator& simulator, const std::vector<bool>& bits, bool is_reflected,
          std::size_t per_clock) {
  for (std::size_t first = 0; first + per_clock <= bits.size(); first += per_clock) {
    std::uint64_t word = 0;
    for (std::size_t i = 0; i < per_clock; ++i) {
      if (bits[first + i]) word |= std::uint64_t{1} << (is_reflected ? i : per_clock - 1 - i);
    }
    simulator.set("data", word);
    simulator.clock();
  }
}

std::uint64_t network_crc(const CrcCode& code, std::size_t per_clock, CrcForm form,
                          const std::vector<std::uint8_t>& message) {
  const auto network = crc_network(code, per_clock, form);
  logic::Simulator simulator(network, logic::ToggleCounting::off);
  start(simulator);
  feed(simulator, bits_of(message, code.is_reflected), code.is_reflected, per_clock);
  return simulator.value("crc");
}

std::uint64_t routine_crc(const CrcCode& code, CrcMethod method, const std::vector<std::uint8_t>& message) {
  const auto routine = crc_routine(code, method);
  firmware::Machine machine(routine);
  for (std::size_t i = 0; i < message.size(); ++i) machine.set_element("data", i, message[i]);
  std::uint64_t state = CrcStep::placed(code, code.held(code.initial));
  const bool is_wide = CrcStep::variable_bits(code) == 64;
  const auto length = static_cast<std::uint32_t>(message.size());
  const auto low = static_cast<std::uint32_t>(state & ones(32));
  if (is_wide) {
    machine.run({length, low, static_cast<std::uint32_t>(state >> 32U)});
  } else {
    const std::uint32_t returned = machine.run({length, low});
    CHECK(returned == machine.get("crc"));
  }
  state = machine.get("crc");
  if (is_wide) state |= std::uint64_t{machine.get("crc_high")} << 32U;
  return CrcStep::taken(code, state) ^ code.final_xor;
}

template <unsigned Width>
std::uint64_t boost_crc(const CrcCode& code, const std::vector<std::uint8_t>& message) {
  using Value = typename boost::crc_basic<Width>::value_type;
  boost::crc_basic<Width> crc(static_cast<Value>(code.polynomial), static_cast<Value>(code.initial),
                              static_cast<Value>(code.final_xor), code.is_reflected, code.is_reflected);
  crc.process_bytes(message.data(), message.size());
  return crc.checksum();
}

std::vector<std::uint8_t> random_message(std::mt19937_64& random, std::size_t length) {
  std::vector<std::uint8_t> message(length);
  for (auto& byte : message) byte = static_cast<std::uint8_t>(random() & 0xFFU);
  return message;
}

constexpr CrcMethod methods[] = {CrcMethod::bitwise, CrcMethod::nibble_table, CrcMethod::byte_table};

template <unsigned Width>
void compare_with_boost(std::mt19937_64& random) {
  CAPTURE(Width);
  for (const bool is_reflected : {false, true}) {
    CrcCode code{Width, random() & ones(Width), is_reflected, random() & ones(Width), random() & ones(Width)};
    code.polynomial |= 1U;
    const auto message = random_message(random, 24);
    const std::uint64_t expected = boost_crc<Width>(code, message);
    for (const std::size_t per_clock : {1U, 3U, 8U, 12U, 64U}) {
      CHECK(network_crc(code, per_clock, CrcForm::unrolled, message) == expected);
      CHECK(network_crc(code, per_clock, CrcForm::rows, message) == expected);
    }
    for (const CrcMethod method : methods) CHECK(routine_crc(code, method, message) == expected);
  }
}

}  // namespace

TEST_CASE("the network gives the catalogue's check values at any number of bits a clock") {
  for (const Entry& entry : catalogue) {
    CAPTURE(entry.name);
    for (const std::size_t per_clock : {1U, 2U, 4U, 8U, 18U, 36U}) {
      CHECK(network_crc(entry.code, per_clock, CrcForm::unrolled, digits) == entry.check);
      CHECK(network_crc(entry.code, per_clock, CrcForm::rows, digits) == entry.check);
    }
  }
}

TEST_CASE("the routine gives the catalogue's check values by every method") {
  for (const Entry& entry : catalogue) {
    CAPTURE(entry.name);
    for (const CrcMethod method : methods) CHECK(routine_crc(entry.code, method, digits) == entry.check);
  }
}

TEST_CASE("the settings of the contract's example count the network that computes 0xCBF43926") {
  Settings settings = Settings::standard(crc_kind().settings);
  settings.set("width", "32");
  settings.set("polynomial", "0x04C11DB7");
  settings.set("bits_per_clock", "8");
  const auto network = crc_network(settings);
  logic::Simulator simulator(network);
  start(simulator);
  feed(simulator, bits_of(digits, true), true, 8);
  CHECK(simulator.value("crc") == 0xCBF43926);
  CHECK(network.registers().size() == 32);
}

TEST_CASE("network and routine agree with boost::crc for any width up to 64") {
  std::mt19937_64 random(11);
  compare_with_boost<3>(random);
  compare_with_boost<8>(random);
  compare_with_boost<9>(random);
  compare_with_boost<16>(random);
  compare_with_boost<31>(random);
  compare_with_boost<32>(random);
  compare_with_boost<33>(random);
  compare_with_boost<40>(random);
  compare_with_boost<63>(random);
  compare_with_boost<64>(random);
}

TEST_CASE("a register of one bit is the parity of the message") {
  const CrcCode code{1, 1, true, 0, 0};
  const std::vector<std::uint8_t> odd{0x07, 0x00};
  const std::vector<std::uint8_t> even{0x07, 0x80};
  CHECK(network_crc(code, 1, CrcForm::rows, odd) == 1);
  CHECK(network_crc(code, 8, CrcForm::unrolled, even) == 0);
  for (const CrcMethod method : methods) CHECK(routine_crc(code, method, odd) == 1);
}

TEST_CASE("64 streams of random messages with pauses agree with zlib") {
  const CrcCode code{32, 0x04C11DB7, true, ones(32), ones(32)};
  const auto network = crc_network(code, 8, CrcForm::unrolled);
  logic::Simulator simulator(network);
  std::mt19937_64 random(5);
  std::vector<uLong> expected(logic::Simulator::streams, crc32(0, nullptr, 0));
  start(simulator);
  for (unsigned clock = 0; clock < 200; ++clock) {
    for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
      const auto byte = static_cast<Bytef>(random() & 0xFFU);
      const bool is_enabled = (random() & 3U) != 0;
      simulator.set("data", stream, byte);
      simulator.set("enable", stream, is_enabled ? 1 : 0);
      if (is_enabled) expected[stream] = crc32(expected[stream], &byte, 1);
    }
    simulator.clock();
    for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
      REQUIRE(simulator.value("crc", stream) == expected[stream]);
    }
  }
}

// Residue of CRC-32, reflected: 0xDEBB20E3 [C].
TEST_CASE("a message followed by its check value leaves the residue") {
  CHECK(CrcCode{32, 0x04C11DB7, true, ones(32), ones(32)}.residue() == 0xDEBB20E3);
  CHECK(CrcCode{32, 0x04C11DB7, false, ones(32), ones(32)}.residue() == 0xC704DD7B);
  Settings settings = Settings::standard(crc_kind().settings);
  settings.set("bits_per_clock", "4");
  settings.set("residue_check", "true");
  const auto network = crc_network(settings);
  std::mt19937_64 random(3);
  for (unsigned trial = 0; trial < 20; ++trial) {
    auto message = random_message(random, 1 + trial);
    const uLong crc = crc32(0, message.data(), static_cast<uInt>(message.size()));
    for (unsigned i = 0; i < 4; ++i) message.push_back(static_cast<std::uint8_t>(crc >> (8 * i) & 0xFFU));
    if (trial % 2 == 1) message[trial % message.size()] ^= 0x10U;
    logic::Simulator simulator(network);
    start(simulator);
    feed(simulator, bits_of(message, true), true, 4);
    CHECK(simulator.value("match") == (trial % 2 == 0 ? 1U : 0U));
  }
}

TEST_CASE("a CRC unit is fed every byte once, in order") {
  const CrcCode code{16, 0x1021, false, 0xFFFF, 0};
  const auto routine = crc_routine(code, CrcMethod::crc_unit);
  firmware::Machine machine(routine);
  std::vector<std::uint8_t> fed;
  machine.on_write("crc_unit_data",
                   [&](std::uint32_t value) { fed.push_back(static_cast<std::uint8_t>(value)); });
  for (std::uint32_t i = 0; i < digits.size(); ++i) machine.set_element("data", i, digits[i]);
  machine.run({9, 0});
  CHECK(fed == digits);
}

// Next-state logic for 8 bits a clock, LUTs for K = 4 and 6, of the reference mapper berkeley-abc
// (`strash; if -K`) on equations written row by row [C].
TEST_CASE("rows cover as the reference mapper does, the smallest form at most as large") {
  struct Reference {
    const char* width;
    const char* polynomial;
    unsigned luts4;
    unsigned luts6;
  };
  for (const Reference& reference :
       {Reference{"5", "0x05", 11, 8}, Reference{"8", "0x31", 20, 13}, Reference{"15", "0x4599", 42, 28},
        Reference{"16", "0x1021", 22, 17}, Reference{"24", "0x864CFB", 64, 44},
        Reference{"32", "0x04C11DB7", 78, 57}}) {
    CAPTURE(reference.width);
    Settings settings = Settings::standard(crc_kind().settings);
    settings.set("width", reference.width);
    settings.set("polynomial", reference.polynomial);
    settings.set("bits_per_clock", "8");
    settings.set("form", "rows");
    const auto rows = crc_network(settings);
    settings.set("form", "smallest");
    const auto smallest = crc_network(settings);
    for (const auto& [inputs, expected] : {std::pair{4U, reference.luts4}, std::pair{6U, reference.luts6}}) {
      // The reference covers the equations as they are written, so ours must not restructure them either.
      const logic::CoverOptions as_written{.lut_inputs = inputs, .effort = logic::Effort::covering_only};
      const auto luts = logic::cover(rows, as_written).luts.size();
      CHECK(static_cast<double>(luts) == Approx(expected).epsilon(0.08).margin(1.01));
      CHECK(logic::cover(smallest, {.lut_inputs = inputs}).luts.size() <= expected);
    }
  }
}

TEST_CASE("values that do not fit the width are refused by name") {
  Settings settings = Settings::standard(crc_kind().settings);
  settings.set("width", "16");
  CHECK_THROWS_WITH(crc_code(settings), Catch::Contains("polynomial") && Catch::Contains("16"));
  settings.set("polynomial", "0x1021");
  CHECK(crc_code(settings).initial == 0xFFFF);
  settings.set("initial", "0x10000");
  CHECK_THROWS_AS(crc_code(settings), SettingError);
}

TEST_CASE("idle traffic leaves the register alone, active traffic turns it over") {
  const Kind kind = crc_kind();
  const Settings settings = Settings::standard(kind.settings);
  const auto network = kind.network(settings);
  std::vector<std::uint64_t> toggles;
  for (const TrafficState state : {TrafficState::idle, TrafficState::active}) {
    logic::Simulator simulator(network);
    const Drive drive = kind.traffic(settings, state, 1);
    for (std::uint64_t clock = 0; clock < 600; ++clock) {
      drive(simulator, clock);
      simulator.clock();
      if (clock == 3) simulator.reset_toggles();
    }
    std::uint64_t total = 0;
    for (const auto& reg : network.registers()) total += simulator.toggles(reg.node);
    toggles.push_back(total);
  }
  CHECK(toggles[0] == 0);
  // Half of the register's bits turn over with each event, in each of 64 streams.
  const std::uint64_t events = 600 / traffic_spacing;
  CHECK(toggles[1] == Approx(32 * 64 * events / 2).epsilon(0.1));
}

TEST_CASE("a method set by hand wins, and the bitwise method takes no constants") {
  const Kind kind = crc_kind();
  Settings settings = Settings::standard(kind.settings);
  CHECK(kind.run(settings, "byte-table").routine.program().arrays.size() == 2);
  settings.set("method", "bitwise");
  const FirmwareRun run = kind.run(settings, "byte-table");
  CHECK(run.routine.program().arrays.size() == 1);
  CHECK(run.events == 8 * 2 + 4 * 28);
  CHECK(run.counts.events == run.events);
  CHECK(run.paths.front().events == 1);
}

}  // namespace portweigh::blocks

// The framing routines against packets written out from the specification, and against the networks.
#include <algorithm>
#include <catch2/catch.hpp>
#include <random>
#include <vector>

#include "blocks/packet/framing.hpp"
#include "firmware/execute.hpp"
#include "framing_fixture.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned longest = 30;
constexpr CrcMethod methods[] = {CrcMethod::bitwise, CrcMethod::nibble_table, CrcMethod::byte_table};

std::vector<std::uint8_t> packed(const std::vector<bool>& bits) {
  std::vector<std::uint8_t> bytes((bits.size() + 7) / 8, 0);
  for (std::size_t i = 0; i < bits.size(); ++i) {
    if (bits[i]) bytes[i / 8] = static_cast<std::uint8_t>(bytes[i / 8] | 1U << i % 8);
  }
  return bytes;
}

// Header by IEC 62680-1-2: type 5 bits, data role 1, revision 2, power role 1, id 3, count 3, extended 1;
// seen in zephyrproject-rtos/zephyr 0a04bc0, include/zephyr/drivers/usb_c/usbc_pd.h [S]. Then random objects.
struct Message {
  unsigned type = 0, id = 0, data_role = 0, power_role = 0, revision = 0;
  std::vector<std::uint8_t> bytes;
};

Message random_message(std::mt19937_64& random, unsigned objects) {
  Message message{static_cast<unsigned>(random() % 32), static_cast<unsigned>(random() % 8),
                  static_cast<unsigned>(random() % 2),  static_cast<unsigned>(random() % 2),
                  static_cast<unsigned>(random() % 4),  std::vector<std::uint8_t>(2 + 4 * objects)};
  const unsigned header = message.type | message.data_role << 5 | message.revision << 6 |
                          message.power_role << 8 | message.id << 9 | objects << 12;
  for (auto& byte : message.bytes) byte = static_cast<std::uint8_t>(random() & 0xFFU);
  message.bytes[0] = static_cast<std::uint8_t>(header & 0xFFU);
  message.bytes[1] = static_cast<std::uint8_t>(header >> 8U);
  return message;
}

std::vector<std::uint8_t> sent(firmware::Machine& machine, unsigned set, const Message& message) {
  machine.set("data_role", message.data_role);
  machine.set("power_role", message.power_role);
  machine.set("revision", message.revision);
  for (std::size_t i = 2; i < message.bytes.size(); ++i) machine.set_element("payload", i, message.bytes[i]);
  const auto length = is_bare(set) ? 0U : static_cast<std::uint32_t>(message.bytes.size());
  const std::uint32_t count = machine.run({set, message.type, message.id, length});
  std::vector<std::uint8_t> bytes;
  for (std::uint32_t i = 0; i < count; ++i)
    bytes.push_back(static_cast<std::uint8_t>(machine.element("packed", i)));
  return bytes;
}

FramingResult receive(firmware::Machine& machine, const std::vector<std::uint8_t>& bytes) {
  for (std::size_t i = 0; i < bytes.size(); ++i) machine.set_element("packed", i, bytes[i]);
  return static_cast<FramingResult>(machine.run({static_cast<std::uint32_t>(bytes.size())}));
}

std::vector<std::uint8_t> received_bytes(const firmware::Machine& machine) {
  std::vector<std::uint8_t> bytes;
  for (std::uint32_t i = 0; i < machine.get("length"); ++i) {
    bytes.push_back(static_cast<std::uint8_t>(machine.element("payload", i)));
  }
  return bytes;
}

// Set and payload symbols as the network sees them; set 99 where it finds none.
struct Seen {
  unsigned set = 99;
  std::vector<unsigned> symbols;
  bool has_end = false;
};

Seen seen_by_network(const logic::Network& network, const std::vector<bool>& bits) {
  logic::Simulator simulator(network, logic::ToggleCounting::off);
  Seen seen;
  for (std::size_t i = 0; i < 2 * bits.size() + 6; ++i) {
    const bool is_bit = i % 2 == 0 && i / 2 < bits.size();
    simulator.set("bit_valid", is_bit ? 1 : 0);
    if (is_bit) simulator.set("bit", bits[i / 2] ? 1 : 0);
    simulator.clock();
    if (simulator.value("start") != 0) seen.set = static_cast<unsigned>(simulator.value("set"));
    if (simulator.value("symbol_valid") != 0)
      seen.symbols.push_back(static_cast<unsigned>(simulator.value("symbol")));
    if (simulator.value("end") != 0) seen.has_end = true;
  }
  return seen;
}

}  // namespace

TEST_CASE("the sending routine packs what the specification puts on the wire, by every CRC method") {
  std::mt19937_64 random(1);
  for (const CrcMethod method : methods) {
    const auto routine = framing_encode_routine(FramingShape{}, longest, method);
    firmware::Machine machine(routine);
    for (unsigned set = 0; set < 7; ++set) {
      for (unsigned objects = 0; objects < 8; ++objects) {
        const Message message = random_message(random, objects);
        CHECK(sent(machine, set, message) == packed(wire_packet(set, message.bytes)));
      }
    }
  }
}

TEST_CASE("the receiving routine gives back set and message, by every CRC method") {
  std::mt19937_64 random(2);
  for (const CrcMethod method : methods) {
    const auto routine = framing_decode_routine(FramingShape{}, longest, method);
    firmware::Machine machine(routine);
    for (unsigned set = 0; set < 7; ++set) {
      for (unsigned objects = 0; objects < 8; ++objects) {
        CAPTURE(set, objects);
        const Message message = random_message(random, objects);
        CHECK(receive(machine, packed(wire_packet(set, message.bytes))) == FramingResult::good);
        CHECK(machine.get("found_set") == set);
        CHECK(received_bytes(machine) == (is_bare(set) ? std::vector<std::uint8_t>{} : message.bytes));
      }
    }
  }
}

TEST_CASE("a packet may start anywhere in a byte and lose the start of its preamble") {
  std::mt19937_64 random(3);
  const auto routine = framing_decode_routine(FramingShape{}, longest, CrcMethod::byte_table);
  firmware::Machine machine(routine);
  for (std::size_t lost = 0; lost < 48; ++lost) {
    const Message message = random_message(random, 2);
    const auto set = static_cast<unsigned>(random() % 3);
    auto bits = wire_packet(set, message.bytes);
    bits.erase(bits.begin(), bits.begin() + static_cast<std::ptrdiff_t>(lost));
    CAPTURE(lost, set);
    CHECK(receive(machine, packed(bits)) == FramingResult::good);
    CHECK(machine.get("found_set") == set);
    CHECK(received_bytes(machine) == message.bytes);
  }
}

TEST_CASE("network and routine find the same sets with one symbol wrong") {
  std::mt19937_64 random(4);
  const auto network = framing_decode_network(FramingShape{});
  const auto routine = framing_decode_routine(FramingShape{}, longest, CrcMethod::byte_table);
  firmware::Machine machine(routine);
  for (unsigned trial = 0; trial < 300; ++trial) {
    const Message message = random_message(random, static_cast<unsigned>(random() % 8));
    const unsigned set = trial % 7;
    auto bits = wire_packet(set, message.bytes);
    const std::size_t first = 64 + 5 * (random() % 4);
    for (std::size_t bit = 0; bit < 5; ++bit) bits[first + bit] = bits[first + bit] != (random() % 3 == 0);
    const Seen seen = seen_by_network(network, bits);
    const FramingResult result = receive(machine, packed(bits));
    CAPTURE(trial, set, first);
    REQUIRE(seen.set == machine.get("found_set"));
    // A wrong symbol can also turn one set into another, such as Cable Reset into SOP'.
    if (is_bare(set) || is_bare(seen.set)) continue;
    REQUIRE(seen.has_end);
    // A wrong symbol that happens to be Sync-2 makes the set end one symbol early for both; what follows then
    // starts with a control symbol, which the network leaves to the symbol decoder.
    const bool is_payload = std::all_of(seen.symbols.begin(), seen.symbols.end(), [](unsigned symbol) {
      return std::find(wire_nibbles.begin(), wire_nibbles.end(), symbol) != wire_nibbles.end();
    });
    REQUIRE(result == (is_payload ? FramingResult::good : FramingResult::symbol_error));
    if (is_payload) REQUIRE(seen.symbols == wire_payload(received_bytes(machine)));
  }
}

TEST_CASE("damage is found and named") {
  std::mt19937_64 random(5);
  const auto routine = framing_decode_routine(FramingShape{}, longest, CrcMethod::byte_table);
  firmware::Machine machine(routine);
  const Message message = random_message(random, 7);
  const auto good = wire_packet(0, message.bytes);

  auto wrong_data = wire_preamble(64);
  append(wrong_data, wire_symbols(wire_sets[0]));
  auto symbols = wire_payload(message.bytes);
  symbols[10] = symbols[10] == wire_nibbles[3] ? wire_nibbles[4] : wire_nibbles[3];
  append(wrong_data, wire_symbols(symbols));
  append(wrong_data, wire_symbols({wire_eop}));
  CHECK(receive(machine, packed(wrong_data)) == FramingResult::check_error);

  auto wrong_symbol = good;
  for (std::size_t bit = 0; bit < 5; ++bit) wrong_symbol[64 + 20 + 35 + bit] = false;
  CHECK(receive(machine, packed(wrong_symbol)) == FramingResult::symbol_error);

  // Cut inside the payload; what an earlier packet left in the array must not be taken for its end.
  auto cut = good;
  cut.resize(64 + 20 + 100);
  CHECK(receive(machine, packed(cut)) == FramingResult::symbol_error);

  Message lying = random_message(random, 3);
  lying.bytes[1] = static_cast<std::uint8_t>((lying.bytes[1] & 0x8FU) | 0x50U);
  CHECK(receive(machine, packed(wire_packet(0, lying.bytes))) == FramingResult::length_error);

  std::vector<std::uint8_t> long_message(longest + 4, 0x11);
  auto too_long = packed(wire_packet(0, long_message));
  too_long.resize(packed_bytes(FramingShape{}, longest) + 2);
  CHECK(receive(machine, too_long) == FramingResult::length_error);

  CHECK(receive(machine, packed(wire_preamble(120))) == FramingResult::no_set);
  CHECK(receive(machine, std::vector<std::uint8_t>(20, 0)) == FramingResult::no_set);
}

TEST_CASE("random bits never lead the receiving routine astray") {
  std::mt19937_64 random(6);
  const FramingShape shape;
  const auto routine = framing_decode_routine(shape, longest, CrcMethod::byte_table);
  firmware::Machine machine(routine);
  for (unsigned trial = 0; trial < 2000; ++trial) {
    std::vector<std::uint8_t> noise(random() % (packed_bytes(shape, longest) + 1));
    for (auto& byte : noise) byte = static_cast<std::uint8_t>(random() & 0xFFU);
    const FramingResult result = receive(machine, noise);
    CHECK((result != FramingResult::good || is_bare(machine.get("found_set"))));
  }
}

TEST_CASE("routines send and receive over the corners of the settings") {
  std::mt19937_64 random(7);
  for (const unsigned preamble : {9U, 64U, 255U}) {
    for (unsigned symbols = 2; symbols <= 6; ++symbols) {
      for (const unsigned payload_bytes : {2U, 6U, 30U, 250U}) {
        const FramingShape shape{preamble, symbols, 3};
        CAPTURE(preamble, symbols, payload_bytes);
        const auto encode = framing_encode_routine(shape, payload_bytes, CrcMethod::nibble_table);
        const auto decode = framing_decode_routine(shape, payload_bytes, CrcMethod::nibble_table);
        firmware::Machine sender(encode);
        firmware::Machine receiver(decode);
        for (unsigned set = 0; set < 3; ++set) {
          Message message = random_message(random, std::min((payload_bytes - 2) / 4, 7U));
          message.bytes.resize(payload_bytes, 0x5A);
          const auto bytes = sent(sender, set, message);
          CHECK(bytes.size() == packed_bytes(shape, payload_bytes));
          CHECK(receive(receiver, bytes) == FramingResult::good);
          CHECK(receiver.get("found_set") == set);
          CHECK(receiver.get("length") == payload_bytes);
        }
      }
    }
  }
}

TEST_CASE("a CRC unit stands in for the table, both ways") {
  const FramingShape shape;
  const auto encode = framing_encode_routine(shape, longest, CrcMethod::crc_unit);
  const auto decode = framing_decode_routine(shape, longest, CrcMethod::crc_unit);
  const CrcCode code{32, 0x04C11DB7, true, 0xFFFFFFFF, 0xFFFFFFFF};
  std::mt19937_64 random(8);
  const Message message = random_message(random, 7);
  std::uint64_t unit = 0;
  std::vector<std::uint8_t> bytes;
  for (const auto* routine : {&encode, &decode}) {
    firmware::Machine machine(*routine);
    machine.on_write("crc_unit_start", [&](std::uint32_t) { unit = 0xFFFFFFFF; });
    machine.on_write("crc_unit_data", [&](std::uint32_t byte) {
      for (unsigned bit = 0; bit < 8; ++bit) unit = code.advance(unit, (byte >> bit & 1U) != 0);
    });
    machine.on_read("crc_unit_result", [&] { return static_cast<std::uint32_t>(unit); });
    if (routine == &encode) {
      bytes = sent(machine, 0, message);
      CHECK(bytes == packed(wire_packet(0, message.bytes)));
    } else {
      CHECK(receive(machine, bytes) == FramingResult::good);
      CHECK(received_bytes(machine) == message.bytes);
    }
  }
}

TEST_CASE("every method of both directions is run on whole messages") {
  const Kind kind = framing_kind();
  for (const char* direction : {"encode", "decode"}) {
    Settings settings = Settings::standard(kind.settings);
    settings.set("direction", direction);
    for (const Method& method : kind.methods) {
      const FirmwareRun run = kind.run(settings, method.name);
      CHECK(run.events == 64);
    }
  }
}

}  // namespace portweigh::blocks

// The framing networks against packets written out from the open specification's tables.
#include "blocks/packet/framing.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "framing_fixture.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

std::vector<std::uint8_t> random_bytes(std::mt19937_64& random, std::size_t count) {
  std::vector<std::uint8_t> bytes(count);
  for (auto& byte : bytes) byte = static_cast<std::uint8_t>(random() & 0xFFU);
  return bytes;
}

// What a receiver reported, in order: "set 3", "symbol 30", "end", "error".
class Receiver {
 public:
  explicit Receiver(const FramingShape& shape)
      : network_(framing_decode_network(shape)), simulator_(network_, logic::ToggleCounting::off) {
    simulator_.set("reset", 1);
    simulator_.clock();
    simulator_.set("reset", 0);
  }
  // `spacing` clocks a bit.
  void feed(const std::vector<bool>& bits, unsigned spacing) {
    for (const bool bit : bits) {
      simulator_.set("bit", bit ? 1 : 0);
      simulator_.set("bit_valid", 1);
      clock();
      simulator_.set("bit_valid", 0);
      for (unsigned i = 1; i < spacing; ++i) clock();
    }
  }
  void idle() {
    clock();
    clock();
    simulator_.set("line_idle", 1);
    clock();
    simulator_.set("line_idle", 0);
    clock();
  }
  std::vector<std::string> take() { return std::exchange(events_, {}); }
  bool is_receiving() const { return simulator_.value("receiving") != 0; }

 private:
  void clock() {
    simulator_.clock();
    if (simulator_.value("start") != 0) events_.push_back("set " + std::to_string(simulator_.value("set")));
    if (simulator_.value("symbol_valid") != 0) {
      events_.push_back("symbol " + std::to_string(simulator_.value("symbol")));
    }
    if (simulator_.value("end") != 0) events_.push_back("end");
    if (simulator_.value("error") != 0) events_.push_back("error");
  }

  logic::Network network_;
  logic::Simulator simulator_;
  std::vector<std::string> events_;
};

std::vector<std::string> expected_events(unsigned set, const std::vector<unsigned>& payload) {
  std::vector<std::string> events{"set " + std::to_string(set)};
  if (set == 3 || set == 4) return events;
  for (const unsigned symbol : payload) events.push_back("symbol " + std::to_string(symbol));
  events.push_back("end");
  return events;
}

// Bits that an encoder sends for a set and payload symbols.
std::vector<bool> sent_bits(const FramingShape& shape, unsigned set, const std::vector<unsigned>& payload,
                            unsigned spacing) {
  const auto network = framing_encode_network(shape);
  logic::Simulator simulator(network, logic::ToggleCounting::off);
  std::vector<bool> bits;
  std::size_t next = 0;
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  simulator.set("send", 1);
  simulator.set("set", set);
  bool was_active = false;
  for (unsigned clock = 0; clock < 40000; ++clock) {
    const bool is_tick = clock % spacing == spacing - 1;
    simulator.set("bit_tick", is_tick ? 1 : 0);
    simulator.set("symbol_valid", next < payload.size() ? 1 : 0);
    if (next < payload.size()) simulator.set("symbol", payload[next]);
    const bool is_taken = simulator.value("symbol_take") != 0;
    simulator.clock();
    if (simulator.value("busy") != 0) simulator.set("send", 0);
    if (is_taken) ++next;
    const bool is_active = simulator.value("line_active") != 0;
    if (is_tick && is_active) bits.push_back(simulator.value("line_bit") != 0);
    if (was_active && !is_active) return bits;
    was_active = is_active;
  }
  FAIL("the encoder does not end");
  return bits;
}

// A data symbol in the place of a control symbol.
constexpr unsigned wrong_symbol = 0b10100;

}  // namespace

TEST_CASE("start sets are those of the specification") {
  const FramingShape shape;
  for (unsigned set = 0; set < 7; ++set) {
    for (unsigned i = 0; i < 4; ++i) CHECK(start_symbol(shape, set, i) == wire_sets[set][i]);
  }
  for (unsigned symbols = 1; symbols <= 6; ++symbols) {
    const FramingShape other{64, symbols, 7};
    for (unsigned a = 0; a < 7; ++a) {
      for (unsigned b = a + 1; b < 7; ++b) CHECK(start_pattern(other, a) != start_pattern(other, b));
    }
  }
}

// Length on the wire with N objects: 149 + 40 N bits; hard reset 84 bits [C].
TEST_CASE("the encoder sends packets bit by bit as the specification writes them") {
  std::mt19937_64 random(1);
  for (const unsigned spacing : {1U, 3U}) {
    for (unsigned set = 0; set < 7; ++set) {
      for (const std::size_t objects : {0U, 1U, 7U}) {
        const auto bytes = random_bytes(random, 2 + 4 * objects);
        const auto bits = sent_bits(FramingShape{}, set, wire_payload(bytes), spacing);
        CHECK(bits == wire_packet(set, bytes));
        CHECK(bits.size() == (is_bare(set) ? 84 : 149 + 40 * objects));
      }
    }
  }
}

TEST_CASE("the decoder finds sets, symbols and ends, packet after packet") {
  std::mt19937_64 random(2);
  for (const unsigned spacing : {1U, 2U, 8U}) {
    Receiver receiver((FramingShape()));
    for (unsigned packet = 0; packet < 28; ++packet) {
      CAPTURE(spacing, packet);
      const unsigned set = packet % 7;
      const auto bytes = random_bytes(random, 2 + 4 * (packet % 8));
      receiver.feed(wire_packet(set, bytes), spacing);
      receiver.idle();
      REQUIRE(receiver.take() == expected_events(set, wire_payload(bytes)));
    }
  }
}

TEST_CASE("most of the preamble may be lost, all of it may not") {
  std::mt19937_64 random(3);
  const auto bytes = random_bytes(random, 6);
  for (const std::size_t lost : {0U, 20U, 47U, 64U}) {
    Receiver receiver((FramingShape()));
    auto bits = wire_packet(0, bytes);
    bits.erase(bits.begin(), bits.begin() + static_cast<std::ptrdiff_t>(lost));
    receiver.feed(bits, 2);
    receiver.idle();
    const auto events = receiver.take();
    if (lost < 64) {
      CHECK(events == expected_events(0, wire_payload(bytes)));
    } else {
      CHECK(events.empty());
    }
  }
}

// A set counts as found with three of four symbols right: IEC 62680-1-2, as the decoder that
// framing_fixture.hpp names takes it [S].
TEST_CASE("one wrong symbol of four is tolerated, two are not") {
  for (unsigned set = 0; set < 7; ++set) {
    for (std::size_t wrong = 0; wrong < 4; ++wrong) {
      CAPTURE(set, wrong);
      auto symbols = wire_sets[set];
      symbols[wrong] = wrong_symbol;
      auto bits = wire_preamble(64);
      append(bits, wire_symbols(symbols));
      Receiver receiver((FramingShape()));
      receiver.feed(bits, 2);
      receiver.idle();
      auto events = receiver.take();
      REQUIRE(!events.empty());
      CHECK(events.front() == "set " + std::to_string(set));
      symbols[(wrong + 1) % 4] = wrong_symbol;
      auto worse = wire_preamble(64);
      append(worse, wire_symbols(symbols));
      Receiver second((FramingShape()));
      second.feed(worse, 2);
      second.idle();
      CHECK(second.take().empty());
    }
  }
}

TEST_CASE("a line that goes idle inside a packet is an error, and the next packet is received") {
  std::mt19937_64 random(4);
  Receiver receiver((FramingShape()));
  const auto bytes = random_bytes(random, 30);
  auto cut = wire_packet(1, bytes);
  cut.resize(200);
  receiver.feed(cut, 2);
  CHECK(receiver.is_receiving());
  receiver.idle();
  auto events = receiver.take();
  CHECK(events.back() == "error");
  CHECK(!receiver.is_receiving());
  receiver.feed(wire_packet(1, bytes), 2);
  receiver.idle();
  CHECK(receiver.take() == expected_events(1, wire_payload(bytes)));
}

TEST_CASE("a search without a set is given up and a new preamble is followed") {
  std::mt19937_64 random(5);
  Receiver receiver((FramingShape()));
  auto bits = wire_preamble(64);
  append(bits, std::vector<bool>(60, false));
  const auto bytes = random_bytes(random, 2);
  append(bits, wire_packet(2, bytes));
  receiver.feed(bits, 2);
  receiver.idle();
  CHECK(receiver.take() == expected_events(2, wire_payload(bytes)));
}

TEST_CASE("encoder and decoder agree over the corners of the settings") {
  std::mt19937_64 random(6);
  for (const unsigned preamble : {2U, 7U, 64U, 256U}) {
    for (unsigned symbols = 1; symbols <= 6; ++symbols) {
      for (const unsigned sets : {1U, 2U, 5U, 7U}) {
        const FramingShape shape{preamble, symbols, sets};
        const auto set = static_cast<unsigned>(random() % sets);
        CAPTURE(preamble, symbols, sets, set);
        const auto payload = wire_payload(random_bytes(random, 6));
        const auto bits = sent_bits(shape, set, payload, 2);
        const std::size_t after_preamble = 5 * (symbols + (is_bare(set) ? 0 : payload.size() + 1));
        REQUIRE(bits.size() == preamble + after_preamble);
        // A single symbol can also be met by chance where it follows the preamble.
        if (symbols == 1) continue;
        Receiver receiver(shape);
        receiver.feed(bits, 2);
        receiver.idle();
        CHECK(receiver.take() == expected_events(set, payload));
      }
    }
  }
}

TEST_CASE("idle framing does not toggle, active framing does, in both directions") {
  const Kind kind = framing_kind();
  for (const char* direction : {"encode", "decode"}) {
    CAPTURE(direction);
    Settings settings = Settings::standard(kind.settings);
    settings.set("direction", direction);
    const auto network = kind.network(settings);
    std::vector<std::uint64_t> toggles;
    for (const TrafficState state : {TrafficState::idle, TrafficState::active}) {
      logic::Simulator simulator(network);
      const Drive drive = kind.traffic(settings, state, 1);
      std::uint64_t seen = 0;
      for (std::uint64_t clock = 0; clock < 9000; ++clock) {
        drive(simulator, clock);
        simulator.clock();
        if (clock == 3) simulator.reset_toggles();
        seen += simulator.value(direction == std::string("encode") ? "done" : "end");
      }
      std::uint64_t total = 0;
      for (const auto& reg : network.registers()) total += simulator.toggles(reg.node);
      toggles.push_back(total);
      CHECK(seen == (state == TrafficState::active ? 2U : 0U));
    }
    CHECK(toggles[0] == 0);
    CHECK(toggles[1] > 64 * 1000);
  }
}

}  // namespace portweigh::blocks

// Kind "framing": settings, start sets, traffic.
#include "blocks/packet/framing.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <memory>
#include <random>
#include <string>
#include <utility>
#include <vector>

#include "blocks/event_recorder.hpp"
#include "blocks/line/symbol_code.hpp"
#include "blocks/random_traffic.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned sync_1 = 0, sync_2 = 1, sync_3 = 2, reset_1 = 3, reset_2 = 4;  // in control_symbols
// SOP, SOP', SOP'', Hard Reset, Cable Reset, SOP'_Debug, SOP''_Debug.
constexpr std::array<std::array<unsigned, 4>, 7> standard_sets{{{sync_1, sync_1, sync_1, sync_2},
                                                                {sync_1, sync_1, sync_3, sync_3},
                                                                {sync_1, sync_3, sync_1, sync_3},
                                                                {reset_1, reset_1, reset_1, reset_2},
                                                                {reset_1, sync_1, reset_1, sync_3},
                                                                {sync_1, reset_2, reset_2, sync_3},
                                                                {sync_1, reset_2, sync_3, sync_2}}};
// Sets of one symbol: the five control symbols and two that the code leaves unused.
constexpr std::array<unsigned, 7> single_symbols{0b11000, 0b10001, 0b00110, 0b00111,
                                                 0b11001, 0b00100, 0b01100};
// Clocks for each bit of the traffic: a line decoder that samples eight times a bit.
constexpr std::uint64_t clocks_per_bit = 8;
// Symbols after the start set: header, 7 objects, CRC-32.
constexpr unsigned traffic_symbols = 2 * (2 + 28 + 4);
constexpr unsigned gap_bits = 8;

std::vector<Setting> framing_settings() {
  return {
      {"preamble_bits", "alternating bits before the start set", IntegerDomain{2, 64, 256}},
      {"symbols", "five-bit symbols of a start set", IntegerDomain{1, 4, 6}},
      {"sets", "start sets that are told apart", IntegerDomain{1, 7, 7}},
      {"direction", "sender or receiver", ChoiceDomain{{"encode", "decode"}, "decode"}},
      {"payload_bytes", "firmware: bytes of a message, header and objects", IntegerDomain{2, 30, 250}},
  };
}

FramingShape shape_of(const Settings& settings) {
  return {.preamble_bits = static_cast<unsigned>(settings.integer("preamble_bits")),
          .symbols = static_cast<unsigned>(settings.integer("symbols")),
          .sets = static_cast<unsigned>(settings.integer("sets"))};
}

// Preamble, start set, payload and check sum, end. The preamble is part of the routine's work and of the time
// it has for it.
double message_bits(const Settings& settings) {
  constexpr std::int64_t check_sum_bytes = 4;
  return static_cast<double>(settings.integer("preamble_bits") + symbol_bits * settings.integer("symbols") +
                             2 * symbol_bits * (settings.integer("payload_bytes") + check_sum_bytes) +
                             symbol_bits);
}

bool is_encoder(const Settings& settings) {
  return settings.choice("direction") == "encode";
}

void append_symbol(std::vector<std::uint64_t>& lanes, const std::array<unsigned, 64>& symbols) {
  for (unsigned bit = 0; bit < symbol_bits; ++bit) {
    std::uint64_t lane = 0;
    for (unsigned stream = 0; stream < 64; ++stream) {
      lane |= std::uint64_t{symbols[stream] >> bit & 1U} << stream;
    }
    lanes.push_back(lane);
  }
}

std::array<unsigned, 64> random_nibbles(std::mt19937_64& random) {
  std::array<unsigned, 64> symbols{};
  for (unsigned& symbol : symbols) symbol = nibble_symbols[random() % 16];
  return symbols;
}

std::array<unsigned, 64> same_symbol(unsigned symbol) {
  std::array<unsigned, 64> symbols{};
  symbols.fill(symbol);
  return symbols;
}

// The bits of one packet, of another payload in each stream.
std::vector<std::uint64_t> packet_lanes(const FramingShape& shape, std::mt19937_64& random) {
  std::vector<std::uint64_t> lanes;
  for (unsigned i = 0; i < shape.preamble_bits; ++i) lanes.push_back(i % 2 == 0 ? 0 : ~std::uint64_t{0});
  for (unsigned i = 0; i < shape.symbols; ++i) append_symbol(lanes, same_symbol(start_symbol(shape, 0, i)));
  for (unsigned i = 0; i < traffic_symbols; ++i) append_symbol(lanes, random_nibbles(random));
  append_symbol(lanes, same_symbol(end_symbol));
  return lanes;
}

// Packets with a short idle gap between them.
Drive decode_traffic(const FramingShape& shape, std::uint64_t seed) {
  struct State {
    std::mt19937_64 random;
    std::vector<std::uint64_t> lanes;
    std::size_t next = 0;
  };
  auto state = std::make_shared<State>();
  state->random.seed(seed);
  return [shape, state](logic::Simulator& simulator, std::uint64_t clock) {
    simulator.set("reset", clock == 0 ? 1 : 0);
    if (clock % clocks_per_bit != 0) {
      simulator.set("bit_valid", 0);
      return;
    }
    if (state->next >= state->lanes.size() + gap_bits || state->lanes.empty()) {
      state->lanes = packet_lanes(shape, state->random);
      state->next = 0;
    }
    const bool is_gap = state->next >= state->lanes.size();
    simulator.set("line_idle", is_gap ? 1 : 0);
    simulator.set("bit_valid", is_gap ? 0 : 1);
    if (!is_gap) {
      for (const auto& input : simulator.network().inputs()) {
        if (input.name == "bit") simulator.set_lanes(input.literal, state->lanes[state->next]);
      }
    }
    ++state->next;
  };
}

// Sends packet after packet; symbols are random and change when one has been taken.
Drive encode_traffic(std::uint64_t seed) {
  struct State {
    std::mt19937_64 random;
    unsigned left = 0;
    bool is_taken = true;
  };
  auto state = std::make_shared<State>();
  state->random.seed(seed);
  return [state](logic::Simulator& simulator, std::uint64_t clock) {
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("send", clock == 0 ? 0 : 1);
    simulator.set("bit_tick", clock % clocks_per_bit == 0 ? 1 : 0);
    if (simulator.value("busy") == 0) state->left = traffic_symbols;
    if (state->is_taken) {
      const auto symbols = random_nibbles(state->random);
      for (unsigned stream = 0; stream < 64; ++stream) simulator.set("symbol", stream, symbols[stream]);
    }
    simulator.set("symbol_valid", state->left > 0 ? 1 : 0);
    state->is_taken = simulator.value("symbol_take") != 0;
    if (state->is_taken) --state->left;
  };
}

Drive framing_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  if (state == TrafficState::active) {
    return is_encoder(settings) ? encode_traffic(seed) : decode_traffic(shape_of(settings), seed);
  }
  const bool has_line = !is_encoder(settings);
  return [has_line](logic::Simulator& simulator, std::uint64_t clock) {
    simulator.set("reset", clock == 0 ? 1 : 0);
    if (has_line) simulator.set("line_idle", 1);
  };
}

// Messages of random objects, one in eight to another set.
void fill_message(firmware::Machine& machine, std::mt19937_64& random, unsigned payload_bytes) {
  for (unsigned i = 0; i < payload_bytes; ++i) {
    machine.set_element("payload", i, static_cast<std::uint32_t>(random() & 0xFFU));
  }
}

FirmwareRun framing_run(const Settings& settings, std::string_view method) {
  const FramingShape shape = shape_of(settings);
  const auto payload_bytes = static_cast<unsigned>(settings.integer("payload_bytes"));
  const CrcMethod crc = method.empty() ? CrcMethod::byte_table : crc_method(method);
  // What is received must have been sent; a unit that computes the check value is played by a table.
  const CrcMethod sender_crc = is_encoder(settings) ? crc : CrcMethod::byte_table;
  EventRecorder sender(framing_encode_routine(shape, payload_bytes, sender_crc));
  EventRecorder receiver(framing_decode_routine(shape, payload_bytes, crc));
  std::mt19937_64 random(1);
  if (!is_encoder(settings) && crc == CrcMethod::crc_unit) {
    const std::uint64_t right = crc_code(Settings::standard(crc_kind().settings)).residue();
    receiver.machine().on_read("crc_unit_result", [right] { return static_cast<std::uint32_t>(right); });
  }
  for (unsigned message = 0; message < 64; ++message) {
    fill_message(sender.machine(), random, payload_bytes);
    const unsigned set = message % 8 == 7 ? message / 8 % std::min(shape.sets, 3U) : 0;
    const auto type = static_cast<std::uint32_t>(random() % 32);
    const std::uint32_t bytes = sender.run({set, type, message % 8, payload_bytes});
    for (std::uint32_t i = 0; i < bytes; ++i) {
      receiver.machine().set_element("packed", i, sender.machine().element("packed", i));
    }
    if (!is_encoder(settings)) receiver.run({bytes});
  }
  return is_encoder(settings) ? std::move(sender).finish() : std::move(receiver).finish();
}

}  // namespace

unsigned FramingShape::set_bits() const {
  return static_cast<unsigned>(std::bit_width(std::max(sets, 2U) - 1));
}

unsigned start_symbol(const FramingShape& shape, unsigned set, unsigned position) {
  if (shape.symbols == 1) return single_symbols.at(set);
  const unsigned shifted = shape.symbols < 4 ? position + 4 - shape.symbols : position % 4;
  return control_symbols[standard_sets.at(set)[shifted]];
}

std::uint32_t start_pattern(const FramingShape& shape, unsigned set) {
  std::uint32_t pattern = 0;
  for (unsigned i = 0; i < shape.symbols; ++i) pattern |= start_symbol(shape, set, i) << (symbol_bits * i);
  return pattern;
}

bool is_bare(unsigned set) {
  return set == 3 || set == 4;
}

unsigned bits_to_lock(const FramingShape& shape) {
  return std::bit_floor(std::max(shape.preamble_bits / 4, 1U));
}

std::size_t packed_bytes(const FramingShape& shape, unsigned payload_bytes) {
  const unsigned check_bytes = 4;
  const unsigned symbols = shape.symbols + 2 * (payload_bytes + check_bytes) + 1;
  return (shape.preamble_bits + std::size_t{symbol_bits} * symbols + 7) / 8;
}

Kind framing_kind() {
  Kind kind;
  kind.name = "framing";
  kind.summary = "packets of five-bit symbols: preamble, start sets, end symbol";
  kind.spread_class = "framing";
  kind.settings = framing_settings();
  kind.network = [](const Settings& settings) {
    const FramingShape shape = shape_of(settings);
    return is_encoder(settings) ? framing_encode_network(shape) : framing_decode_network(shape);
  };
  kind.traffic = framing_traffic;
  kind.methods = {{"byte-table", {}}, {"nibble-table", {}}, {"bitwise", {}}, {"crc-unit", {"crc-unit"}}};
  kind.run = framing_run;
  kind.event = always(Event::message);
  kind.pace = [](const Settings&) { return Pace{Event::bit, clocks_per_bit}; };
  kind.stage = Stage::packet;
  kind.symbols = [](const Settings&) { return facts_4b5b; };
  kind.message_bits = message_bits;
  // Symbols and check sum are computed in the same pass, and the array of the payload is the packet buffer.
  kind.contained_kinds = {"crc", "symbol-code", "buffer"};
  kind.pins = [](const Settings&) { return Pins{}; };
  return kind;
}

}  // namespace portweigh::blocks

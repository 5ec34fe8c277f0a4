// Symbol codes: the tables of 8b10b, settings, traffic, runs. Networks in symbol_code_network.cpp, routines
// in symbol_code_routine.cpp.
//
// Tested by tests/blocks/line/symbol_code_test.cpp.
#include "blocks/line/symbol_code.hpp"

#include <bit>
#include <random>
#include <utility>
#include <vector>

#include "blocks/event_recorder.hpp"
#include "blocks/random_traffic.hpp"

namespace portweigh::blocks {
namespace {

// "abcdei" with `a` first, as published; bit 0 of the result is `a`.
constexpr unsigned from_text(const char* text) {
  unsigned part = 0;
  for (unsigned i = 0; text[i] != '\0'; ++i) part |= static_cast<unsigned>(text[i] == '1') << i;
  return part;
}

constexpr std::array<unsigned, 32> six_bit_column{
    from_text("100111"), from_text("011101"), from_text("101101"), from_text("110001"), from_text("110101"),
    from_text("101001"), from_text("011001"), from_text("111000"), from_text("111001"), from_text("100101"),
    from_text("010101"), from_text("110100"), from_text("001101"), from_text("101100"), from_text("011100"),
    from_text("010111"), from_text("011011"), from_text("100011"), from_text("010011"), from_text("110010"),
    from_text("001011"), from_text("101010"), from_text("011010"), from_text("111010"), from_text("110011"),
    from_text("100110"), from_text("010110"), from_text("110110"), from_text("001110"), from_text("101110"),
    from_text("011110"), from_text("101011")};
constexpr std::array<unsigned, 8> four_bit_column{from_text("1011"), from_text("1001"), from_text("0101"),
                                                  from_text("1100"), from_text("1101"), from_text("1010"),
                                                  from_text("0110"), from_text("1110")};
constexpr std::array<unsigned, 4> controls_with_seven{23, 27, 29, 30};

constexpr unsigned mask_of(unsigned bits) {
  return (1U << bits) - 1U;
}

unsigned ones_in(unsigned part) {
  return static_cast<unsigned>(std::popcount(part));
}

void set_disparities(PartMeaning& meaning, unsigned part, unsigned bits) {
  const unsigned half = mask_of(bits / 2);  // 111000 and 1100, whose ones come first
  const unsigned complement = ~part & mask_of(bits);
  meaning.starts_minus = ones_in(part) > bits / 2 || part == half;
  meaning.starts_plus = ones_in(part) < bits / 2 || complement == half;
  meaning.ends_plus = ones_in(part) > bits / 2 || complement == half;
  meaning.ends_minus = ones_in(part) < bits / 2 || part == half;
}

struct Character {
  unsigned byte = 0;
  bool is_control = false;
};

// One in 16 is a control character, as around short frames.
Character random_character(std::mt19937_64& random) {
  const std::uint64_t bits = random();
  if (bits % 16 != 0) return {static_cast<unsigned>(bits >> 8 & 0xFFU), false};
  const unsigned choice = static_cast<unsigned>(bits >> 8 & 0xFU);
  if (choice < 8) return {28U | choice << 5, true};
  return {controls_with_seven[choice % 4] | 7U << 5, true};
}

unsigned random_five_bits(std::mt19937_64& random) {
  const std::uint64_t bits = random();
  return bits % 16 != 0 ? nibble_symbols[bits >> 8 & 0xFU]
                        : control_symbols[(bits >> 8) % control_symbols.size()];
}

Drive encoder_traffic(bool is_long, TrafficState state, std::uint64_t seed) {
  return [=, random = std::mt19937_64(seed)](logic::Simulator& simulator, std::uint64_t clock) mutable {
    const bool is_running = state == TrafficState::active && clock != 0 && clock % traffic_spacing == 0;
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("enable", is_running ? 1 : 0);
    if (!is_running) return;
    for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
      Character character = random_character(random);
      if (!is_long) character.byte = character.is_control ? character.byte % 6 : character.byte & 0xFU;
      simulator.set("data", stream, character.byte);
      simulator.set("control", stream, character.is_control ? 1 : 0);
    }
  };
}

Drive decoder_traffic(bool is_long, TrafficState state, std::uint64_t seed) {
  return
      [=, random = std::mt19937_64(seed), encoders = std::vector<EightTenEncoder>(logic::Simulator::streams)](
          logic::Simulator& simulator, std::uint64_t clock) mutable {
        const bool is_running = state == TrafficState::active && clock != 0 && clock % traffic_spacing == 0;
        simulator.set("reset", clock == 0 ? 1 : 0);
        simulator.set("enable", is_running ? 1 : 0);
        if (!is_running) return;
        for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
          const Character character = random_character(random);
          simulator.set("symbol", stream,
                        is_long ? encoders[stream].encode(character.byte, character.is_control)
                                : random_five_bits(random));
        }
      };
}

Drive symbol_code_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  const bool is_long = settings.choice("code") == "8b10b";
  return settings.choice("direction") == "encode" ? encoder_traffic(is_long, state, seed)
                                                  : decoder_traffic(is_long, state, seed);
}

// Whole bytes of data, low bit first.
std::vector<bool> symbols_sent(const Settings& settings, const std::vector<bool>& bits) {
  const bool is_long = settings.choice("code") == "8b10b";
  EightTenEncoder encoder;
  std::vector<bool> sent;
  sent.reserve(bits.size() / 8 * 10);
  for (std::size_t at = 0; at + 8 <= bits.size(); at += 8) {
    unsigned byte = 0;
    for (std::size_t i = 0; i < 8; ++i) byte |= static_cast<unsigned>(bits[at + i]) << i;
    const unsigned symbols =
        is_long ? encoder.encode(byte, false)
                : nibble_symbols[byte & 0xFU] | static_cast<unsigned>(nibble_symbols[byte >> 4]) << 5;
    for (unsigned i = 0; i < 10; ++i) sent.push_back((symbols >> i & 1U) != 0);
  }
  return sent;
}

FirmwareRun run_symbol_code(const Settings& settings, std::string_view /*method*/) {
  constexpr unsigned events = 1024;
  const bool is_long = settings.choice("code") == "8b10b";
  const bool is_encoder = settings.choice("direction") == "encode";
  EventRecorder recorder(symbol_code_routine(settings));
  std::mt19937_64 random(1);
  EightTenEncoder encoder;
  for (unsigned i = 0; i < events; ++i) {
    const Character character = random_character(random);
    const unsigned byte = character.byte;
    if (is_long && is_encoder) {
      recorder.run({byte, character.is_control ? 1U : 0U});
    } else if (is_long) {
      recorder.run({encoder.encode(byte, character.is_control)});
    } else if (is_encoder) {
      recorder.run({byte});
    } else {
      recorder.run({nibble_symbols[byte & 0xFU] | static_cast<unsigned>(nibble_symbols[byte >> 4]) << 5});
    }
  }
  return std::move(recorder).finish();
}

}  // namespace

bool is_complemented(unsigned part, unsigned bits) {
  return is_unbalanced(part, bits) || part == mask_of(bits / 2);
}

bool is_unbalanced(unsigned part, unsigned bits) {
  return ones_in(part) != bits / 2;
}

unsigned six_bits_of(unsigned x) {
  return six_bit_column.at(x);
}

// After K28 the parts of y = 1, 2, 5, 6 are the complements of the data ones, so that commas stay unique.
unsigned four_bits_of(unsigned y, bool is_control) {
  const unsigned data = four_bit_column.at(y);
  if (!is_control) return data;
  if (y == 7) return four_bits_alternate_seven;
  return is_complemented(data, 4) ? data : ~data & mask_of(4);
}

bool takes_alternate_seven(unsigned x, bool is_plus) {
  return is_plus ? x == 11 || x == 13 || x == 14 : x == 17 || x == 18 || x == 20;
}

PartMeaning six_bit_meaning(unsigned part) {
  PartMeaning meaning;
  set_disparities(meaning, part, 6);
  const unsigned complement = ~part & mask_of(6);
  for (unsigned x = 0; x < six_bit_column.size(); ++x) {
    const bool is_minus_column = part == six_bit_column[x];
    const bool is_plus_column = is_complemented(six_bit_column[x], 6) && complement == six_bit_column[x];
    if (!is_minus_column && !is_plus_column) continue;
    meaning.value = static_cast<std::uint8_t>(x);
    meaning.is_valid = true;
    meaning.allows_0111 = takes_alternate_seven(x, false);
    meaning.allows_1000 = takes_alternate_seven(x, true);
    for (const unsigned control : controls_with_seven) {
      if (x != control) continue;
      meaning.is_control_with_seven = true;
      meaning.allows_1000 = is_minus_column;  // which left the disparity plus
      meaning.allows_0111 = is_plus_column;
    }
  }
  if (part == six_bits_of_k28 || complement == six_bits_of_k28) {
    meaning.value = 28;
    meaning.is_valid = true;
    meaning.allows_1000 = part == six_bits_of_k28;
    meaning.allows_0111 = complement == six_bits_of_k28;
  }
  return meaning;
}

PartMeaning four_bit_meaning(unsigned part) {
  PartMeaning meaning;
  set_disparities(meaning, part, 4);
  const unsigned complement = ~part & mask_of(4);
  for (unsigned y = 0; y < four_bit_column.size(); ++y) {
    const bool is_complement = is_complemented(four_bit_column[y], 4) && complement == four_bit_column[y];
    if (part != four_bit_column[y] && !is_complement) continue;
    meaning.value = static_cast<std::uint8_t>(y);
    meaning.is_valid = true;
  }
  if (part == four_bits_alternate_seven || complement == four_bits_alternate_seven) {
    meaning.value = 7;
    meaning.is_valid = true;
  }
  return meaning;
}

unsigned EightTenEncoder::encode(unsigned byte, bool is_control) {
  const unsigned x = byte & 0x1FU;
  const unsigned y = byte >> 5;
  const unsigned six = is_control && x == 28 ? six_bits_of_k28 : six_bits_of(x);
  const unsigned six_sent = is_plus_ && is_complemented(six, 6) ? ~six & mask_of(6) : six;
  is_plus_ = is_plus_ != is_unbalanced(six, 6);
  const bool is_alternate = y == 7 && (is_control || takes_alternate_seven(x, is_plus_));
  const unsigned four = is_alternate ? four_bits_alternate_seven : four_bits_of(y, is_control);
  const bool is_turned = is_plus_ && (is_control || is_complemented(four, 4));
  const unsigned four_sent = is_turned ? ~four & mask_of(4) : four;
  is_plus_ = is_plus_ != is_unbalanced(four, 4);
  return six_sent | four_sent << 6;
}

Kind symbol_code_kind() {
  Kind kind;
  kind.name = "symbol-code";
  kind.summary = "4b5b with control symbols, or 8b10b with running disparity";
  kind.spread_class = "code-table";
  kind.settings = {{"code", "nibbles to five bits, or bytes to ten", ChoiceDomain{{"4b5b", "8b10b"}, "4b5b"}},
                   {"direction", "to symbols or back", ChoiceDomain{{"encode", "decode"}, "encode"}}};
  kind.network = symbol_code_network;
  kind.traffic = symbol_code_traffic;
  kind.methods = {{"tables", {}}};
  kind.run = run_symbol_code;
  kind.event = always(Event::byte);
  kind.pace = [](const Settings& settings) {
    const double symbols = settings.choice("code") == "8b10b" ? 1 : 2;
    return Pace{Event::byte, symbols * traffic_spacing};
  };
  kind.stage = Stage::packet;
  kind.sent = symbols_sent;
  kind.symbols = [](const Settings& settings) {
    return settings.choice("code") == "4b5b" ? facts_4b5b : facts_8b10b;
  };
  kind.pins = [](const Settings&) { return Pins{}; };
  return kind;
}

}  // namespace portweigh::blocks

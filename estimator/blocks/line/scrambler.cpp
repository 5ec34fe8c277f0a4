// Scrambler: settings, network, traffic, pins. The routine stands in scrambler_routine.cpp.
//
// The network computes the feedback of all bits of a clock at once, either bit after bit (each new bit may
// use earlier new ones) or as sums of register bits alone (flat, fewer levels); the one with fewer 4-input
// sums is taken. Outputs are combinational by default, as a scrambler usually sits inside a data path that
// is registered by what follows; `registered_output` adds the register.
// Tested by tests/blocks/line/scrambler_test.cpp.
#include "blocks/line/scrambler.hpp"

#include <fmt/core.h>

#include <bit>
#include <limits>
#include <random>
#include <utility>

#include "blocks/random_traffic.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned widest = 64;

std::vector<Setting> scrambler_settings() {
  return {{"width", "bits of the shift register", IntegerDomain{2, 16, widest}},
          {"polynomial", "terms below the leading one, bit i for x^i",
           IntegerDomain{1, 0x39, std::numeric_limits<std::uint64_t>::max()}},
          {"bits_per_clock", "bits taken at each enabled clock", IntegerDomain{1, 1, 128}},
          {"style", "free-running sequence, or fed by the scrambled stream",
           ChoiceDomain{{"additive", "self-synchronising"}, "additive"}},
          {"direction", "matters for the self-synchronising style only",
           ChoiceDomain{{"encode", "decode"}, "encode"}},
          {"inverted", "the stream on the wire is complemented", FlagDomain{false}},
          {"registered_output", "hold the output bits in registers", FlagDomain{false}}};
}

// 4-input sums that `terms` operands take.
std::size_t sums_for(std::size_t terms) {
  return terms < 2 ? 0 : (terms + 1) / 3;
}

// Register bits (bit i: s[-1 - i]) that each of `count` new bits of an additive scrambler is the sum of.
std::vector<std::uint64_t> feedback_rows(const ScramblerCode& code, std::size_t count) {
  const auto taps = code.taps();
  std::vector<std::uint64_t> rows;
  for (std::size_t n = 0; n < count; ++n) {
    std::uint64_t row = 0;
    for (const unsigned tap : taps) {
      row ^= tap <= n ? rows[n - tap] : std::uint64_t{1} << (tap - n - 1);
    }
    rows.push_back(row);
  }
  return rows;
}

std::vector<Bit> flat_feedback(const Word& state, const std::vector<std::uint64_t>& rows) {
  std::vector<Bit> bits;
  for (const std::uint64_t row : rows) {
    Word terms(state.network());
    for (std::size_t i = 0; i < state.size(); ++i) {
      if ((row >> i & 1U) != 0) terms.append(state[i]);
    }
    bits.push_back(terms.size() == 0 ? logic::constant_bit(state.network(), false) : logic::parity(terms));
  }
  return bits;
}

bool flat_is_smaller(const ScramblerCode& code, const std::vector<std::uint64_t>& rows) {
  std::size_t flat = 0;
  for (const std::uint64_t row : rows) flat += sums_for(static_cast<std::size_t>(std::popcount(row)));
  return flat <= rows.size() * sums_for(code.taps().size());
}

struct Streams {
  std::vector<Bit> output;
  std::vector<Bit> shifted;  // what enters the register, first bit first
};

Streams make_streams(const ScramblerCode& code, const Word& state, const Word& data) {
  const auto taps = code.taps();
  const auto rows = code.style == ScramblerStyle::additive ? feedback_rows(code, data.size())
                                                           : std::vector<std::uint64_t>{};
  const bool is_flat = !rows.empty() && flat_is_smaller(code, rows);
  const auto flat = is_flat ? flat_feedback(state, rows) : std::vector<Bit>{};
  Streams streams;
  for (std::size_t n = 0; n < data.size(); ++n) {
    Word terms(state.network());
    for (const unsigned tap : taps) terms.append(tap <= n ? streams.shifted[n - tap] : state[tap - n - 1]);
    const Bit feedback = is_flat ? flat[n] : logic::parity(terms);
    streams.output.push_back(data[n] ^ feedback);
    switch (code.style) {
      case ScramblerStyle::additive:
        streams.shifted.push_back(feedback);
        break;
      case ScramblerStyle::self_synchronising_encode:
        streams.shifted.push_back(streams.output[n]);
        break;
      case ScramblerStyle::self_synchronising_decode:
        streams.shifted.push_back(data[n]);
        break;
    }
  }
  return streams;
}

Network scrambler_network(const Settings& settings) {
  const ScramblerCode code = scrambler_code(settings);
  const auto count = static_cast<std::size_t>(settings.integer("bits_per_clock"));
  Network net;
  const Bit reset = logic::add_input(net, "reset");
  const Bit enable = logic::add_input(net, "enable");
  const Word data = logic::add_input_word(net, "data", count);
  const Word state = logic::add_registers(net, "state", code.width);
  const bool is_inverted = settings.flag("inverted");
  const bool is_descrambler = code.style == ScramblerStyle::self_synchronising_decode;
  // A descrambler has the complemented stream at its input, everything else at its output.
  const Streams streams = make_streams(code, state, is_inverted && is_descrambler ? ~data : data);

  Word next(net);
  for (std::size_t i = 0; i < code.width; ++i) {
    next.append(i < count ? streams.shifted[count - 1 - i] : state[i - count]);
  }
  const std::uint64_t ones = ~std::uint64_t{0} >> (widest - code.width);
  logic::connect(state, next, {.enable = enable, .reset = reset, .reset_value = ones});

  Word output(net);
  for (const Bit bit : streams.output) output.append(is_inverted && !is_descrambler ? !bit : bit);
  if (settings.flag("registered_output")) {
    output = logic::registered("output_register", output, {.enable = enable, .reset = reset});
  }
  logic::add_output(output, "output");
  return net;
}

Drive scrambler_traffic(const Settings& /*settings*/, TrafficState state, std::uint64_t seed) {
  return [state, random = std::mt19937_64(seed), data = RandomInput("data")](logic::Simulator& simulator,
                                                                             std::uint64_t clock) mutable {
    const bool is_running = state == TrafficState::active && clock != 0 && clock % traffic_spacing == 0;
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("enable", is_running ? 1 : 0);
    if (is_running) data.set(simulator, random);
  };
}

FirmwareRun run_scrambler(const Settings& settings, std::string_view method) {
  constexpr std::uint64_t events = 512;
  const ScramblerCode code = scrambler_code(settings);
  firmware::Routine routine = scrambler_routine(code, method);
  std::mt19937_64 generator(1);
  firmware::Machine machine(routine);
  machine.set("register_low", static_cast<std::uint32_t>(generator()) | 1U);
  for (std::uint64_t i = 0; i < events; ++i) machine.run({static_cast<std::uint32_t>(generator() & 0xFFU)});
  const firmware::Counts counts = machine.counts();
  machine.clear_counts();
  machine.run({0xFF});  // every byte takes the same path
  const firmware::Counts worst = machine.counts();
  return {std::move(routine), counts, events, {worst}};
}

}  // namespace

std::vector<unsigned> ScramblerCode::taps() const {
  std::vector<unsigned> exponents;
  for (unsigned i = 1; i < width; ++i) {
    if ((polynomial >> i & 1U) != 0) exponents.push_back(i);
  }
  exponents.push_back(width);
  return exponents;
}

ScramblerCode scrambler_code(const Settings& settings) {
  ScramblerCode code;
  code.width = static_cast<unsigned>(settings.integer("width"));
  code.polynomial = settings.integer("polynomial");
  if (code.width < widest && code.polynomial >> code.width != 0) {
    throw SettingError(
        fmt::format("setting \"polynomial\": {:#x} has terms at or above x^{}, expected terms "
                    "below the width (the leading one is implied)",
                    code.polynomial, code.width));
  }
  if ((code.polynomial & 1U) == 0) {
    throw SettingError(fmt::format(
        "setting \"polynomial\": {:#x} has no constant term, expected an odd number", code.polynomial));
  }
  if (settings.choice("style") == "self-synchronising") {
    code.style = settings.choice("direction") == "encode" ? ScramblerStyle::self_synchronising_encode
                                                          : ScramblerStyle::self_synchronising_decode;
  }
  return code;
}

Kind scrambler_kind() {
  Kind kind;
  kind.name = "scrambler";
  kind.summary = "linear feedback shift register over a bit stream, additive or self-synchronising";
  kind.spread_class = "scrambler";
  kind.settings = scrambler_settings();
  kind.network = scrambler_network;
  kind.traffic = scrambler_traffic;
  kind.methods = {{"parallel", {}}, {"bitwise", {}}};
  kind.run = run_scrambler;
  kind.event = always(Event::byte);
  kind.pace = [](const Settings& settings) {
    return Pace{Event::byte, 8.0 * traffic_spacing / static_cast<double>(settings.integer("bits_per_clock"))};
  };
  kind.stage = Stage::packet;
  kind.pins = [](const Settings&) { return Pins{}; };
  return kind;
}

}  // namespace portweigh::blocks

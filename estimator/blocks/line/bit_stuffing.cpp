// Bit stuffing: settings, network, traffic, pins. The routine stands in bit_stuffing_routine.cpp.
//
// A counter of equal bits saturates at the run length; encoder and decoder differ in what happens there.
// Tested by tests/blocks/line/bit_stuffing_test.cpp.
#include "blocks/line/bit_stuffing.hpp"

#include <bit>
#include <memory>
#include <random>
#include <utility>
#include <vector>

#include "blocks/event_recorder.hpp"
#include "blocks/random_traffic.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

Word count_register(Network& net, const BitStuffing& code) {
  return logic::add_registers(net, "count", static_cast<std::size_t>(std::bit_width(code.run)));
}

// 1 for complement insertion (every bit begins a run), 0 where only ones count.
std::uint64_t count_after_break(const BitStuffing& code) {
  return code.insertion == Insertion::complement ? 1 : 0;
}

Network encoder(const BitStuffing& code) {
  Network net;
  const Bit reset = logic::add_input(net, "reset");
  const Bit enable = logic::add_input(net, "enable");
  const Bit data = logic::add_input(net, "data");
  const Bit data_valid = logic::add_input(net, "data_valid");
  const Bit raw = logic::add_input(net, "raw");
  const Word count = count_register(net, code);
  const Bit output = logic::add_register(net, "output_register");

  const Bit is_full = count == code.run;
  const bool is_complement = code.insertion == Insertion::complement;
  const Bit continues = is_complement ? ~(data ^ output) & (count != 0U) : data;
  const Word broken = logic::constant_word(net, count_after_break(code), count.size());
  const Word counted = logic::select(continues & !is_full, count + 1U, broken);
  // A raw bit or a gap ends the run; an inserted bit of the zero kind does too.
  const Bit clears = ~is_full & (raw | !data_valid);
  logic::connect(count, logic::gate(!clears, counted), {.enable = enable, .reset = reset});

  const Bit sends = is_full | data_valid;
  const Bit inserted = is_complement ? !output : logic::constant_bit(net, false);
  logic::connect(output, logic::select(is_full, inserted, data), {.enable = enable & sends, .reset = reset});
  const Bit output_valid = logic::registered("output_valid_register", enable & sends, {.reset = reset});

  logic::add_output(output, "output");
  logic::add_output(output_valid, "output_valid");
  logic::add_output(!is_full, "ready");
  return net;
}

Network decoder(const BitStuffing& code) {
  Network net;
  const Bit reset = logic::add_input(net, "reset");
  const Bit enable = logic::add_input(net, "enable");
  const Bit data = logic::add_input(net, "data");
  const Word count = count_register(net, code);
  const Bit output = logic::add_register(net, "output_register");

  const Bit is_full = count == code.run;
  const bool is_complement = code.insertion == Insertion::complement;
  const Bit continues = is_complement ? ~(data ^ output) & (count != 0U) : data;
  const Word broken = logic::constant_word(net, count_after_break(code), count.size());
  logic::connect(count, logic::select(continues, count + 1U, broken),
                 {.enable = enable & !(is_full & continues), .reset = reset});
  logic::connect(output, data, {.enable = enable, .reset = reset});
  const Bit output_valid = logic::registered("output_valid_register", enable & !is_full, {.reset = reset});
  const Bit violation =
      logic::registered("violation_register", enable & is_full & continues, {.reset = reset});

  logic::add_output(output, "output");
  logic::add_output(output_valid, "output_valid");
  logic::add_output(violation, "violation");
  return net;
}

// The decoder sees stuffed random traffic, the encoder random data without raw bits.
Drive bit_stuffing_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  struct Source {
    std::mt19937_64 random;
    RandomInput data{"data"};
    std::vector<unsigned> run = std::vector<unsigned>(logic::Simulator::streams, 0);
    std::vector<bool> last = std::vector<bool>(logic::Simulator::streams, false);
  };
  const BitStuffing code = bit_stuffing(settings);
  const auto next_stuffed = [code](Source& source, unsigned stream) {
    const bool is_zero = code.insertion == Insertion::zero;
    const bool is_inserted = source.run[stream] == code.run;
    const bool inserted = !is_zero && !source.last[stream];
    const bool bit = is_inserted ? inserted : (source.random() & 1U) != 0;
    const bool continues = is_zero ? bit : bit == source.last[stream];
    source.run[stream] = continues && !is_inserted ? source.run[stream] + 1 : (is_zero ? 0U : 1U);
    source.last[stream] = bit;
    return bit;
  };
  return [=, source = std::make_shared<Source>(Source{std::mt19937_64(seed)})](logic::Simulator& simulator,
                                                                               std::uint64_t clock) {
    const bool is_running = state == TrafficState::active && clock != 0 && clock % traffic_spacing == 0;
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("enable", is_running ? 1 : 0);
    if (code.direction == Direction::encode) simulator.set("data_valid", is_running ? 1 : 0);
    if (!is_running) return;
    if (code.direction == Direction::encode) {
      source->data.set(simulator, source->random);
      return;
    }
    for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
      simulator.set("data", stream, next_stuffed(*source, stream) ? 1 : 0);
    }
  };
}

// Random bytes; the decoder gets what the encoder made of them.
FirmwareRun run_bit_stuffing(const Settings& settings, std::string_view /*method*/) {
  constexpr unsigned events = 1024;
  constexpr unsigned queue_bytes = 32;
  const BitStuffing code = bit_stuffing(settings);
  std::mt19937_64 random(1);
  BitStuffing encoding = code;
  encoding.direction = Direction::encode;
  EventRecorder encode(bit_stuffing_routine(encoding));
  std::vector<std::uint32_t> stuffed;
  for (unsigned i = 0; i < events; ++i) {
    encode.run({i % 64 == 0 ? 0xFFU : static_cast<std::uint32_t>(random() & 0xFFU)});
    while (stuffed.size() % 256 != encode.machine().get("head")) {
      stuffed.push_back(encode.machine().element("queue", stuffed.size() % queue_bytes));
    }
  }
  if (code.direction == Direction::encode) return std::move(encode).finish();
  EventRecorder decode(bit_stuffing_routine(code));
  for (const std::uint32_t byte : stuffed) decode.run({byte});
  return std::move(decode).finish();
}

std::vector<bool> stuffed(const Settings& settings, const std::vector<bool>& bits) {
  const BitStuffing code = bit_stuffing(settings);
  const bool is_zero = code.insertion == Insertion::zero;
  std::vector<bool> sent;
  sent.reserve(bits.size() + bits.size() / code.run);
  unsigned run = 0;
  for (const bool bit : bits) {
    const bool continues = is_zero ? bit : !sent.empty() && bit == sent.back();
    run = continues ? run + 1 : (is_zero ? 0 : 1);
    sent.push_back(bit);
    if (run != code.run) continue;
    sent.push_back(!bit);
    run = is_zero ? 0 : 1;
  }
  return sent;
}

}  // namespace

BitStuffing bit_stuffing(const Settings& settings) {
  return {static_cast<unsigned>(settings.integer("run")),
          settings.choice("insert") == "zero" ? Insertion::zero : Insertion::complement,
          settings.choice("direction") == "encode" ? Direction::encode : Direction::decode};
}

Network bit_stuffing_network(const BitStuffing& code) {
  return code.direction == Direction::encode ? encoder(code) : decoder(code);
}

Kind bit_stuffing_kind() {
  Kind kind;
  kind.name = "bit-stuffing";
  kind.summary = "extra bit after a run of equal bits, inserted or taken out";
  kind.spread_class = "line-code";
  kind.settings = {{"run", "equal bits before an inserted one", IntegerDomain{2, 5, 15}},
                   {"direction", "insert or take out", ChoiceDomain{{"encode", "decode"}, "encode"}},
                   {"insert", "a zero after ones, or the complement after any run",
                    ChoiceDomain{{"zero", "complement"}, "zero"}}};
  kind.network = [](const Settings& settings) { return bit_stuffing_network(bit_stuffing(settings)); };
  kind.traffic = bit_stuffing_traffic;
  kind.methods = {{"bit-loop", {}}};
  kind.run = run_bit_stuffing;
  kind.event = always(Event::byte);
  kind.pace = [](const Settings&) { return Pace{Event::bit, traffic_spacing}; };
  kind.stage = Stage::packet;
  kind.sent = stuffed;
  kind.pins = [](const Settings&) { return Pins{}; };
  return kind;
}

}  // namespace portweigh::blocks

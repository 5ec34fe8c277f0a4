#include "blocks/packet/buffer.hpp"

#include <algorithm>
#include <bit>
#include <memory>
#include <optional>
#include <random>
#include <string>
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

std::vector<Setting> buffer_settings() {
  return {
      {"words", "words that the buffer holds", IntegerDomain{2, 64, 32768}},
      {"bits", "bits of each word", IntegerDomain{1, 8, 64}},
      {"packets", "words become visible and free their room packet by packet", FlagDomain{false}},
  };
}

BufferShape shape_of(const Settings& settings) {
  return {.words = static_cast<unsigned>(settings.integer("words")),
          .bits = static_cast<unsigned>(settings.integer("bits")),
          .style = settings.flag("packets") ? BufferStyle::packets : BufferStyle::plain};
}

struct BufferInputs {
  Bit reset;
  Bit write;
  Bit read;
  Word data;
};

BufferInputs add_inputs(Network& network, const BufferShape& shape) {
  return {logic::add_input(network, "reset"), logic::add_input(network, "write"),
          logic::add_input(network, "read"), logic::add_input_word(network, "write_data", shape.bits)};
}

// The address after `address`, back to 0 after the last word.
Word following(const Word& address, const BufferShape& shape) {
  Word next = address + 1U;
  if (shape.is_power_of_two()) return next;
  return logic::select(address == shape.words - 1U,
                       logic::constant_word(address.network(), 0, address.size()), next);
}

void add_ram(Network& network, const BufferShape& shape, const BufferInputs& in, Bit puts, Bit gets,
             const Word& write_address, const Word& read_address) {
  const std::uint32_t ram = logic::add_memory(network, "words", shape.words, shape.bits);
  logic::write_memory(ram, puts, write_address, in.data);
  logic::add_output(logic::read_memory(ram, read_address, logic::ReadStyle::registered), "read_data");
  logic::add_output(logic::registered("read_valid", gets, {.enable = std::nullopt, .reset = in.reset}),
                    "read_valid");
}

Network plain_network(const BufferShape& shape) {
  Network network;
  const BufferInputs in = add_inputs(network, shape);
  const Word write_address = logic::add_registers(network, "write_address", shape.address_bits());
  const Word read_address = logic::add_registers(network, "read_address", shape.address_bits());
  const Word level =
      logic::add_registers(network, "level", static_cast<std::size_t>(std::bit_width(shape.words)));
  const Bit full = shape.is_power_of_two() ? level.top() : level == shape.words;
  const Bit empty = level == 0U;
  const Bit puts = in.write & ~full;
  const Bit gets = in.read & ~empty;
  logic::connect(write_address, following(write_address, shape), {.enable = puts, .reset = in.reset});
  logic::connect(read_address, following(read_address, shape), {.enable = gets, .reset = in.reset});
  // +1 is 0...01, -1 is 1...11.
  const Word one =
      logic::concatenate(logic::constant_word(network, 1, 1), logic::repeated(gets, level.size() - 1));
  logic::connect(level, level + one, {.enable = puts ^ gets, .reset = in.reset});
  add_ram(network, shape, in, puts, gets, write_address, read_address);
  const auto add_error = [&](Bit happens, const char* name) {
    const Bit stays = logic::constant_bit(network, true);
    logic::add_output(
        logic::registered(std::string(name) + "_register", stays, {.enable = happens, .reset = in.reset}),
        name);
  };
  add_error(in.write & full, "overflow");
  add_error(in.read & empty, "underflow");
  logic::add_output(level, "level");
  logic::add_output(full, "full");
  logic::add_output(empty, "empty");
  return network;
}

// An address with a turn bit above it, so that equal addresses tell full from empty.
Word advanced(const Word& pointer, const BufferShape& shape) {
  if (shape.is_power_of_two()) return pointer + 1U;
  const Word address = pointer.slice(0, shape.address_bits());
  return logic::concatenate(following(address, shape), pointer.top() ^ (address == shape.words - 1U));
}

Network packet_network(const BufferShape& shape) {
  Network network;
  const BufferInputs in = add_inputs(network, shape);
  const Bit commit = logic::add_input(network, "commit");
  const Bit abandon = logic::add_input(network, "abandon");
  const Bit release = logic::add_input(network, "release");
  const Bit repeat = logic::add_input(network, "repeat");
  const std::size_t bits = shape.address_bits() + 1;
  const Word written = logic::add_registers(network, "written", bits);
  const Word read = logic::add_registers(network, "read_pointer", bits);
  const Word committed = logic::registered("committed", written, {.enable = commit, .reset = in.reset});
  const Word released = logic::registered("released", read, {.enable = release, .reset = in.reset});
  const Word write_address = written.slice(0, bits - 1);
  const Bit full = (write_address == released.slice(0, bits - 1)) & (written.top() ^ released.top());
  const Bit empty = read == committed;
  const Bit puts = in.write & ~full & ~abandon;
  const Bit gets = in.read & ~empty & ~repeat;
  logic::connect(written, logic::select(abandon, committed, advanced(written, shape)),
                 {.enable = puts | abandon, .reset = in.reset});
  logic::connect(read, logic::select(repeat, released, advanced(read, shape)),
                 {.enable = gets | repeat, .reset = in.reset});
  add_ram(network, shape, in, puts, gets, write_address, read.slice(0, bits - 1));
  logic::add_output(full, "full");
  logic::add_output(empty, "empty");
  return network;
}

constexpr std::uint64_t packet_pauses = 4;  // events without a word in each packet

std::uint64_t packet_words(const BufferShape& shape) {
  return std::min(30U, shape.words);
}

// Packets of up to 30 words in, then out.
Drive buffer_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  const BufferShape shape = shape_of(settings);
  const std::uint64_t length = packet_words(shape);
  auto random = std::make_shared<std::mt19937_64>(seed);
  auto data = std::make_shared<RandomInput>("write_data");
  return [shape, state, length, random, data](logic::Simulator& simulator, std::uint64_t clock) {
    simulator.set("reset", clock == 0 ? 1 : 0);
    if (state == TrafficState::idle) return;
    const bool is_event = clock % traffic_spacing == 0;
    const std::uint64_t turn = clock / traffic_spacing % (2 * length + packet_pauses);
    const bool writes = is_event && turn < length;
    simulator.set("write", writes ? 1 : 0);
    simulator.set("read", is_event && turn > length && turn <= 2 * length ? 1 : 0);
    if (writes) data->set(simulator, *random);
    if (shape.style == BufferStyle::plain) return;
    simulator.set("commit", is_event && turn == length ? 1 : 0);
    simulator.set("release", is_event && turn == 2 * length + 1 ? 1 : 0);
  };
}

Pins buffer_pins(const Settings& /*settings*/) {
  return {};
}

// Mostly a word in and a word out; the ring is sometimes empty.
FirmwareRun buffer_run(const Settings& settings, std::string_view /*method*/) {
  const BufferShape shape = shape_of(settings);
  EventRecorder recorder(buffer_routine(shape, BufferEvent::put_and_get));
  std::mt19937_64 random(1);
  for (unsigned event = 0; event < 1024; ++event) {
    if (shape.style == BufferStyle::packets && event % 30 == 29) {
      recorder.machine().set("committed", recorder.machine().get("head"));
      recorder.machine().set("released", recorder.machine().get("tail"));
    }
    const auto word = static_cast<std::uint32_t>(random());
    if (shape.bits > 32) {
      recorder.run({word, static_cast<std::uint32_t>(random())});
    } else {
      recorder.run({word});
    }
  }
  return std::move(recorder).finish();
}

}  // namespace

unsigned BufferShape::address_bits() const {
  return static_cast<unsigned>(std::bit_width(words - 1));
}

Network buffer_network(const BufferShape& shape) {
  return shape.style == BufferStyle::packets ? packet_network(shape) : plain_network(shape);
}

Kind buffer_kind() {
  Kind kind;
  kind.name = "buffer";
  kind.summary = "queue of words in RAM, on request with whole packets";
  kind.spread_class = "fifo";
  kind.settings = buffer_settings();
  kind.network = [](const Settings& settings) { return buffer_network(shape_of(settings)); };
  kind.traffic = buffer_traffic;
  kind.methods = {{"ring", {}}};
  kind.run = buffer_run;
  kind.pins = buffer_pins;
  kind.event = always(Event::byte);
  kind.pace = [](const Settings& settings) {
    const auto words = static_cast<double>(packet_words(shape_of(settings)));
    return Pace{Event::byte, traffic_spacing * (2 * words + packet_pauses) / words};
  };
  kind.stage = Stage::packet;
  return kind;
}

}  // namespace portweigh::blocks

// Kind "framing", logic twin.
//
// Decode: bits enter a window as long as the start set. Alternating bits lock the receiver; then every
// position is compared with the sets until one is found or the search has lasted too long. From there a
// counter to five marks the symbols, until EOP or an idle line. Results are registered: one clock after a
// bit has entered the window it is judged, one clock later the strobes are there.
// Encode: a counter sends the preamble, a five-bit shift register the symbols: the set from a table, then
// what is offered at the input, then EOP when nothing is offered. Registered outputs change at `bit_tick`.
// Tested by tests/blocks/packet/framing_test.cpp.
#include <bit>
#include <optional>
#include <vector>

#include "blocks/packet/framing.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

// True where at most `tolerated` (0 or 1) of the bits are clear.
Bit are_enough(const Word& hits, unsigned tolerated) {
  if (tolerated == 0) return logic::all(hits);
  Bit none_missed = hits[0];
  Bit one_missed = ~hits[0];
  for (std::size_t i = 1; i < hits.size(); ++i) {
    one_missed = (one_missed & hits[i]) | (none_missed & ~hits[i]);
    none_missed = none_missed & hits[i];
  }
  return none_missed | one_missed;
}

// One bit for each set that the window holds.
Word matches(const FramingShape& shape, const Word& window) {
  Word found(window.network());
  for (unsigned set = 0; set < shape.sets; ++set) {
    Word hits(window.network());
    for (unsigned i = 0; i < shape.symbols; ++i) {
      hits.append(window.slice(std::size_t{symbol_bits} * i, symbol_bits) == start_symbol(shape, set, i));
    }
    found.append(are_enough(hits, shape.tolerated()));
  }
  return found;
}

Bit is_bare_set(const Word& set, const FramingShape& shape) {
  Bit bare = logic::constant_bit(set.network(), false);
  for (unsigned i = 0; i < shape.sets; ++i) {
    if (is_bare(i)) bare = bare | (set == i);
  }
  return bare;
}

struct DecodeInputs {
  Bit reset;
  Bit bit;
  Bit bit_valid;
  Bit line_idle;
};

// Counts alternating bits while not locked; true with the bit that completes the number wanted.
Bit add_preamble_lock(const DecodeInputs& in, Bit alternates, Bit locked, unsigned wanted) {
  const auto bits = static_cast<std::size_t>(std::bit_width(wanted) - 1);
  const Bit counts = in.bit_valid & ~locked;
  if (bits == 0) return counts & alternates;
  const Word count = logic::add_registers(in.reset.network(), "alternating", bits);
  // The count wraps to zero as the lock is reached, ready for the next preamble.
  logic::connect(count, logic::gate(alternates, count + 1U), {.enable = counts, .reset = in.reset});
  return counts & alternates & logic::all(count);
}

// Counts bits from the first that does not alternate; true when a set should have been found long ago.
Bit add_search_limit(const DecodeInputs& in, Bit alternates, Bit searching, const FramingShape& shape) {
  const auto bits = static_cast<std::size_t>(std::bit_width(symbol_bits * shape.symbols + 3));
  const Word count = logic::add_registers(in.reset.network(), "searched", bits);
  logic::connect(
      count, count + 1U,
      {.enable = in.bit_valid & (logic::any(count) | ~alternates), .reset = in.reset | ~searching});
  return logic::all(count);
}

// Counts to five while `runs`; true at the fifth. Cleared by `clear`.
Bit add_symbol_counter(Network& network, Bit clear, Bit runs) {
  const Word position = logic::add_registers(network, "position", 3);
  const Bit is_last = position == 4U;
  logic::connect(position, position + 1U, {.enable = runs, .reset = clear | (runs & is_last)});
  return runs & is_last;
}

}  // namespace

Network framing_decode_network(const FramingShape& shape) {
  Network network;
  const DecodeInputs in{logic::add_input(network, "reset"), logic::add_input(network, "bit"),
                        logic::add_input(network, "bit_valid"), logic::add_input(network, "line_idle")};
  const std::size_t window_bits = std::size_t{symbol_bits} * shape.symbols;
  const Word window = logic::add_registers(network, "window", window_bits);
  logic::connect(window, logic::shifted_right(window, 1, in.bit), {.enable = in.bit_valid, .reset = {}});
  const Bit fresh = logic::registered("fresh", in.bit_valid, {.enable = std::nullopt, .reset = in.reset});
  const Bit locked = logic::add_register(network, "locked");
  const Bit receiving = logic::add_register(network, "in_packet");
  const Bit alternates = in.bit ^ window.top();
  const Bit searching = locked & ~receiving;

  const Word found_sets = matches(shape, window);
  const Bit found = searching & fresh & logic::any(found_sets);
  const Word set_now = logic::lowest_set(found_sets).resized(shape.set_bits());
  const Word set = logic::registered("found_set", set_now, {.enable = found, .reset = {}});
  const Bit bare = found & is_bare_set(set_now, shape);

  const Bit symbol_done = add_symbol_counter(network, in.reset | found, receiving & fresh);
  const Word symbol_now = window.slice(window_bits - symbol_bits, symbol_bits);
  const Word symbol = logic::registered("symbol_held", symbol_now, {.enable = symbol_done, .reset = {}});
  const Bit ends = symbol_done & (symbol_now == end_symbol);

  const Bit locks = add_preamble_lock(in, alternates, locked, bits_to_lock(shape));
  const Bit gives_up = add_search_limit(in, alternates, searching, shape);
  const Bit leaves = ends | bare | gives_up | in.line_idle;
  logic::connect(locked, ~leaves, {.enable = locks | leaves, .reset = in.reset});
  logic::connect(receiving, found & ~bare & ~in.line_idle,
                 {.enable = found | ends | in.line_idle, .reset = in.reset});

  const logic::RegisterControl strobe{.enable = std::nullopt, .reset = in.reset};
  logic::add_output(logic::registered("start_strobe", found, strobe), "start");
  logic::add_output(set, "set");
  logic::add_output(logic::registered("symbol_strobe", symbol_done & ~ends, strobe), "symbol_valid");
  logic::add_output(symbol, "symbol");
  logic::add_output(logic::registered("end_strobe", ends, strobe), "end");
  logic::add_output(logic::registered("error_strobe", receiving & in.line_idle & ~ends, strobe), "error");
  logic::add_output(receiving, "receiving");
  return network;
}

namespace {

// Symbol `position` of the set `set`; positions and sets that do not exist may give anything.
Word set_symbol(const FramingShape& shape, const Word& set, const Word& position) {
  const std::size_t sets = std::size_t{1} << set.size();
  std::vector<std::uint64_t> table;
  for (unsigned i = 0; i < shape.symbols; ++i) {
    for (std::size_t j = 0; j < sets; ++j) {
      const unsigned known = j < shape.sets ? static_cast<unsigned>(j) : shape.sets - 1;
      table.push_back(start_symbol(shape, known, i));
    }
  }
  return logic::lookup(logic::concatenate(set, position), table, symbol_bits);
}

}  // namespace

Network framing_encode_network(const FramingShape& shape) {
  Network network;
  const Bit reset = logic::add_input(network, "reset");
  const Bit tick = logic::add_input(network, "bit_tick");
  const Bit send = logic::add_input(network, "send");
  const Word set_wanted = logic::add_input_word(network, "set", shape.set_bits());
  const Word symbol = logic::add_input_word(network, "symbol", symbol_bits);
  const Bit symbol_valid = logic::add_input(network, "symbol_valid");

  const Bit busy = logic::add_register(network, "sending");
  const Bit begins = send & ~busy;
  const Word set = logic::registered("set_sent", set_wanted, {.enable = begins, .reset = {}});
  const Bit in_preamble = logic::add_register(network, "in_preamble");
  const Bit in_set = logic::add_register(network, "in_set");
  const Bit in_end = logic::add_register(network, "in_end");

  const auto count_bits = static_cast<std::size_t>(std::bit_width(shape.preamble_bits - 1));
  const Word count = logic::add_registers(network, "preamble_count", count_bits);
  const Bit preamble_ticks = tick & in_preamble;
  const Bit preamble_done = preamble_ticks & (count == shape.preamble_bits - 1U);
  logic::connect(count, count + 1U, {.enable = preamble_ticks, .reset = begins});

  const Bit symbol_ticks = tick & busy & ~in_preamble;
  const Bit symbol_done = add_symbol_counter(network, begins, symbol_ticks);
  const auto index_bits = static_cast<std::size_t>(std::bit_width(shape.symbols));
  const Word index = logic::add_registers(network, "set_index", index_bits);
  const Bit set_sent = index == shape.symbols;
  const Bit loads_set = preamble_done | (symbol_done & in_set & ~set_sent);
  logic::connect(index, index + 1U, {.enable = loads_set, .reset = begins});

  const Bit set_done = symbol_done & in_set & set_sent;
  const Bit finishes = symbol_done & (in_end | (set_done & is_bare_set(set, shape)));
  const Bit takes_next = symbol_done & ~finishes & (~in_set | set_sent);
  const Word offered =
      logic::select(symbol_valid, symbol, logic::constant_word(network, end_symbol, symbol_bits));
  const Word table =
      set_symbol(shape, set, index.resized(static_cast<std::size_t>(std::bit_width(shape.symbols - 1))));
  const Word shift = logic::add_registers(network, "shift", symbol_bits);
  logic::connect(
      shift,
      logic::select(loads_set, table, logic::select(takes_next, offered, logic::shifted_right(shift, 1))),
      {.enable = symbol_ticks | preamble_done, .reset = {}});

  logic::connect(busy, begins, {.enable = begins | finishes, .reset = reset});
  logic::connect(in_preamble, begins, {.enable = begins | preamble_done, .reset = reset});
  logic::connect(in_set, preamble_done, {.enable = preamble_done | set_done, .reset = reset});
  logic::connect(in_end, takes_next & ~symbol_valid, {.enable = takes_next | begins, .reset = reset});

  const Bit level = logic::select(in_preamble, count[0], shift[0]);
  logic::add_output(logic::registered("line_level", level, {.enable = tick, .reset = {}}), "line_bit");
  logic::add_output(logic::registered("line_driven", busy, {.enable = tick, .reset = reset}), "line_active");
  logic::add_output(takes_next & symbol_valid, "symbol_take");
  logic::add_output(busy, "busy");
  logic::add_output(logic::registered("done_strobe", finishes, {.enable = std::nullopt, .reset = reset}),
                    "done");
  return network;
}

}  // namespace portweigh::blocks

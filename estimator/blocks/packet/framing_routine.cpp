// Kind "framing", firmware twin: a message from header to packed 4b5b symbols with CRC-32, and back.
//
// Symbols are packed least significant bit first through a 16-bit accumulator, as the interrupt or the
// serial port that shifts the bits takes them. The decoder passes over the preamble byte by byte, then bit by
// bit to its end, and compares a window with the start sets; each byte is checked as it comes.
// The CRC is done as `method` says; a CRC unit is started through port `crc_unit_start`, fed by port
// `crc_unit_data` and read through port `crc_unit_result` (reflected, final exclusive or not done).
// Tested by tests/blocks/packet/framing_routine_test.cpp.
#include <algorithm>
#include <bit>
#include <optional>
#include <utility>
#include <vector>

#include "blocks/line/symbol_code.hpp"
#include "blocks/packet/framing.hpp"
#include "blocks/sized_variables.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Array;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;
using firmware::Subroutine;
using firmware::Type;

constexpr std::uint32_t all_ones = 0xFFFFFFFF;
constexpr unsigned check_bytes = 4;
// In the decoding table: nibbles are themselves, above them the end symbol and what is no payload.
constexpr std::uint32_t meets_end = 0x10;
constexpr std::uint32_t meets_other = 0x20;
constexpr std::uint32_t no_set = 0xFF;

const CrcCode check_code{32, 0x04C11DB7, true, all_ones, all_ones};

// The check value of a message, in a local, or in a unit.
class MessageCheck {
 public:
  MessageCheck(Routine& routine, CrcMethod method)
      : r_(routine), crc_{routine.local_u32("crc"), std::nullopt}, step_(routine, check_code, method) {
    if (method != CrcMethod::crc_unit) return;
    start_ = routine.port_u8("crc_unit_start");
    result_ = routine.port_u32("crc_unit_result");
  }
  void write_start() const {
    if (start_) {
      r_.set(*start_, 1);
    } else {
      r_.set(crc_.low, all_ones);
    }
  }
  void write_byte(const Expression& byte) const { step_.write(crc_, byte); }
  void write_finish() const {
    if (result_) r_.set(crc_.low, *result_);
  }
  const Place& value() const { return crc_.low; }

 private:
  Routine& r_;
  CrcVariable crc_;
  CrcStep step_;
  std::optional<Place> start_;
  std::optional<Place> result_;
};

// Collects symbols in bytes.
class Packer {
 public:
  Packer(Routine& routine, std::size_t bytes)
      : r_(routine),
        packed_(routine.array_u8("packed", bytes)),
        position_(sized_state(routine, "packed_position", index_bits(bytes))),
        gathered_(routine.state_u16("gathered")),
        filled_(routine.state_u8("filled")),
        symbols_(routine.table_u8("nibble_symbols", {nibble_symbols.begin(), nibble_symbols.end()})) {
    put_symbol_ = routine.subroutine("put_symbol", {Type::u8}, [&](const std::vector<Place>& in) {
      r_.set(gathered_, gathered_ | (cast_u16(in[0]) << filled_));
      r_.set(filled_, filled_ + symbol_bits);
      r_.if_(filled_ >= 8, [&] {
        r_.set(packed_[position_], cast_u8(gathered_));
        r_.set(position_, position_ + 1);
        r_.set(gathered_, gathered_ >> 8);
        r_.set(filled_, filled_ - 8);
      });
    });
    put_byte_ = routine.subroutine("put_byte", {Type::u8}, [&](const std::vector<Place>& in) {
      r_.call(put_symbol_, {symbols_[in[0] & 15]});
      r_.call(put_symbol_, {symbols_[in[0] >> 4]});
    });
  }

  static unsigned index_bits(std::size_t bytes) { return static_cast<unsigned>(std::bit_width(bytes)); }

  // Alternating bits, 0 first; leaves the bits of an incomplete byte gathered.
  void write_preamble(unsigned bits) const {
    constexpr std::uint32_t alternating = 0xAA;
    r_.set(position_, 0);
    r_.while_(position_ < bits / 8, [&] {
      r_.set(packed_[position_], alternating);
      r_.set(position_, position_ + 1);
    });
    r_.set(gathered_, alternating & ((1U << bits % 8) - 1));
    r_.set(filled_, bits % 8);
  }
  void write_symbol(const Expression& symbol) const { r_.call(put_symbol_, {symbol}); }
  void write_byte(const Expression& byte) const { r_.call(put_byte_, {byte}); }
  // Returns the number of bytes.
  void write_finish() const {
    r_.if_(filled_ != 0, [&] {
      r_.set(packed_[position_], cast_u8(gathered_));
      r_.set(position_, position_ + 1);
    });
    r_.return_(position_);
  }

 private:
  Routine& r_;
  Array packed_;
  Place position_;
  Place gathered_;
  Place filled_;
  Array symbols_;
  Subroutine put_symbol_;
  Subroutine put_byte_;
};

// Header: type 5 bits, data role, revision 2, power role, id 3, count 3, extended (never set here).
void write_header(Routine& r, const Array& payload, const Place& type, const Place& id, const Place& length) {
  const auto data_role = r.state_u8("data_role");
  const auto power_role = r.state_u8("power_role");
  const auto revision = r.state_u8("revision");
  const auto count = r.local_u8("count");
  r.set(payload[0], type | (data_role << 5) | (revision << 6));
  r.set(count, ((length - 2) >> 2) & 7);
  r.set(payload[1], power_role | (id << 1) | (count << 4));
}

std::vector<std::uint32_t> patterns(const FramingShape& shape) {
  std::vector<std::uint32_t> table;
  for (unsigned set = 0; set < shape.sets; ++set) table.push_back(start_pattern(shape, set));
  return table;
}

std::vector<std::uint32_t> decoding_table() {
  std::vector<std::uint32_t> table(32, meets_other);
  for (unsigned nibble = 0; nibble < 16; ++nibble) table[nibble_symbols[nibble]] = nibble;
  table[end_symbol] = meets_end;
  return table;
}

}  // namespace

Routine framing_encode_routine(const FramingShape& shape, unsigned payload_bytes, CrcMethod method) {
  Routine r("send_message");
  const auto set = r.parameter_u8("set");
  const auto type = r.parameter_u8("type");
  const auto id = r.parameter_u8("id");
  const auto length = r.parameter_u8("length");
  const auto payload = r.array_u8("payload", payload_bytes);
  const auto start_table = r.table_u32("start_patterns", patterns(shape));
  const Packer packer(r, packed_bytes(shape, payload_bytes));
  const MessageCheck check(r, method);
  const auto pattern = r.local_u32("pattern");
  const auto turn = r.local_u8("i");
  const auto byte = r.local_u8("byte");

  packer.write_preamble(shape.preamble_bits);
  r.set(pattern, start_table[set]);
  r.for_count(turn, shape.symbols, [&] {
    packer.write_symbol(cast_u8(pattern) & 31);
    r.set(pattern, pattern >> symbol_bits);
  });
  r.if_(length != 0, [&] {
    write_header(r, payload, type, id, length);
    check.write_start();
    r.for_count(turn, length, [&] {
      r.set(byte, payload[turn]);
      check.write_byte(byte);
      packer.write_byte(byte);
    });
    check.write_finish();
    r.set(check.value(), ~check.value());
    r.for_count(turn, check_bytes, [&] {
      packer.write_byte(cast_u8(check.value()));
      r.set(check.value(), check.value() >> 8);
    });
    packer.write_symbol(end_symbol);
  });
  packer.write_finish();
  return r;
}

namespace {

// Takes packed bits one or five at a time.
class Unpacker {
 public:
  Unpacker(Routine& routine, std::size_t bytes)
      : r_(routine),
        packed_(routine.array_u8("packed", bytes)),
        position_(sized_state(routine, "packed_position", Packer::index_bits(bytes))),
        gathered_(routine.state_u16("gathered")),
        filled_(routine.state_u8("filled")) {
    const auto bit = routine.local_u8("taken_bit");
    take_bit_ = routine.subroutine("take_bit", {}, [&](const std::vector<Place>&) {
      r_.if_(filled_ == 0, [&] { refill(); });
      r_.set(bit, cast_u8(gathered_) & 1);
      r_.set(gathered_, gathered_ >> 1);
      r_.set(filled_, filled_ - 1);
      r_.return_(bit);
    });
    const auto symbol = routine.local_u8("taken_symbol");
    take_symbol_ = routine.subroutine("take_symbol", {}, [&](const std::vector<Place>&) {
      r_.if_(filled_ < symbol_bits, [&] { refill(); });
      r_.set(symbol, cast_u8(gathered_) & 31);
      r_.set(gathered_, gathered_ >> symbol_bits);
      r_.set(filled_, filled_ - symbol_bits);
      r_.return_(symbol);
    });
  }

  // To the last bytes of the preamble that alternate throughout.
  void write_skip(const Place& bytes) const {
    const auto seen = r_.local_u8("seen");
    r_.set(position_, 0);
    r_.set(gathered_, 0);
    r_.set(filled_, 0);
    r_.while_(position_ < bytes, [&] {
      r_.set(seen, packed_[position_]);
      r_.if_(seen != 0xAA && seen != 0x55, [&] { r_.break_(); });
      r_.set(position_, position_ + 1);
    });
    r_.if_(position_ != 0, [&] { r_.set(position_, position_ - 1); });
  }
  void write_bit(const Place& to) const { r_.set_call(to, take_bit_); }
  void write_symbol(const Place& to) const { r_.set_call(to, take_symbol_); }
  const Place& position() const { return position_; }

 private:
  void refill() const {
    r_.set(gathered_, gathered_ | (cast_u16(packed_[position_]) << filled_));
    r_.set(position_, position_ + 1);
    r_.set(filled_, filled_ + 8);
  }

  Routine& r_;
  Array packed_;
  Place position_;
  Place gathered_;
  Place filled_;
  Subroutine take_bit_;
  Subroutine take_symbol_;
};

// The set that a window holds, or no_set.
Subroutine write_match(Routine& r, const FramingShape& shape) {
  const auto table = r.table_u32("start_patterns", patterns(shape));
  const auto set = r.local_u8("set");
  const auto differs = r.local_u32("differs");
  const auto misses = r.local_u8("misses");
  return r.subroutine("match_set", {Type::u32}, [&](const std::vector<Place>& in) {
    r.for_count(set, shape.sets, [&] {
      r.set(differs, in[0] ^ table[set]);
      r.set(misses, 0);
      r.while_(differs != 0, [&] {
        r.if_((cast_u8(differs) & 31) != 0, [&] {
          r.set(misses, misses + 1);
          r.if_(misses > shape.tolerated(), [&] { r.break_(); });
        });
        r.set(differs, differs >> symbol_bits);
      });
      r.if_(misses <= shape.tolerated(), [&] { r.return_(set); });
    });
    r.return_(no_set);
  });
}

constexpr std::uint32_t code_of(FramingResult result) {
  return static_cast<std::uint32_t>(result);
}

void return_if(Routine& r, const Expression& condition, FramingResult result) {
  r.if_(condition, [&] { r.return_(code_of(result)); });
}

// Passes the preamble and looks for a set; `found_set` stays no_set where there is none within reach.
struct SetSearch {
  Place window, bit, last, turn, found_set;
  Subroutine match;
};

void write_search(Routine& r, const FramingShape& shape, const Unpacker& unpacker, const Place& received,
                  const Array& nibbles, const SetSearch& in) {
  const unsigned window_bits = symbol_bits * shape.symbols;
  const auto shift_in = [&] {
    unpacker.write_bit(in.bit);
    r.set(in.window, (in.window >> 1) | (cast_u32(in.bit) << (window_bits - 1)));
  };
  // The preamble ends where two bits are alike; by then up to eight bits of the set have gone by, if its
  // first symbol is the one that may be wrong. Positions without a control symbol in front are passed over.
  constexpr unsigned bits_gone = 9;
  constexpr unsigned positions_tried = 16;
  const auto seems_control = [&](unsigned position) {
    return nibbles[cast_u8(in.window >> (symbol_bits * position)) & 31] == meets_other;
  };
  unpacker.write_skip(received);
  unpacker.write_bit(in.last);
  r.set(in.window, cast_u32(in.last) << (window_bits - 1));
  r.while_(unpacker.position() < received, [&] {
    shift_in();
    r.if_(in.bit == in.last, [&] { r.break_(); });
    r.set(in.last, in.bit);
  });
  if (window_bits > bits_gone) r.for_count(in.turn, window_bits - bits_gone, shift_in);
  r.set(in.found_set, no_set);
  r.for_count(in.turn, positions_tried, [&] {
    r.if_(unpacker.position() > received, [&] { r.break_(); });
    shift_in();
    r.if_(seems_control(0) || seems_control(1), [&] { r.set_call(in.found_set, in.match, {in.window}); });
    r.if_(in.found_set != no_set, [&] { r.break_(); });
  });
}

}  // namespace

Routine framing_decode_routine(const FramingShape& shape, unsigned payload_bytes, CrcMethod method) {
  Routine r("receive_message");
  // Slack: an unfinished last byte, and the symbol that shows the end of a cut packet.
  const std::size_t bytes = packed_bytes(shape, payload_bytes) + 4;
  const auto received = sized_parameter(r, "bytes", Packer::index_bits(bytes));
  const auto payload = r.array_u8("payload", payload_bytes + check_bytes);
  const auto length = r.state_u8("length");
  const auto found_set = r.state_u8("found_set");
  const auto nibbles = r.table_u8("symbol_nibbles", decoding_table());
  const Unpacker unpacker(r, bytes);
  const MessageCheck check(r, method);
  const Subroutine match = write_match(r, shape);
  const auto window = r.local_u32("window");
  const auto bit = r.local_u8("bit");
  const auto last = r.local_u8("last");
  const auto turn = r.local_u8("i");
  const auto low = r.local_u8("low");
  const auto high = r.local_u8("high");
  const auto count = r.local_u8("count");

  write_search(r, shape, unpacker, received, nibbles, {window, bit, last, turn, found_set, match});
  r.set(length, 0);
  return_if(r, found_set == no_set, FramingResult::no_set);
  if (shape.sets > 3) return_if(r, found_set == 3 || found_set == 4, FramingResult::good);

  check.write_start();
  const auto read_symbol = [&](const Place& to) {
    unpacker.write_symbol(to);
    r.set(to, nibbles[to]);
  };
  r.while_(unpacker.position() <= received, [&] {
    read_symbol(low);
    r.if_(low > 15, [&] { r.break_(); });
    read_symbol(high);
    return_if(r, high > 15, FramingResult::symbol_error);
    return_if(r, length == payload_bytes + check_bytes, FramingResult::length_error);
    r.set(low, low | (high << 4));
    r.set(payload[length], low);
    r.set(length, length + 1);
    check.write_byte(low);
  });
  return_if(r, low != meets_end, FramingResult::symbol_error);
  check.write_finish();
  return_if(r, check.value() != static_cast<std::uint32_t>(check_code.residue()), FramingResult::check_error);
  r.set(length, length - check_bytes);
  r.set(count, (payload[1] >> 4) & 7);
  return_if(r, (count << 2) + 2 > length, FramingResult::length_error);
  r.return_(code_of(FramingResult::good));
  return r;
}

}  // namespace portweigh::blocks

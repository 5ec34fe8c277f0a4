// Scrambler in firmware: the register holds its oldest bit at the bottom, so the sum of taps for the next
// bits is a few right shifts, least significant bit first in time:
//   chunk = xor over taps t of (register >> (width - t)),  register = (register >> c) | (chunk << (width -
//   c))
// With c = 8 (shortest tap at least 8) a byte takes a handful of operations and no loop.
// Tested by tests/blocks/line/scrambler_test.cpp.
#include <fmt/core.h>

#include <algorithm>
#include <optional>

#include "blocks/line/scrambler.hpp"

namespace portweigh::blocks {
namespace {

using firmware::cast_u32;
using firmware::cast_u8;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr unsigned word_bits = 32;

struct ShiftRegister {
  Place low;
  std::optional<Place> high;  // above 32 bits
};

Place declare_low(Routine& r, unsigned width) {
  if (width <= 8) return r.state_u8("register_low");
  return width <= 16 ? r.state_u16("register_low") : r.state_u32("register_low");
}

// The `chunk` bits from bit `from` upwards in the low bits of a byte; bits above them are arbitrary.
Expression bits_from(const ShiftRegister& shift, unsigned from, unsigned chunk) {
  if (from >= word_bits) return cast_u8(*shift.high >> (from - word_bits));
  const Expression low = from == 0 ? Expression(shift.low) : shift.low >> from;
  if (!shift.high || from + chunk <= word_bits) return cast_u8(low);
  return cast_u8(low | (*shift.high << (word_bits - from)));
}

Expression widened(const Place& like, const Expression& value) {
  switch (like.type()) {
    case firmware::Type::u8:
      return value;
    case firmware::Type::u16:
      return firmware::cast_u16(value);
    case firmware::Type::u32:
      return cast_u32(value);
  }
  return value;
}

void shift_in(Routine& r, const ShiftRegister& shift, unsigned width, const Place& bits, unsigned chunk) {
  const unsigned at = width - chunk;
  if (!shift.high) {
    r.set(shift.low, (shift.low >> chunk) | (widened(shift.low, bits) << at));
    return;
  }
  const Expression carried = *shift.high << (word_bits - chunk);
  if (at >= word_bits) {
    r.set(shift.low, (shift.low >> chunk) | carried);
    r.set(*shift.high, (*shift.high >> chunk) | (cast_u32(bits) << (at - word_bits)));
    return;
  }
  // The new bits straddle the two words.
  r.set(shift.low, (shift.low >> chunk) | carried | (cast_u32(bits) << at));
  r.set(*shift.high, (*shift.high >> chunk) | (cast_u32(bits) >> (word_bits - at)));
}

}  // namespace

unsigned scrambler_chunk(const ScramblerCode& code, std::string_view method) {
  if (method == "bitwise") return 1;
  if (method != "parallel") throw SettingError(fmt::format("scrambler has no method \"{}\"", method));
  const unsigned shortest = code.taps().front();
  unsigned chunk = 8;
  while (chunk > shortest) chunk /= 2;
  return chunk;
}

Routine scrambler_routine(const ScramblerCode& code, std::string_view method) {
  const unsigned chunk = scrambler_chunk(code, method);
  Routine r("scramble_byte");
  const Place byte = r.parameter_u8("byte");
  ShiftRegister shift{declare_low(r, code.width), std::nullopt};
  if (code.width > word_bits) shift.high = r.state_u32("register_high");
  const Place bits = r.local_u8("bits");
  const auto mask = (1U << chunk) - 1U;

  // Leaves the next `chunk` output bits in the low bits of `bits`, and shifts the register on.
  const auto write_step = [&](const Expression& data) {
    std::optional<Expression> feedback;
    for (const unsigned tap : code.taps()) {
      const Expression term = bits_from(shift, code.width - tap, chunk);
      feedback = feedback ? *feedback ^ term : term;
    }
    const bool is_encoded_fed = code.style == ScramblerStyle::self_synchronising_encode;
    const auto masked = [&](const Expression& value) { return chunk == 8 ? value : value & mask; };
    r.set(bits, masked(is_encoded_fed ? *feedback ^ data : *feedback));
    if (code.style != ScramblerStyle::self_synchronising_decode) {
      shift_in(r, shift, code.width, bits, chunk);
      if (!is_encoded_fed) r.set(bits, bits ^ masked(data));
      return;
    }
    const Place received = r.local_u8("received");
    r.set(received, masked(data));
    shift_in(r, shift, code.width, received, chunk);
    r.set(bits, bits ^ received);
  };

  if (chunk == 8) {
    write_step(byte);
    r.return_(bits);
    return r;
  }
  const Place turn = r.local_u8("turn");
  const Place rest = r.local_u8("rest");
  const Place output = r.local_u8("output");
  r.set(rest, byte);
  r.set(output, 0);
  r.for_count(turn, 8 / chunk, [&] {
    write_step(rest);
    r.set(rest, rest >> chunk);
    r.set(output, (output >> chunk) | (bits << (8 - chunk)));
  });
  r.return_(output);
  return r;
}

}  // namespace portweigh::blocks

// Bits and words over a `Network`, so that a block reads like register-transfer code.
//
//   Word count = add_registers(net, "count", 4);
//   Bit last = count == 9U;
//   connect(count, select(last, constant_word(net, 0, 4), count + 1U), {.enable = tick});
//
// Words are unsigned, least significant bit first. Operators need equal widths (throws std::logic_error).
// A number on the right-hand side takes the word's width; it must fit. `+` and `-` keep the width (carry
// lost), leave a carry-chain mark, and cost what an adder costs even where an operand is constant.
//
// Tested by tests/logic/network/word_test.cpp.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "logic/network/network.hpp"

namespace portweigh::logic {

class Bit {
 public:
  Bit(Network& network, Literal literal) : network_(&network), literal_(literal) {}
  Network& network() const { return *network_; }
  Literal literal() const { return literal_; }
  Bit operator!() const { return {*network_, !literal_}; }
  Bit operator~() const { return !*this; }
  friend Bit operator&(Bit a, Bit b) { return {*a.network_, a.network_->make_and(a.literal_, b.literal_)}; }
  friend Bit operator|(Bit a, Bit b) { return {*a.network_, a.network_->make_or(a.literal_, b.literal_)}; }
  friend Bit operator^(Bit a, Bit b) { return {*a.network_, a.network_->make_xor(a.literal_, b.literal_)}; }

 private:
  Network* network_;
  Literal literal_;
};

class Word {
 public:
  explicit Word(Network& network) : network_(&network) {}
  Word(Network& network, std::vector<Literal> bits) : network_(&network), bits_(std::move(bits)) {}
  Word(Bit bit) : network_(&bit.network()), bits_{bit.literal()} {}  // NOLINT: a bit is a one-bit word

  Network& network() const { return *network_; }
  std::size_t size() const { return bits_.size(); }
  const std::vector<Literal>& literals() const { return bits_; }
  Bit operator[](std::size_t position) const { return {*network_, bits_.at(position)}; }
  Bit top() const { return {*network_, bits_.at(bits_.size() - 1)}; }
  // `count` bits from bit `from` upwards.
  Word slice(std::size_t from, std::size_t count) const;
  // Zero-extended or cut to `width`.
  Word resized(std::size_t width) const;
  void append(Bit bit) { bits_.push_back(bit.literal()); }

 private:
  Network* network_;
  std::vector<Literal> bits_;
};

// Sources and sinks
Bit constant_bit(Network& network, bool value);
Word constant_word(Network& network, std::uint64_t value, std::size_t width);
Bit add_input(Network& network, std::string_view name);
Word add_input_word(Network& network, std::string_view name, std::size_t width);
Bit add_register(Network& network, std::string_view name);
Word add_registers(Network& network, std::string_view name, std::size_t width);
void add_output(Bit bit, std::string_view name);
void add_output(const Word& word, std::string_view name);

struct RegisterControl {
  std::optional<Bit> enable = std::nullopt;  // absent: every clock
  std::optional<Bit> reset = std::nullopt;   // absent: never
  std::uint64_t reset_value = 0;
};
void connect(const Word& output, const Word& next, const RegisterControl& control = {});
// A register with its next value known at once: returns the registered copy of `next`.
Word registered(std::string_view name, const Word& next, const RegisterControl& control = {});
Bit registered(std::string_view name, Bit next, const RegisterControl& control = {});

// Bitwise
Word operator~(const Word& a);
Word operator&(const Word& a, const Word& b);
Word operator|(const Word& a, const Word& b);
Word operator^(const Word& a, const Word& b);
Word gate(Bit enable, const Word& a);  // all zero unless enable
Word concatenate(const Word& low, const Word& high);
Word reversed(const Word& a);
Word repeated(Bit bit, std::size_t width);
Bit any(const Word& a);
Bit all(const Word& a);
Bit parity(const Word& a);

// Selection
Bit select(Bit condition, Bit when_true, Bit when_false);
Word select(Bit condition, const Word& when_true, const Word& when_false);
// values[index]; indices past the end give the last value. All values of one width.
Word select_indexed(const Word& index, std::span<const Word> values);
// Word of 2^size bits (or `count` of them), bit i set where a == i.
Word decoded(const Word& a, std::size_t count = 0);
// Index of the lowest set bit (0 where none is set), ceil(log2(size)) bits wide.
Word lowest_set(const Word& a);

// Comparison (unsigned)
Bit operator==(const Word& a, const Word& b);
Bit operator==(const Word& a, std::uint64_t b);
inline Bit operator!=(const Word& a, const Word& b) {
  return !(a == b);
}
inline Bit operator!=(const Word& a, std::uint64_t b) {
  return !(a == b);
}
Bit operator<(const Word& a, const Word& b);
Bit operator<(const Word& a, std::uint64_t b);
inline Bit operator>=(const Word& a, const Word& b) {
  return !(a < b);
}
inline Bit operator>=(const Word& a, std::uint64_t b) {
  return !(a < b);
}
inline Bit operator>(const Word& a, const Word& b) {
  return b < a;
}
inline Bit operator<=(const Word& a, const Word& b) {
  return !(b < a);
}
inline Bit operator>(const Word& a, std::uint64_t b) {
  return constant_word(a.network(), b, a.size()) < a;
}
inline Bit operator<=(const Word& a, std::uint64_t b) {
  return !(a > b);
}

// Arithmetic
struct Sum {
  Word value;
  Bit carry;
};
Sum add_with_carry(const Word& a, const Word& b, Bit carry_in);
Word operator+(const Word& a, const Word& b);
Word operator+(const Word& a, std::uint64_t b);
Word operator-(const Word& a, const Word& b);
Word operator-(const Word& a, std::uint64_t b);
// a - 1 with the borrows of aligned blocks of 2, 4, 8 .. bits (Brent-Kung): log2(bits) gates deep instead of
// one for each bit, for about one gate more a bit. The same adder as `a - 1` where there is a carry chain.
Word decremented(const Word& a);
Word shifted_left(const Word& a, std::size_t by, std::optional<Bit> fill = std::nullopt);
Word shifted_right(const Word& a, std::size_t by, std::optional<Bit> fill = std::nullopt);

// Combinational table: values[index], for 2^index.size() entries or fewer (missing entries are "don't care"
// and take whatever makes the logic smaller). Built by Shannon expansion with shared sub-tables.
Word lookup(const Word& index, std::span<const std::uint64_t> values, std::size_t width);

// Memory ports
std::uint32_t add_memory(Network& network, std::string_view name, std::uint32_t words, std::uint32_t bits);
void write_memory(std::uint32_t memory, Bit enable, const Word& address, const Word& data);
Word read_memory(std::uint32_t memory, const Word& address, ReadStyle style);

}  // namespace portweigh::logic

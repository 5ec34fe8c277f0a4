// Adders, comparators, shifts and tables over words.
#include <fmt/core.h>

#include <bit>
#include <map>
#include <stdexcept>
#include <string>
#include <vector>

#include "logic/network/word.hpp"

namespace portweigh::logic {
namespace {

constexpr char zero_marker = 0;
constexpr char one_marker = 1;
constexpr char dont_care_marker = 2;

// A table of one output bit: entries 0, 1 or dont_care_marker, power-of-two many.
using BitTable = std::string;

bool are_compatible(const BitTable& a, const BitTable& b) {
  for (std::size_t i = 0; i < a.size(); ++i) {
    if (a[i] != b[i] && a[i] != dont_care_marker && b[i] != dont_care_marker) return false;
  }
  return true;
}

BitTable merged(const BitTable& a, const BitTable& b) {
  BitTable result(a.size(), dont_care_marker);
  for (std::size_t i = 0; i < a.size(); ++i) result[i] = a[i] == dont_care_marker ? b[i] : a[i];
  return result;
}

class TableBuilder {
 public:
  explicit TableBuilder(const Word& index) : index_(index) {}

  Bit build(const BitTable& table) {
    const BitTable zeros(table.size(), zero_marker);
    const BitTable ones(table.size(), one_marker);
    if (are_compatible(table, zeros)) return constant_bit(index_.network(), false);
    if (are_compatible(table, ones)) return constant_bit(index_.network(), true);
    const auto known = built_.find(table);
    if (known != built_.end()) return known->second;
    const auto middle = table.begin() + static_cast<std::ptrdiff_t>(table.size() / 2);
    const BitTable low(table.begin(), middle);
    const BitTable high(middle, table.end());
    const auto level = static_cast<std::size_t>(std::countr_zero(table.size())) - 1;
    const Bit result =
        are_compatible(low, high) ? build(merged(low, high)) : select(index_[level], build(high), build(low));
    built_.emplace(table, result);
    return result;
  }

 private:
  Word index_;
  std::map<BitTable, Bit> built_;
};

struct Comparison {
  Bit less;
  Bit at_most;
};

Comparison compared(const Word& a, const Word& b) {
  if (a.size() == 0) return {constant_bit(a.network(), false), constant_bit(a.network(), true)};
  if (a.size() == 1) return {(~a[0]) & b[0], (~a[0]) | b[0]};
  const std::size_t half = a.size() / 2;
  const Comparison low = compared(a.slice(0, half), b.slice(0, half));
  const Comparison high = compared(a.slice(half, a.size() - half), b.slice(half, b.size() - half));
  return {high.less | (high.at_most & low.less), high.less | (high.at_most & low.at_most)};
}

}  // namespace

Bit operator==(const Word& a, const Word& b) {
  return all(~(a ^ b));
}

Bit operator==(const Word& a, std::uint64_t b) {
  return a == constant_word(a.network(), b, a.size());
}

// Short words by a chain of borrows. Of longer ones halves are compared and put together, a < b where the
// upper half is less, or equal and the lower half less: as deep as the tree a synthesiser makes of it.
Bit operator<(const Word& a, const Word& b) {
  if (a.size() != b.size()) {
    throw std::logic_error(fmt::format("comparison of words of {} and {} bits", a.size(), b.size()));
  }
  constexpr std::size_t shortest_tree = 9;  // bits; below it the chain is smaller and hardly deeper
  if (a.size() >= shortest_tree) return compared(a, b).less;
  Bit less = constant_bit(a.network(), false);
  for (std::size_t i = 0; i < a.size(); ++i) {
    less = {a.network(), a.network().make_majority(!a[i].literal(), b[i].literal(), less.literal())};
  }
  return less;
}

Bit operator<(const Word& a, std::uint64_t b) {
  return a < constant_word(a.network(), b, a.size());
}

Sum add_with_carry(const Word& a, const Word& b, Bit carry_in) {
  if (a.size() != b.size()) {
    throw std::logic_error(fmt::format("sum of words of {} and {} bits", a.size(), b.size()));
  }
  Network& network = a.network();
  Word sum(network);
  Literal carry = carry_in.literal();
  Chain chain;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const Literal x = a.literals()[i];
    const Literal y = b.literals()[i];
    const Literal value = network.make_xor(network.make_xor(x, y), carry);
    const Literal carry_out = network.make_majority(x, y, carry);
    chain.push_back({x, y, carry, value, carry_out});
    sum.append({network, value});
    carry = carry_out;
  }
  network.mark_chain(std::move(chain));
  return {sum, {network, carry}};
}

Word operator+(const Word& a, const Word& b) {
  return add_with_carry(a, b, constant_bit(a.network(), false)).value;
}

Word operator+(const Word& a, std::uint64_t b) {
  return a + constant_word(a.network(), b, a.size());
}

Word operator-(const Word& a, const Word& b) {
  return add_with_carry(a, ~b, constant_bit(a.network(), true)).value;
}

Word operator-(const Word& a, std::uint64_t b) {
  return a - constant_word(a.network(), b, a.size());
}

Word decremented(const Word& a) {
  Network& network = a.network();
  // no_borrow[i]: a one below bit i, so that the bit stays; blocks end at multiples of their size.
  std::vector<Bit> no_borrow{constant_bit(network, false)};
  const auto block = [&](auto&& self, std::size_t from, std::size_t count) -> Bit {
    return count == 1 ? a[from]
                      : self(self, from, count / 2) | self(self, from + count / 2, count - count / 2);
  };
  for (std::size_t to = 1; to <= a.size(); ++to) {
    const std::size_t count = to & (~to + 1);
    no_borrow.push_back(no_borrow[to - count] | block(block, to - count, count));
  }
  const Literal one = constant_true;
  Word result(network);
  Chain chain;
  for (std::size_t i = 0; i < a.size(); ++i) {
    const Bit value = ~(a[i] ^ no_borrow[i]);
    chain.push_back(
        {a[i].literal(), one, no_borrow[i].literal(), value.literal(), no_borrow[i + 1].literal()});
    result.append(value);
  }
  network.mark_chain(std::move(chain));
  return result;
}

Word shifted_left(const Word& a, std::size_t by, std::optional<Bit> fill) {
  Word result(a.network());
  for (std::size_t i = 0; i < a.size(); ++i) {
    result.append(i < by ? fill.value_or(constant_bit(a.network(), false)) : a[i - by]);
  }
  return result;
}

Word shifted_right(const Word& a, std::size_t by, std::optional<Bit> fill) {
  Word result(a.network());
  for (std::size_t i = 0; i < a.size(); ++i) {
    result.append(i + by < a.size() ? a[i + by] : fill.value_or(constant_bit(a.network(), false)));
  }
  return result;
}

Word lookup(const Word& index, std::span<const std::uint64_t> values, std::size_t width) {
  const std::size_t entries = std::size_t{1} << index.size();
  if (index.size() > 20 || values.size() > entries) {
    throw std::logic_error(
        fmt::format("table of {} entries for an index of {} bits", values.size(), index.size()));
  }
  TableBuilder builder(index);
  Word result(index.network());
  for (std::size_t bit = 0; bit < width; ++bit) {
    BitTable table(entries, dont_care_marker);
    for (std::size_t i = 0; i < values.size(); ++i) {
      table[i] = ((values[i] >> bit) & 1U) != 0 ? one_marker : zero_marker;
    }
    result.append(builder.build(table));
  }
  return result;
}

}  // namespace portweigh::logic

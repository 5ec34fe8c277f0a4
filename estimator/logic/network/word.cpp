#include "logic/network/word.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <bit>
#include <stdexcept>

namespace portweigh::logic {
namespace {

void require_equal_width(const Word& a, const Word& b, std::string_view operation) {
  if (a.size() != b.size()) {
    throw std::logic_error(fmt::format("{} of words of {} and {} bits", operation, a.size(), b.size()));
  }
}

template <class Combine>
Word bitwise(const Word& a, const Word& b, std::string_view operation, Combine combine) {
  require_equal_width(a, b, operation);
  Word result(a.network());
  for (std::size_t i = 0; i < a.size(); ++i) result.append(combine(a[i], b[i]));
  return result;
}

template <class Change>
Word changed(const Word& a, Change change) {
  Word result(a.network());
  for (std::size_t i = 0; i < a.size(); ++i) result.append(change(a[i]));
  return result;
}

template <class Combine>
Bit reduce_balanced(const Word& a, bool neutral, Combine combine) {
  std::vector<Bit> level;
  for (std::size_t i = 0; i < a.size(); ++i) level.push_back(a[i]);
  if (level.empty()) return constant_bit(a.network(), neutral);
  while (level.size() > 1) {
    std::vector<Bit> next;
    for (std::size_t i = 0; i + 1 < level.size(); i += 2) next.push_back(combine(level[i], level[i + 1]));
    if (level.size() % 2 != 0) next.push_back(level.back());
    level = std::move(next);
  }
  return level.front();
}

std::string indexed(std::string_view name, std::size_t index) {
  return fmt::format("{}[{}]", name, index);
}

}  // namespace

Word Word::slice(std::size_t from, std::size_t count) const {
  if (from + count > bits_.size()) {
    throw std::logic_error(fmt::format("bits {}..{} of a word of {}", from, from + count, bits_.size()));
  }
  const auto first = bits_.begin() + static_cast<std::ptrdiff_t>(from);
  return {*network_, std::vector<Literal>(first, first + static_cast<std::ptrdiff_t>(count))};
}

Word Word::resized(std::size_t width) const {
  std::vector<Literal> bits = bits_;
  bits.resize(width, constant_false);
  return {*network_, std::move(bits)};
}

Bit constant_bit(Network& network, bool value) {
  return {network, value ? constant_true : constant_false};
}

Word constant_word(Network& network, std::uint64_t value, std::size_t width) {
  if (width < 64 && (value >> width) != 0) {
    throw std::logic_error(fmt::format("constant {} does not fit {} bits", value, width));
  }
  Word result(network);
  for (std::size_t i = 0; i < width; ++i) {
    result.append(constant_bit(network, i < 64 && ((value >> i) & 1U) != 0));
  }
  return result;
}

Bit add_input(Network& network, std::string_view name) {
  return {network, network.add_input(name)};
}

Word add_input_word(Network& network, std::string_view name, std::size_t width) {
  Word result(network);
  for (std::size_t i = 0; i < width; ++i) result.append({network, network.add_input(indexed(name, i))});
  return result;
}

Bit add_register(Network& network, std::string_view name) {
  return {network, network.add_register(name)};
}

Word add_registers(Network& network, std::string_view name, std::size_t width) {
  Word result(network);
  for (std::size_t i = 0; i < width; ++i) result.append({network, network.add_register(indexed(name, i))});
  return result;
}

void add_output(Bit bit, std::string_view name) {
  bit.network().add_output(name, bit.literal());
}

void add_output(const Word& word, std::string_view name) {
  for (std::size_t i = 0; i < word.size(); ++i) {
    word.network().add_output(indexed(name, i), word.literals()[i]);
  }
}

void connect(const Word& output, const Word& next, const RegisterControl& control) {
  require_equal_width(output, next, "connection");
  const Literal enable = control.enable ? control.enable->literal() : constant_true;
  const Literal reset = control.reset ? control.reset->literal() : constant_false;
  for (std::size_t i = 0; i < output.size(); ++i) {
    const bool reset_value = i < 64 && ((control.reset_value >> i) & 1U) != 0;
    output.network().connect(output.literals()[i], next.literals()[i], enable, reset, reset_value);
  }
}

Word registered(std::string_view name, const Word& next, const RegisterControl& control) {
  Word output = add_registers(next.network(), name, next.size());
  connect(output, next, control);
  return output;
}

Bit registered(std::string_view name, Bit next, const RegisterControl& control) {
  const Bit output = add_register(next.network(), name);
  connect(output, next, control);
  return output;
}

Word operator~(const Word& a) {
  return changed(a, [](Bit bit) { return !bit; });
}

Word operator&(const Word& a, const Word& b) {
  return bitwise(a, b, "and", [](Bit x, Bit y) { return x & y; });
}
Word operator|(const Word& a, const Word& b) {
  return bitwise(a, b, "or", [](Bit x, Bit y) { return x | y; });
}
Word operator^(const Word& a, const Word& b) {
  return bitwise(a, b, "exclusive or", [](Bit x, Bit y) { return x ^ y; });
}

Word gate(Bit enable, const Word& a) {
  return changed(a, [enable](Bit bit) { return enable & bit; });
}

Word concatenate(const Word& low, const Word& high) {
  std::vector<Literal> bits = low.literals();
  bits.insert(bits.end(), high.literals().begin(), high.literals().end());
  return {low.network(), std::move(bits)};
}

Word reversed(const Word& a) {
  return {a.network(), std::vector<Literal>(a.literals().rbegin(), a.literals().rend())};
}

Word repeated(Bit bit, std::size_t width) {
  return {bit.network(), std::vector<Literal>(width, bit.literal())};
}

Bit any(const Word& a) {
  return reduce_balanced(a, false, [](Bit x, Bit y) { return x | y; });
}
Bit all(const Word& a) {
  return reduce_balanced(a, true, [](Bit x, Bit y) { return x & y; });
}
Bit parity(const Word& a) {
  return reduce_balanced(a, false, [](Bit x, Bit y) { return x ^ y; });
}

Bit select(Bit condition, Bit when_true, Bit when_false) {
  Network& network = condition.network();
  return {network, network.make_mux(condition.literal(), when_true.literal(), when_false.literal())};
}

Word select(Bit condition, const Word& when_true, const Word& when_false) {
  return bitwise(when_true, when_false, "selection",
                 [condition](Bit x, Bit y) { return select(condition, x, y); });
}

Word select_indexed(const Word& index, std::span<const Word> values) {
  if (values.empty()) throw std::logic_error("selection among no values");
  std::vector<Word> level(values.begin(), values.end());
  for (std::size_t bit = 0; bit < index.size() && level.size() > 1; ++bit) {
    std::vector<Word> next;
    for (std::size_t i = 0; i < level.size(); i += 2) {
      next.push_back(i + 1 < level.size() ? select(index[bit], level[i + 1], level[i]) : level[i]);
    }
    level = std::move(next);
  }
  if (level.size() > 1) throw std::logic_error("index too narrow for the number of values");
  return level.front();
}

Word decoded(const Word& a, std::size_t count) {
  const std::size_t size = count == 0 ? std::size_t{1} << a.size() : count;
  Word result(a.network());
  for (std::size_t i = 0; i < size; ++i) result.append(a == i);
  return result;
}

Word lowest_set(const Word& a) {
  const auto width = static_cast<std::size_t>(std::bit_width(std::max<std::size_t>(a.size(), 2) - 1));
  Word result = constant_word(a.network(), 0, width);
  for (std::size_t i = a.size(); i-- > 0;)
    result = select(a[i], constant_word(a.network(), i, width), result);
  return result;
}

std::uint32_t add_memory(Network& network, std::string_view name, std::uint32_t words, std::uint32_t bits) {
  return network.add_memory(name, words, bits);
}

void write_memory(std::uint32_t memory, Bit enable, const Word& address, const Word& data) {
  enable.network().add_memory_write(memory, {enable.literal(), address.literals(), data.literals()});
}

Word read_memory(std::uint32_t memory, const Word& address, ReadStyle style) {
  Network& network = address.network();
  return {network, network.add_memory_read(memory, address.literals(), style)};
}

}  // namespace portweigh::logic

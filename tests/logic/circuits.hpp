// Generated circuits for the tests and the benchmark of the covering: each returns a whole network.
#pragma once

#include <algorithm>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "logic/network/network.hpp"
#include "logic/network/word.hpp"

namespace portweigh::logic::circuits {

inline Network adder(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  const Word b = add_input_word(net, "b", bits);
  const Sum sum = add_with_carry(a, b, constant_bit(net, false));
  add_output(sum.value, "sum");
  add_output(sum.carry, "carry");
  return net;
}

inline Network incrementer(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  add_output(a + 1U, "sum");
  return net;
}

inline Network equality(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  const Word b = add_input_word(net, "b", bits);
  add_output(a == b, "equal");
  return net;
}

inline Network less_than(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  const Word b = add_input_word(net, "b", bits);
  add_output(a < b, "less");
  return net;
}

inline Network parity_tree(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  add_output(parity(a), "parity");
  return net;
}

inline Network conjunction(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  add_output(all(a), "all");
  return net;
}

// 2^select_bits inputs, one output.
inline Network multiplexer(std::size_t select_bits) {
  Network net;
  const Word select = add_input_word(net, "s", select_bits);
  const Word data = add_input_word(net, "d", std::size_t{1} << select_bits);
  std::vector<Word> values;
  for (std::size_t i = 0; i < data.size(); ++i) values.emplace_back(data[i]);
  add_output(select_indexed(select, values), "y");
  return net;
}

inline Network multiplier(std::size_t bits) {
  Network net;
  const Word a = add_input_word(net, "a", bits);
  const Word b = add_input_word(net, "b", bits);
  Word sum = constant_word(net, 0, 2 * bits);
  for (std::size_t i = 0; i < bits; ++i) {
    sum = sum + shifted_left(gate(b[i], a).resized(2 * bits), i);
  }
  add_output(sum, "product");
  return net;
}

inline Network barrel_shifter(std::size_t select_bits) {
  Network net;
  const Word by = add_input_word(net, "by", select_bits);
  Word value = add_input_word(net, "a", std::size_t{1} << select_bits);
  for (std::size_t i = 0; i < select_bits; ++i) {
    const std::size_t step = std::size_t{1} << i;
    const Word rotated =
        concatenate(value.slice(value.size() - step, step), value.slice(0, value.size() - step));
    value = select(by[i], rotated, value);
  }
  add_output(value, "y");
  return net;
}

inline Network priority_encoder(std::size_t inputs) {
  Network net;
  const Word requests = add_input_word(net, "r", inputs);
  add_output(lowest_set(requests), "index");
  add_output(any(requests), "valid");
  return net;
}

// Next state of a CRC register after `bits` message bits, most significant first, as serial steps unrolled.
inline Network crc_next_state(std::size_t width, std::uint64_t polynomial, std::size_t bits) {
  Network net;
  Word state = add_input_word(net, "state", width);
  const Word data = add_input_word(net, "data", bits);
  for (std::size_t i = 0; i < bits; ++i) {
    const Bit feedback = state.top() ^ data[bits - 1 - i];
    const Word shifted = shifted_left(state, 1);
    state = shifted ^ (gate(feedback, repeated(constant_bit(net, true), width)) &
                       constant_word(net, polynomial, width));
  }
  add_output(state, "next");
  return net;
}

// Gates of random kind over random earlier signals; the last ones and whatever is unread are outputs.
inline Network random_logic(std::uint64_t seed, std::size_t inputs, std::size_t gates) {
  Network net;
  std::mt19937_64 random(seed);
  std::vector<Literal> signals = add_input_word(net, "i", inputs).literals();
  std::vector<bool> is_read(signals.size() + gates, false);
  const auto pick = [&] {
    // Recent signals are likelier, so that the logic gets deep.
    const std::size_t window = std::min<std::size_t>(signals.size(), random() % 4 == 0 ? signals.size() : 60);
    const std::size_t place = signals.size() - 1 - random() % window;
    is_read[place] = true;
    return signals[place].complement_if(random() % 2 == 0);
  };
  while (signals.size() < inputs + gates) {
    const Literal a = pick();
    const Literal b = pick();
    signals.push_back(random() % 5 == 0 ? net.make_xor(a, b) : net.make_and(a, b));
  }
  std::size_t outputs = 0;
  for (std::size_t i = inputs; i < signals.size(); ++i) {
    if (!is_read[i]) net.add_output("o" + std::to_string(outputs++), signals[i]);
  }
  return net;
}

}  // namespace portweigh::logic::circuits

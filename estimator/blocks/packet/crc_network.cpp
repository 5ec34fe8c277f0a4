// Kind "crc", logic twin.
//
// The registers hold the check value as it goes out (final exclusive or already done), so the outputs come
// straight from registers and no inverters stand behind them; the equations are linear, so the complement
// costs nothing on the way in either. `reset` starts a message: with synchronous registers a reset and a
// start are the same thing. `match` exists with residue_check: true after a message with its own check value.
// Tested by tests/blocks/packet/crc_test.cpp.
#include <bitset>
#include <string>
#include <utility>
#include <vector>

#include "blocks/packet/crc.hpp"
#include "logic/cover/cover.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr std::size_t most_terms = 128;  // 64 register bits and 64 message bits
using Terms = std::bitset<most_terms>;

// Position in `data` of the message bit that is taken at `turn`.
std::size_t taken_at(const CrcCode& code, std::size_t turn, std::size_t bits) {
  return code.is_reflected ? turn : bits - 1 - turn;
}

// One turn of the register over any values that can be added: bits of a network, or sets of terms.
template <class Value, class Add>
std::vector<Value> turned(const CrcCode& code, const std::vector<Value>& state, const Value& bit,
                          const Value& zero, Add add) {
  const std::size_t width = state.size();
  const std::uint64_t polynomial = code.held(code.polynomial);
  const Value feedback = add(code.is_reflected ? state.front() : state.back(), bit);
  std::vector<Value> next;
  for (std::size_t i = 0; i < width; ++i) {
    const bool is_entry = code.is_reflected ? i + 1 == width : i == 0;
    const Value& shifted = is_entry ? zero : state[code.is_reflected ? i + 1 : i - 1];
    const bool is_tapped = ((polynomial >> i) & 1U) != 0;
    next.push_back(is_tapped ? add(shifted, feedback) : shifted);
  }
  return next;
}

Word unrolled(const CrcCode& code, const Word& state, const Word& data) {
  Network& network = state.network();
  std::vector<Bit> bits;
  for (std::size_t i = 0; i < state.size(); ++i) bits.push_back(state[i]);
  for (std::size_t turn = 0; turn < data.size(); ++turn) {
    bits = turned<Bit>(code, bits, data[taken_at(code, turn, data.size())],
                       logic::constant_bit(network, false), [](const Bit& a, const Bit& b) { return a ^ b; });
  }
  Word next(network);
  for (const Bit& bit : bits) next.append(bit);
  return next;
}

Word rows(const CrcCode& code, const Word& state, const Word& data) {
  std::vector<Terms> sums(state.size());
  for (std::size_t i = 0; i < state.size(); ++i) sums[i].set(i);
  for (std::size_t turn = 0; turn < data.size(); ++turn) {
    Terms bit;
    bit.set(state.size() + taken_at(code, turn, data.size()));
    sums = turned<Terms>(code, sums, bit, Terms{}, [](const Terms& a, const Terms& b) { return a ^ b; });
  }
  Word next(state.network());
  for (const Terms& sum : sums) {
    Word terms(state.network());
    for (std::size_t i = 0; i < state.size() + data.size(); ++i) {
      if (sum.test(i)) terms.append(i < state.size() ? state[i] : data[i - state.size()]);
    }
    next.append(logic::parity(terms));
  }
  return next;
}

// LUTs for K = 4 and 6 together, then levels.
std::pair<std::size_t, std::size_t> area_of(const Network& network) {
  std::pair<std::size_t, std::size_t> area{0, 0};
  for (const unsigned inputs : {4U, 6U}) {
    const auto covered = logic::cover(network, {.lut_inputs = inputs});
    area.first += covered.luts.size();
    area.second += covered.levels;
  }
  return area;
}

void add_residue_check(const CrcCode& code, const Word& output) {
  const std::uint64_t expected = code.residue() ^ code.final_xor;
  logic::add_output(output == expected, "match");
}

Network built(const CrcCode& code, std::size_t bits_per_clock, CrcForm form, bool has_residue_check) {
  Network network;
  const Bit reset = logic::add_input(network, "reset");
  const Bit enable = logic::add_input(network, "enable");
  const Word data = logic::add_input_word(network, "data", bits_per_clock);
  const Word output = logic::add_registers(network, "crc", code.width);
  const Word complement = logic::constant_word(network, code.final_xor, code.width);
  const Word next = crc_next(code, output ^ complement, data, form) ^ complement;
  logic::connect(output, next,
                 {.enable = enable, .reset = reset, .reset_value = code.held(code.initial) ^ code.final_xor});
  logic::add_output(output, "crc");
  if (has_residue_check) add_residue_check(code, output);
  return network;
}

}  // namespace

Word crc_next(const CrcCode& code, const Word& state, const Word& data, CrcForm form) {
  return form == CrcForm::unrolled ? unrolled(code, state, data) : rows(code, state, data);
}

Network crc_network(const CrcCode& code, std::size_t bits_per_clock, CrcForm form) {
  return built(code, bits_per_clock, form, false);
}

Network crc_network(const Settings& settings) {
  const CrcCode code = crc_code(settings);
  const auto bits = static_cast<std::size_t>(settings.integer("bits_per_clock"));
  const bool has_residue_check = settings.flag("residue_check");
  const std::string& form = settings.choice("form");
  if (form == "rows") return built(code, bits, CrcForm::rows, has_residue_check);
  Network chained = built(code, bits, CrcForm::unrolled, has_residue_check);
  if (form == "unrolled" || bits == 1) return chained;  // at one bit a clock both are the same equations
  Network balanced = built(code, bits, CrcForm::rows, has_residue_check);
  return area_of(balanced) < area_of(chained) ? std::move(balanced) : std::move(chained);
}

}  // namespace portweigh::blocks

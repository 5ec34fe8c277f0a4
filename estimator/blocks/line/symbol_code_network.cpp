// Symbol codes as logic: tables, a register for the symbol and, for 8b10b, one for the running disparity.
//
// 8b10b follows the split of the published code: the six-bit part depends on x and the disparity before it,
// the four-bit part on y, the disparity in between, and the few x that need the alternate seven.
// Tested by tests/blocks/line/symbol_code_test.cpp.
#include <string_view>
#include <vector>

#include "blocks/line/symbol_code.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::lookup;
using logic::Network;
using logic::Word;

struct Port {
  Bit reset;
  Bit enable;
};

Port add_port(Network& net) {
  return {logic::add_input(net, "reset"), logic::add_input(net, "enable")};
}

void add_registered_output(const Port& port, const Word& value, std::string_view name) {
  const std::string register_name = std::string(name) + "_register";
  logic::add_output(logic::registered(register_name, value, {.enable = port.enable, .reset = port.reset}),
                    name);
}

void add_registered_output(const Port& port, Bit value, std::string_view name) {
  const std::string register_name = std::string(name) + "_register";
  logic::add_output(logic::registered(register_name, value, {.enable = port.enable, .reset = port.reset}),
                    name);
}

Network encoder_4b5b() {
  Network net;
  const Port port = add_port(net);
  const Word data = logic::add_input_word(net, "data", 4);
  const Bit control = logic::add_input(net, "control");
  std::vector<std::uint64_t> table(nibble_symbols.begin(), nibble_symbols.end());
  table.insert(table.end(), control_symbols.begin(), control_symbols.end());
  add_registered_output(port, lookup(logic::concatenate(data, control), table, 5), "symbol");
  return net;
}

// Columns: data 0-3, control 4, valid 5.
Network decoder_4b5b() {
  Network net;
  const Port port = add_port(net);
  const Word symbol = logic::add_input_word(net, "symbol", 5);
  std::vector<std::uint64_t> table(32, 0);
  for (std::size_t i = 0; i < nibble_symbols.size(); ++i) table[nibble_symbols[i]] = i | 0x20U;
  for (std::size_t i = 0; i < control_symbols.size(); ++i) table[control_symbols[i]] = i | 0x30U;
  const Word meaning = lookup(symbol, table, 6);
  add_registered_output(port, meaning.slice(0, 4), "data");
  add_registered_output(port, meaning[4], "control");
  add_registered_output(port, meaning[5], "valid");
  return net;
}

struct Part {
  Word bits;
  Bit is_plus_after;
};

Part six_bit_part(const Word& x, Bit control, Bit is_plus) {
  std::vector<std::uint64_t> columns;  // part 0-5, unbalanced 6, complemented 7
  for (unsigned value = 0; value < 32; ++value) {
    const unsigned part = six_bits_of(value);
    columns.push_back(part | (is_unbalanced(part, 6) ? 0x40U : 0U) | (is_complemented(part, 6) ? 0x80U : 0U));
  }
  const Word column = lookup(x, columns, 8);
  const Bit is_k28 = control & (x == 28U);
  // K28 differs from D28 in the last bit, which also unbalances it.
  Word part = column.slice(0, 5);
  part.append(column[5] | is_k28);
  const Bit turns = column[6] | is_k28;
  const Bit complements = (column[7] | is_k28) & is_plus;
  return {part ^ logic::repeated(complements, 6), is_plus ^ turns};
}

Part four_bit_part(const Word& x, const Word& y, Bit control, Bit is_plus) {
  std::vector<std::uint64_t> columns;  // index y, control: part 0-3, unbalanced 4, complemented 5
  for (unsigned index = 0; index < 16; ++index) {
    const bool is_control = index >= 8;
    const unsigned part = four_bits_of(index % 8, is_control);
    columns.push_back(part | (is_unbalanced(part, 4) ? 0x10U : 0U) |
                      (is_control || is_complemented(part, 4) ? 0x20U : 0U));
  }
  const Word column = lookup(logic::concatenate(y, control), columns, 6);
  std::vector<std::uint64_t> alternate;
  for (unsigned value = 0; value < 32; ++value) {
    alternate.push_back((takes_alternate_seven(value, false) ? 1U : 0U) |
                        (takes_alternate_seven(value, true) ? 2U : 0U));
  }
  const Word takes = lookup(x, alternate, 2);
  const Bit is_alternate = (y == 7U) & logic::select(is_plus, takes[1], takes[0]);
  // 1110 becomes 0111.
  Word part(x.network());
  part.append(column[0] & !is_alternate);
  part.append(column[1]);
  part.append(column[2]);
  part.append(column[3] | is_alternate);
  return {part ^ logic::repeated(column[5] & is_plus, 4), is_plus ^ column[4]};
}

Network encoder_8b10b() {
  Network net;
  const Port port = add_port(net);
  const Word data = logic::add_input_word(net, "data", 8);
  const Bit control = logic::add_input(net, "control");
  const Bit is_plus = logic::add_register(net, "is_plus");
  const Word x = data.slice(0, 5);
  const Part six = six_bit_part(x, control, is_plus);
  const Part four = four_bit_part(x, data.slice(5, 3), control, six.is_plus_after);
  logic::connect(is_plus, four.is_plus_after, {.enable = port.enable, .reset = port.reset});
  add_registered_output(port, logic::concatenate(six.bits, four.bits), "symbol");
  logic::add_output(is_plus, "disparity");
  return net;
}

struct DecodedPart {
  Word value;
  Bit is_valid;
  Bit starts_minus;
  Bit starts_plus;
  Bit ends_plus;
  Bit ends_minus;
  Bit allows_0111;
  Bit allows_1000;
  Bit is_control_with_seven;
};

DecodedPart decode_part(const Word& part, PartMeaning (*meaning_of)(unsigned), std::size_t value_bits) {
  std::vector<std::uint64_t> rows;
  for (unsigned code = 0; code < 1U << part.size(); ++code) {
    const PartMeaning meaning = meaning_of(code);
    const std::array<bool, 8> flags{meaning.is_valid,    meaning.starts_minus,         meaning.starts_plus,
                                    meaning.ends_plus,   meaning.ends_minus,           meaning.allows_0111,
                                    meaning.allows_1000, meaning.is_control_with_seven};
    std::uint64_t row = meaning.value;
    for (std::size_t i = 0; i < flags.size(); ++i) row |= std::uint64_t{flags[i]} << (value_bits + i);
    rows.push_back(row);
  }
  const Word columns = lookup(part, rows, value_bits + 8);
  const auto flag = [&](std::size_t i) { return columns[value_bits + i]; };
  return {
      columns.slice(0, value_bits), flag(0), flag(1), flag(2), flag(3), flag(4), flag(5), flag(6), flag(7)};
}

struct Checks {
  Bit code_error;
  Bit disparity_error;
  Bit is_control;
  Bit is_plus_after;
};

Checks check_symbol(const Word& six_bits, const Word& four_bits, const DecodedPart& six,
                    const DecodedPart& four, Bit is_plus) {
  const Bit is_k28 = (six_bits == six_bits_of_k28) | (six_bits == (~six_bits_of_k28 & 0x3FU));
  const Bit is_0111 = four_bits == 0b1110U;
  const Bit is_1000 = four_bits == 0b0001U;
  const Bit is_1110 = four_bits == 0b0111U;
  const Bit is_0001 = four_bits == 0b1000U;
  // The plain seven after two equal bits would make a run of five.
  const Bit is_wrong_seven = (is_1110 & ((six_bits[4] & six_bits[5]) | is_k28)) |
                             (is_0001 & (~(six_bits[4] | six_bits[5]) | is_k28)) |
                             (is_0111 & !six.allows_0111) | (is_1000 & !six.allows_1000);
  const Bit conflicts = (six.ends_plus & four.starts_minus) | (six.ends_minus & four.starts_plus);
  const Bit code_error = ~six.is_valid | ~four.is_valid | conflicts | is_wrong_seven;
  const Bit needs_minus = six.starts_minus | (~six.starts_plus & four.starts_minus);
  const Bit needs_plus = six.starts_plus | (~six.starts_minus & four.starts_plus);
  const Bit is_plus_middle = six.ends_plus | (is_plus & !six.ends_minus);
  return {code_error, ~code_error & logic::select(is_plus, needs_minus, needs_plus),
          is_k28 | (six.is_control_with_seven & (is_0111 | is_1000)),
          four.ends_plus | (is_plus_middle & !four.ends_minus)};
}

Network decoder_8b10b() {
  Network net;
  const Port port = add_port(net);
  const Word symbol = logic::add_input_word(net, "symbol", 10);
  const Bit is_plus = logic::add_register(net, "is_plus");
  const Word six_bits = symbol.slice(0, 6);
  const Word four_bits = symbol.slice(6, 4);
  const DecodedPart six = decode_part(six_bits, six_bit_meaning, 5);
  const DecodedPart four = decode_part(four_bits, four_bit_meaning, 3);
  const Checks checks = check_symbol(six_bits, four_bits, six, four, is_plus);
  logic::connect(is_plus, checks.is_plus_after, {.enable = port.enable, .reset = port.reset});

  // y after 110000 is read from the complement; it turns 1, 2, 5, 6 into one another only.
  const Bit is_k28_plus = six_bits == (~six_bits_of_k28 & 0x3FU);
  const Word turned = four_bits ^ logic::repeated(is_k28_plus, 4);
  const Word y = decode_part(turned, four_bit_meaning, 3).value;
  add_registered_output(port, logic::concatenate(six.value, y), "data");
  add_registered_output(port, checks.is_control, "control");
  add_registered_output(port, checks.code_error, "code_error");
  add_registered_output(port, checks.disparity_error, "disparity_error");
  logic::add_output(is_plus, "disparity");
  return net;
}

}  // namespace

Network symbol_code_network(const Settings& settings) {
  const bool is_encoder = settings.choice("direction") == "encode";
  if (settings.choice("code") == "4b5b") return is_encoder ? encoder_4b5b() : decoder_4b5b();
  return is_encoder ? encoder_8b10b() : decoder_8b10b();
}

}  // namespace portweigh::blocks

// Symbol codes in firmware: small tables in flash, split into parts as the codes are.
//
// The 8b10b tables carry flags above the bits of the part, so that one read gives both.
// Tested by tests/blocks/line/symbol_code_test.cpp.
#include <vector>

#include "blocks/line/symbol_code.hpp"

namespace portweigh::blocks {
namespace {

using firmware::cast_u16;
using firmware::cast_u8;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr std::uint32_t not_a_nibble = 0x80;

Routine encode_4b5b() {
  Routine r("encode_byte");
  const Place byte = r.parameter_u8("byte");
  const auto table = r.table_u8("symbols", {nibble_symbols.begin(), nibble_symbols.end()});
  r.return_(cast_u16(table[byte & 0x0F]) | (cast_u16(table[byte >> 4]) << 5));
  return r;
}

Routine decode_4b5b() {
  Routine r("decode_symbols");
  const Place symbols = r.parameter_u16("symbols");
  std::vector<std::uint32_t> nibbles(32, not_a_nibble);
  for (std::uint32_t i = 0; i < nibble_symbols.size(); ++i) nibbles[nibble_symbols[i]] = i;
  const auto table = r.table_u8("nibbles", nibbles);
  const Place low = r.local_u8("low");
  const Place high = r.local_u8("high");
  r.set(low, table[cast_u8(symbols) & 0x1F]);
  r.set(high, table[cast_u8(symbols >> 5) & 0x1F]);
  r.if_(((low | high) & not_a_nibble) != 0, [&] { r.return_(0x100); });
  r.return_(cast_u16(low | (high << 4)));
  return r;
}

constexpr std::uint32_t complemented_flag = 0x40;
constexpr std::uint32_t unbalanced_flag = 0x80;

std::uint32_t with_flags(unsigned part, unsigned bits, bool is_complemented_always) {
  return part | (is_complemented_always || is_complemented(part, bits) ? complemented_flag : 0U) |
         (is_unbalanced(part, bits) ? unbalanced_flag : 0U);
}

// Complements `part` where the disparity asks for it, and turns the disparity.
void write_part(Routine& r, const Place& part, const Place& disparity) {
  r.if_(disparity && (part & complemented_flag) != 0, [&] { r.set(part, part ^ 0x3F); });
  r.if_((part & unbalanced_flag) != 0, [&] { r.set(disparity, disparity ^ 1); });
}

Routine encode_8b10b() {
  Routine r("encode_byte");
  const Place byte = r.parameter_u8("byte");
  const Place control = r.parameter_u8("control");
  const Place disparity = r.state_u8("disparity");
  std::vector<std::uint32_t> six_bits;
  std::vector<std::uint32_t> four_bits;
  for (unsigned x = 0; x < 32; ++x) six_bits.push_back(with_flags(six_bits_of(x), 6, false));
  for (unsigned y = 0; y < 8; ++y) four_bits.push_back(with_flags(four_bits_of(y, false), 4, false));
  for (unsigned y = 0; y < 8; ++y) four_bits.push_back(with_flags(four_bits_of(y, true), 4, true));
  const auto six_table = r.table_u8("six_bits", six_bits);
  const auto four_table = r.table_u8("four_bits", four_bits);
  const Place x = r.local_u8("x");
  const Place y = r.local_u8("y");
  const Place six = r.local_u8("six");
  const Place four = r.local_u8("four");

  r.set(x, byte & 0x1F);
  r.set(y, byte >> 5);
  r.set(six, six_table[x]);
  r.if_(control != 0, [&] {
    r.set(y, y | 8);
    r.if_(x == 28, [&] { r.set(six, with_flags(six_bits_of_k28, 6, false)); });
  });
  write_part(r, six, disparity);
  r.set(four, four_table[y]);
  r.if_(y == 7, [&] {
    const auto alternate = with_flags(four_bits_alternate_seven, 4, false);
    r.if_else(
        disparity, [&] { r.if_(x == 11 || x == 13 || x == 14, [&] { r.set(four, alternate); }); },
        [&] { r.if_(x == 17 || x == 18 || x == 20, [&] { r.set(four, alternate); }); });
  });
  write_part(r, four, disparity);
  r.return_(cast_u16(six & 0x3F) | (cast_u16(four & 0x0F) << 6));
  return r;
}

// Rows of the decoding tables: value in the low five bits, one flag for each property above.
constexpr std::uint32_t invalid_flag = 0x20;
constexpr std::uint32_t starts_minus_flag = 0x40;
constexpr std::uint32_t starts_plus_flag = 0x80;
constexpr std::uint32_t ends_plus_flag = 0x100;
constexpr std::uint32_t ends_minus_flag = 0x200;
constexpr std::uint32_t allows_0111_flag = 0x400;
constexpr std::uint32_t allows_1000_flag = 0x800;
constexpr std::uint32_t allows_1110_flag = 0x1000;
constexpr std::uint32_t allows_0001_flag = 0x2000;
constexpr std::uint32_t control_with_seven_flag = 0x4000;
constexpr std::uint32_t k28_flag = 0x8000;
constexpr unsigned k28_plus = ~six_bits_of_k28 & 0x3FU;

std::uint32_t row_of(const PartMeaning& meaning) {
  return meaning.value | (meaning.is_valid ? 0U : invalid_flag) |
         (meaning.starts_minus ? starts_minus_flag : 0U) | (meaning.starts_plus ? starts_plus_flag : 0U) |
         (meaning.ends_plus ? ends_plus_flag : 0U) | (meaning.ends_minus ? ends_minus_flag : 0U) |
         (meaning.allows_0111 ? allows_0111_flag : 0U) | (meaning.allows_1000 ? allows_1000_flag : 0U) |
         (meaning.is_control_with_seven ? control_with_seven_flag : 0U);
}

std::uint32_t six_bit_row(unsigned part) {
  const bool is_k28 = part == six_bits_of_k28 || part == k28_plus;
  const unsigned last_two = part >> 4;
  return row_of(six_bit_meaning(part)) | (is_k28 ? k28_flag : 0U) |
         (last_two != 3 && !is_k28 ? allows_1110_flag : 0U) |
         (last_two != 0 && !is_k28 ? allows_0001_flag : 0U);
}

// The four forms of seven: which flag of the six-bit part permits them (others always stand).
std::uint32_t four_bit_row(unsigned part) {
  std::uint32_t needed = 0;
  if (part == 0b1110) needed = allows_0111_flag;
  if (part == 0b0001) needed = allows_1000_flag;
  if (part == 0b0111) needed = allows_1110_flag;
  if (part == 0b1000) needed = allows_0001_flag;
  return row_of(four_bit_meaning(part)) | needed;
}

constexpr std::uint32_t seven_forms =
    allows_0111_flag | allows_1000_flag | allows_1110_flag | allows_0001_flag;
constexpr std::uint32_t control_result = 0x100;
constexpr std::uint32_t code_error_result = 0x200;
constexpr std::uint32_t disparity_error_result = 0x400;

// Sets `result` flags from the rows of both parts, and the disparity after the symbol.
void write_checks(Routine& r, const Place& six, const Place& four, const Place& result,
                  const Place& disparity) {
  const Place start = r.local_u16("start");
  r.set(start, six);
  r.if_((six & (starts_minus_flag | starts_plus_flag)) == 0, [&] { r.set(start, four); });
  const Expression conflicts = ((six & ends_plus_flag) != 0 && (four & starts_minus_flag) != 0) ||
                               ((six & ends_minus_flag) != 0 && (four & starts_plus_flag) != 0);
  r.if_else(
      ((six | four) & invalid_flag) != 0 || (four & ~six & seven_forms) != 0 || conflicts,
      [&] { r.set(result, result | code_error_result); },
      [&] {
        r.if_((start & select(disparity, Expression(starts_minus_flag), Expression(starts_plus_flag))) != 0,
              [&] { r.set(result, result | disparity_error_result); });
      });
  r.if_((four & (ends_plus_flag | ends_minus_flag)) == 0, [&] { r.set(four, six); });
  r.if_((four & ends_plus_flag) != 0, [&] { r.set(disparity, 1); });
  r.if_((four & ends_minus_flag) != 0, [&] { r.set(disparity, 0); });
}

Routine decode_8b10b() {
  Routine r("decode_symbol");
  const Place symbol = r.parameter_u16("symbol");
  const Place disparity = r.state_u8("disparity");
  std::vector<std::uint32_t> six_rows;
  std::vector<std::uint32_t> four_rows;
  for (unsigned part = 0; part < 64; ++part) six_rows.push_back(six_bit_row(part));
  for (unsigned part = 0; part < 16; ++part) four_rows.push_back(four_bit_row(part));
  const auto six_table = r.table_u16("six_rows", six_rows);
  const auto four_table = r.table_u16("four_rows", four_rows);
  const Place low = r.local_u8("low");
  const Place high = r.local_u8("high");
  const Place six = r.local_u16("six");
  const Place four = r.local_u16("four");
  const Place y = r.local_u8("y");
  const Place result = r.local_u16("result");

  r.set(low, cast_u8(symbol) & 0x3F);
  r.set(high, cast_u8(symbol >> 6) & 0x0F);
  r.set(six, six_table[low]);
  r.set(four, four_table[high]);
  r.set(y, cast_u8(four) & 7);
  r.if_(low == k28_plus, [&] { r.set(y, cast_u8(four_table[high ^ 0x0F]) & 7); });
  r.set(result, (cast_u8(six) & 0x1F) | (y << 5));
  r.if_((six & k28_flag) != 0 ||
            ((six & control_with_seven_flag) != 0 && (four & (allows_0111_flag | allows_1000_flag)) != 0),
        [&] { r.set(result, result | control_result); });
  write_checks(r, six, four, result, disparity);
  r.return_(result);
  return r;
}

}  // namespace

Routine symbol_code_routine(const Settings& settings) {
  const bool is_encoder = settings.choice("direction") == "encode";
  if (settings.choice("code") == "4b5b") return is_encoder ? encode_4b5b() : decode_4b5b();
  return is_encoder ? encode_8b10b() : decode_8b10b();
}

}  // namespace portweigh::blocks

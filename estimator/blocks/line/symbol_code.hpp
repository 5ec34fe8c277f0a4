// Kind "symbol-code": 4b5b with control symbols, and 8b10b with running disparity.
//
// 4b5b: a nibble, or one of six control symbols, as five bits; the other ten are errors. A byte's low nibble
// goes first, each symbol least significant bit first.
// 8b10b: a byte (low five bits x, high three y) or a control character as abcdei fghj, bit 0 is `a`, sent
// first. With running disparity minus the columns below are sent; with plus, their complement where the
// part is unbalanced (or 111000, 1100). Examples: D0.0 1001110100 / 0110001011, K28.5 0011111010 /
// 1100000101 (minus / plus).
// The decoder reports a symbol of neither column (`code_error`) and one of the wrong column
// (`disparity_error`); after any symbol the disparity is what its last unbalanced part left.
// Sources: 4b5b as in the open specification of USB power delivery; 8b10b: A. X. Widmer, P. A. Franaszek,
// IBM J. Res. Dev. 27(5) 1983, IEEE 802.3 clause 36.
// Tested by tests/blocks/line/symbol_code_test.cpp against the tables written out column by column.
#pragma once

#include <array>
#include <cstdint>

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"
#include "logic/network/network.hpp"

namespace portweigh::blocks {

// Five-bit symbols of the nibbles 0..15.
inline constexpr std::array<std::uint8_t, 16> nibble_symbols{
    0b11110, 0b01001, 0b10100, 0b10101, 0b01010, 0b01011, 0b01110, 0b01111,
    0b10010, 0b10011, 0b10110, 0b10111, 0b11010, 0b11011, 0b11100, 0b11101};
// Control symbols in the order of the encoder's data input: Sync-1, Sync-2, Sync-3, RST-1, RST-2, EOP.
inline constexpr std::array<std::uint8_t, 6> control_symbols{0b11000, 0b10001, 0b00110,
                                                             0b00111, 0b11001, 0b01101};

// At most four ones or three zeros in a symbol of the tables above.
inline constexpr SymbolFacts facts_4b5b{.wire_bits_per_byte = 10, .most_zeros = 0.6, .most_ones = 0.8};
// Each symbol is balanced or has six bits of a kind and four of the other.
inline constexpr SymbolFacts facts_8b10b{.wire_bits_per_byte = 10, .most_zeros = 0.6, .most_ones = 0.6};

// What a six-bit part (abcdei, `a` in bit 0) or a four-bit part (fghj) means to the decoder.
struct PartMeaning {
  std::uint8_t value = 0;     // x or y; y of a part that follows 110000 is that of its complement
  bool is_valid = false;      // part of some symbol
  bool starts_minus = false;  // allowed with disparity minus only
  bool starts_plus = false;
  bool ends_plus = false;  // leaves disparity plus
  bool ends_minus = false;
  bool allows_0111 = false;  // six bits only: 0111 may follow, 1000 may follow, and they make it a control
  bool allows_1000 = false;
  bool is_control_with_seven = false;
};
PartMeaning six_bit_meaning(unsigned part);
PartMeaning four_bit_meaning(unsigned part);

// Columns of disparity minus.
unsigned six_bits_of(unsigned x);                    // of D.x
unsigned four_bits_of(unsigned y, bool is_control);  // D.x.P7 for y = 7 of data, K.x.y for controls
inline constexpr unsigned six_bits_of_k28 = 0b111100;
inline constexpr unsigned four_bits_alternate_seven = 0b1110;
// True where the part is complemented with disparity plus; true where it turns the disparity.
bool is_complemented(unsigned part, unsigned bits);
bool is_unbalanced(unsigned part, unsigned bits);
// x of D.x.7 that take the alternate seven with disparity minus (17, 18, 20), plus (11, 13, 14).
bool takes_alternate_seven(unsigned x, bool is_plus);

// Characters to symbols in plain arithmetic, for traffic.
class EightTenEncoder {
 public:
  unsigned encode(unsigned byte, bool is_control);

 private:
  bool is_plus_ = false;
};

logic::Network symbol_code_network(const Settings& settings);

// 4b5b encode: `byte` to ten bits, low nibble's symbol lowest. 4b5b decode: `symbols` (ten bits) to a byte,
// with bit 8 set where a symbol is no nibble. 8b10b encode: `byte`, `control` (0, 1) to ten bits. 8b10b
// decode: `symbol` to byte, bit 8 control, bit 9 code error, bit 10 disparity error. 8b10b keeps the
// disparity in `disparity` (0 minus, 1 plus).
firmware::Routine symbol_code_routine(const Settings& settings);

Kind symbol_code_kind();

}  // namespace portweigh::blocks

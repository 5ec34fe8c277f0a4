// Kind "framing": preamble, start set of five-bit symbols, payload symbols, end symbol.
//
// On the wire: `preamble_bits` alternating bits (0 first), a start set of `symbols` control symbols that says
// for whom the packet is, two 4b5b symbols for each byte, the symbol EOP; every symbol least significant bit
// first. The sets are those of the open specification of USB power delivery, in this order: SOP, SOP',
// SOP'', Hard Reset, Cable Reset, SOP'_Debug, SOP''_Debug; the two resets are bare, nothing follows them.
// With four symbols or more a set counts as found with one symbol wrong. Shorter sets are the ends of these,
// longer ones repeat them. Example: header and 7 objects, 64 + 5 (4 + 2 (30 + 4) + 1) = 429 bits.
// The logic twin frames symbols (4b5b and CRC are blocks of their own); the routine does everything from
// header to packed symbols with CRC, as firmware does it in one go.
// Source: USB Power Delivery, IEC 62680-1-2, as sigrokproject/libsigrokdecode 4539e9c decodes it. Tested by
// tests/blocks/packet/framing_test.cpp and framing_routine_test.cpp.
#pragma once

#include <cstddef>
#include <cstdint>

#include "blocks/kind.hpp"
#include "blocks/packet/crc.hpp"
#include "firmware/routine.hpp"
#include "logic/network/network.hpp"

namespace portweigh::blocks {

struct FramingShape {
  unsigned preamble_bits = 64;
  unsigned symbols = 4;  // 1..6
  unsigned sets = 7;     // 1..7

  unsigned set_bits() const;
  // Symbols of a start set that may be wrong.
  unsigned tolerated() const { return symbols >= 4 ? 1 : 0; }
};

inline constexpr unsigned symbol_bits = 5;
inline constexpr unsigned end_symbol = 0b01101;

// The symbol at `position` of start set `set`.
unsigned start_symbol(const FramingShape& shape, unsigned set, unsigned position);
// All symbols of a set in the order of the wire, first bit least significant.
std::uint32_t start_pattern(const FramingShape& shape, unsigned set);
// True for a set that is the whole packet.
bool is_bare(unsigned set);
// A receiver locks after this many alternating bits: a power of two, about a quarter of the preamble, since
// squelch and clock recovery use up its start.
unsigned bits_to_lock(const FramingShape& shape);

// Inputs bit, bit_valid, line_idle. Outputs start and set, symbol_valid and symbol, end, error (the line went
// idle inside a packet), receiving.
logic::Network framing_decode_network(const FramingShape& shape);
// Inputs bit_tick, send, set, symbol, symbol_valid. Outputs line_bit and line_active, symbol_take, busy,
// done.
logic::Network framing_encode_network(const FramingShape& shape);

// Bytes of a packed packet of `payload_bytes` with its preamble, the last one filled with zeros.
std::size_t packed_bytes(const FramingShape& shape, unsigned payload_bytes);

// Arguments: set, type, id, length (bytes with header; 0 for a bare set). Array `payload`: the objects from
// element 2 on; states data_role, power_role, revision. Result in array `packed`, its bytes are returned.
firmware::Routine framing_encode_routine(const FramingShape& shape, unsigned payload_bytes, CrcMethod method);

// What the decoding routine returns.
enum class FramingResult : std::uint8_t { good, no_set, symbol_error, check_error, length_error };
// Argument: bytes in array `packed`, at most packed_bytes() + 2. Results: state `found_set`, array `payload`,
// state `length`.
firmware::Routine framing_decode_routine(const FramingShape& shape, unsigned payload_bytes, CrcMethod method);

Kind framing_kind();

}  // namespace portweigh::blocks

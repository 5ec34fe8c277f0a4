// Packets as IEC 62680-1-2 writes them, built for the tests alone from its tables, which were seen in
// sigrokproject/libsigrokdecode 4539e9c, decoders/usb_power_delivery/pd.py [S].
#pragma once

#include <cstdint>
#include <vector>

namespace portweigh::blocks {

// 4b5b and ordered sets of USB power delivery, five-bit values sent least significant bit first; a byte's low
// nibble first [S].
inline const std::vector<unsigned> wire_nibbles{0b11110, 0b01001, 0b10100, 0b10101, 0b01010, 0b01011,
                                                0b01110, 0b01111, 0b10010, 0b10011, 0b10110, 0b10111,
                                                0b11010, 0b11011, 0b11100, 0b11101};
inline constexpr unsigned wire_s1 = 0b11000, wire_s2 = 0b10001, wire_s3 = 0b00110, wire_r1 = 0b00111,
                          wire_r2 = 0b11001, wire_eop = 0b01101;
// SOP, SOP', SOP'', Hard Reset, Cable Reset, SOP'_Debug, SOP''_Debug, as above [S].
inline const std::vector<std::vector<unsigned>> wire_sets{
    {wire_s1, wire_s1, wire_s1, wire_s2}, {wire_s1, wire_s1, wire_s3, wire_s3},
    {wire_s1, wire_s3, wire_s1, wire_s3}, {wire_r1, wire_r1, wire_r1, wire_r2},
    {wire_r1, wire_s1, wire_r1, wire_s3}, {wire_s1, wire_r2, wire_r2, wire_s3},
    {wire_s1, wire_r2, wire_s3, wire_s2}};

// Alternating bits, 0 first.
std::vector<bool> wire_preamble(unsigned bits);
std::vector<bool> wire_symbols(const std::vector<unsigned>& symbols);
// The symbols of bytes and their CRC-32 (zlib), without set and end.
std::vector<unsigned> wire_payload(std::vector<std::uint8_t> bytes);
// Preamble of 64, set, payload with CRC, end; set alone where it is bare (3, 4).
std::vector<bool> wire_packet(unsigned set, const std::vector<std::uint8_t>& bytes);
void append(std::vector<bool>& bits, const std::vector<bool>& more);

}  // namespace portweigh::blocks

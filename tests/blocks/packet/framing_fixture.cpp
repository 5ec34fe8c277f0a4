#include "framing_fixture.hpp"

#include <zlib.h>

namespace portweigh::blocks {

void append(std::vector<bool>& bits, const std::vector<bool>& more) {
  bits.insert(bits.end(), more.begin(), more.end());
}

std::vector<bool> wire_preamble(unsigned bits) {
  std::vector<bool> preamble;
  for (unsigned i = 0; i < bits; ++i) preamble.push_back(i % 2 == 1);
  return preamble;
}

std::vector<bool> wire_symbols(const std::vector<unsigned>& symbols) {
  std::vector<bool> bits;
  for (const unsigned symbol : symbols) {
    for (unsigned bit = 0; bit < 5; ++bit) bits.push_back((symbol >> bit & 1U) != 0);
  }
  return bits;
}

std::vector<unsigned> wire_payload(std::vector<std::uint8_t> bytes) {
  const uLong crc = crc32(0, bytes.data(), static_cast<uInt>(bytes.size()));
  for (unsigned i = 0; i < 4; ++i) bytes.push_back(static_cast<std::uint8_t>(crc >> (8 * i) & 0xFFU));
  std::vector<unsigned> symbols;
  for (const std::uint8_t byte : bytes) {
    symbols.push_back(wire_nibbles[byte & 15U]);
    symbols.push_back(wire_nibbles[byte >> 4U]);
  }
  return symbols;
}

std::vector<bool> wire_packet(unsigned set, const std::vector<std::uint8_t>& bytes) {
  std::vector<bool> bits = wire_preamble(64);
  append(bits, wire_symbols(wire_sets[set]));
  if (set == 3 || set == 4) return bits;
  append(bits, wire_symbols(wire_payload(bytes)));
  append(bits, wire_symbols({wire_eop}));
  return bits;
}

}  // namespace portweigh::blocks

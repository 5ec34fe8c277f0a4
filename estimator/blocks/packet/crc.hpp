// Kind "crc": a cyclic redundancy check of any width up to 64, any polynomial, any number of bits a clock.
//
// The register holds the remainder of the message times x^width divided by the polynomial, over bits:
//   s' = (s shifted by one) xor (polynomial if (bit leaving s) xor (message bit))
// Reflected codes shift towards the least significant bit and take each byte's least significant bit first;
// the others shift the other way and take the most significant bit first. `initial` is the register at the
// start of a message and `final` is added (exclusive or) to the result, both written as G. Cook's
// catalogue of parametrised CRC algorithms does.
// Example: width 32, polynomial 0x04C11DB7, reflected, all ones, over "123456789": 0xCBF43926.
// Source: W. W. Peterson, D. T. Brown, "Cyclic codes for error detection", Proc. IRE 49 (1961).
// Tested by tests/blocks/packet/crc_test.cpp against the catalogue's check values, boost::crc and zlib.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>
#include <vector>

#include "blocks/kind.hpp"
#include "firmware/routine.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {

struct CrcCode {
  unsigned width = 32;
  std::uint64_t polynomial = 0;  // without the leading term, most significant coefficient first
  bool is_reflected = false;
  std::uint64_t initial = 0;    // register at the start, in the catalogue's (unreflected) writing
  std::uint64_t final_xor = 0;  // added to the result
  bool operator==(const CrcCode&) const = default;

  std::uint64_t mask() const { return width == 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << width) - 1; }
  // The register as it is held: mirrored for reflected codes.
  std::uint64_t held(std::uint64_t catalogue_value) const;
  // The held register after one more message bit.
  std::uint64_t advance(std::uint64_t state, bool bit) const;
  // The held register after a message followed by its own check value: one constant for all messages.
  std::uint64_t residue() const;
};

// Throws SettingError where the polynomial, `initial` or `final` does not fit the width.
CrcCode crc_code(const Settings& settings);

// How the next-state equations are built: bit after bit (long shared chains), or each register bit as one
// balanced sum of all that it depends on (few levels, less sharing).
enum class CrcForm : std::uint8_t { unrolled, rows };

// Next held register; `data[0]` is the least significant message bit. Unreflected codes take the most
// significant bit of `data` first.
logic::Word crc_next(const CrcCode& code, const logic::Word& state, const logic::Word& data, CrcForm form);
// Register, enable, reset and output; see crc_network.cpp.
logic::Network crc_network(const CrcCode& code, std::size_t bits_per_clock, CrcForm form);
// The form that takes fewer LUTs (K = 4 and 6 together), fewer levels on a tie.
logic::Network crc_network(const Settings& settings);

enum class CrcMethod : std::uint8_t { bitwise, nibble_table, byte_table, crc_unit };

// The register of a routine: one variable of 8, 16 or 32 bits, or two of 32. Reflected codes sit at the
// bottom of it, the others at the top, so that whole bytes come out at one end.
struct CrcVariable {
  firmware::Place low;
  std::optional<firmware::Place> high;
};

// Writes the statements that take one more byte, again and again if wanted. The constructor declares what
// they need: a table in flash, and locals.
class CrcStep {
 public:
  CrcStep(firmware::Routine& routine, const CrcCode& code, CrcMethod method);
  void write(const CrcVariable& crc, const firmware::Expression& byte) const;

  // 8, 16, 32 or 64: bits of the variables together.
  static unsigned variable_bits(const CrcCode& code);
  // A held register as the variables hold it, and back.
  static std::uint64_t placed(const CrcCode& code, std::uint64_t held);
  static std::uint64_t taken(const CrcCode& code, std::uint64_t placed);

 private:
  void write_bitwise(const CrcVariable& crc, const firmware::Expression& byte) const;
  void write_table(const CrcVariable& crc, const firmware::Expression& byte) const;
  void write_lookup(const CrcVariable& crc, const firmware::Expression& index, unsigned bits) const;

  firmware::Routine& routine_;
  CrcCode code_;
  CrcMethod method_;
  std::vector<firmware::Array> tables_;    // low half, high half
  std::optional<firmware::Place> index_;   // table methods
  std::optional<firmware::Place> second_;  // nibble table: the byte, used twice
  std::optional<firmware::Place> turn_;    // bitwise
  std::optional<firmware::Place> unit_;    // data register of a CRC unit
};

// Runs over `length` bytes of a message in the caller's buffer, from the register in `crc` (and `crc_high`),
// which hold the result afterwards; an event of the block is one of the bytes.
firmware::Routine crc_routine(const CrcCode& code, CrcMethod method);
CrcMethod crc_method(std::string_view name);

Kind crc_kind();

}  // namespace portweigh::blocks

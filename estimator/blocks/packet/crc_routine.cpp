// Kind "crc", firmware twin.
//
// A byte is taken bit by bit (no table), by two lookups in a table of 16, or by one in a table of 256; the
// register is as wide as a variable, mirrored codes at its bottom, the others at its top, so that the byte
// that meets the message is whole. Widths above 32 take two variables and two tables.
// The routine runs over a message; an event is one byte of it, so the loop keeps register and position where
// a compiler keeps them, and what is done once is shared by the bytes. A CRC unit is only fed.
// Source of the table method: D. V. Sarwate, Communications of the ACM 31(8), 1988.
// Tested by tests/blocks/packet/crc_test.cpp against the same references as the network.
#include <algorithm>
#include <memory>
#include <random>
#include <string>

#include "blocks/packet/crc.hpp"
#include "blocks/sized_variables.hpp"
#include "firmware/execute.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr std::uint64_t low_half = 0xFFFFFFFF;
constexpr std::size_t longest_message = 64;

unsigned bits_each(CrcMethod method) {
  return method == CrcMethod::nibble_table ? 4 : 8;
}

// What `bits` turns without message bits make of each pattern at the leaving end of the register.
std::vector<std::uint64_t> table_entries(const CrcCode& code, unsigned bits) {
  const unsigned size = CrcStep::variable_bits(code);
  const std::uint64_t polynomial = CrcStep::placed(code, code.held(code.polynomial));
  const std::uint64_t all = size == 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << size) - 1;
  std::vector<std::uint64_t> entries;
  for (std::uint64_t pattern = 0; pattern < (std::uint64_t{1} << bits); ++pattern) {
    std::uint64_t value = code.is_reflected ? pattern : pattern << (size - bits);
    for (unsigned turn = 0; turn < bits; ++turn) {
      const bool is_leaving = (value >> (code.is_reflected ? 0U : size - 1) & 1U) != 0;
      value = code.is_reflected ? value >> 1U : value << 1U & all;
      if (is_leaving) value ^= polynomial;
    }
    entries.push_back(value);
  }
  return entries;
}

std::vector<std::uint32_t> halves(const std::vector<std::uint64_t>& entries, unsigned shift) {
  std::vector<std::uint32_t> half;
  half.reserve(entries.size());
  for (const std::uint64_t entry : entries)
    half.push_back(static_cast<std::uint32_t>(entry >> shift & low_half));
  return half;
}

}  // namespace

unsigned CrcStep::variable_bits(const CrcCode& code) {
  return code.width <= 8 ? 8 : code.width <= 16 ? 16 : code.width <= 32 ? 32 : 64;
}

std::uint64_t CrcStep::placed(const CrcCode& code, std::uint64_t held) {
  return code.is_reflected ? held : held << (variable_bits(code) - code.width);
}

std::uint64_t CrcStep::taken(const CrcCode& code, std::uint64_t placed) {
  return code.is_reflected ? placed : placed >> (variable_bits(code) - code.width);
}

CrcStep::CrcStep(Routine& routine, const CrcCode& code, CrcMethod method)
    : routine_(routine), code_(code), method_(method) {
  if (method == CrcMethod::crc_unit) {
    unit_ = routine.port_u8("crc_unit_data");
  } else if (method == CrcMethod::bitwise) {
    turn_ = routine.local_u8("turn");
  } else {
    const unsigned bits = variable_bits(code);
    const auto entries = table_entries(code, bits_each(method));
    tables_.push_back(sized_table(routine, "crc_table", std::min(bits, 32U), halves(entries, 0)));
    if (bits == 64) tables_.push_back(sized_table(routine, "crc_table_high", 32, halves(entries, 32)));
    index_ = routine.local_u8("crc_index");
    if (method == CrcMethod::nibble_table) second_ = routine.local_u8("crc_byte");
  }
}

void CrcStep::write(const CrcVariable& crc, const Expression& byte) const {
  if (method_ == CrcMethod::crc_unit) {
    routine_.set(*unit_, byte);
  } else if (method_ == CrcMethod::bitwise) {
    write_bitwise(crc, byte);
  } else {
    write_table(crc, byte);
  }
}

void CrcStep::write_bitwise(const CrcVariable& crc, const Expression& byte) const {
  const std::uint64_t polynomial = placed(code_, code_.held(code_.polynomial));
  const unsigned bits = std::min(variable_bits(code_), 32U);
  const auto low_tap = static_cast<std::uint32_t>(polynomial & low_half);
  const auto high_tap = static_cast<std::uint32_t>(polynomial >> 32U);
  const Place leaving = code_.is_reflected || !crc.high ? crc.low : *crc.high;
  const Expression tested = code_.is_reflected ? leaving & 1U : leaving & (1U << (bits - 1));
  const auto shift = [&](bool is_tapped) {
    const auto tapped = [&](const Expression& value, std::uint32_t tap) {
      return is_tapped && tap != 0 ? value ^ tap : value;
    };
    if (code_.is_reflected) {
      if (crc.high) routine_.set(crc.low, tapped((crc.low >> 1) | (*crc.high << 31), low_tap));
      routine_.set(crc.high ? *crc.high : crc.low,
                   crc.high ? tapped(*crc.high >> 1, high_tap) : tapped(crc.low >> 1, low_tap));
    } else {
      if (crc.high) routine_.set(*crc.high, tapped((*crc.high << 1) | (crc.low >> 31), high_tap));
      routine_.set(crc.low, tapped(crc.low << 1, low_tap));
    }
  };
  routine_.set(leaving,
               code_.is_reflected ? leaving ^ byte : leaving ^ (sized_cast(bits, byte) << (bits - 8)));
  routine_.for_count(*turn_, 8, [&] {
    routine_.if_else(
        tested != 0, [&] { shift(true); }, [&] { shift(false); });
  });
}

void CrcStep::write_table(const CrcVariable& crc, const Expression& byte) const {
  const unsigned bits = std::min(variable_bits(code_), 32U);
  const Place leaving = code_.is_reflected || !crc.high ? crc.low : *crc.high;
  if (method_ == CrcMethod::byte_table) {
    const Expression end =
        code_.is_reflected || bits == 8 ? cast_u8(leaving) : cast_u8(leaving >> (bits - 8));
    write_lookup(crc, end ^ byte, 8);
    return;
  }
  routine_.set(*second_, byte);
  const Expression low = *second_ & 15;
  const Expression high = *second_ >> 4;
  for (const bool is_first : {true, false}) {
    const Expression& nibble = is_first == code_.is_reflected ? low : high;
    if (code_.is_reflected) {
      write_lookup(crc, (cast_u8(leaving) ^ nibble) & 15, 4);
    } else {
      write_lookup(crc, cast_u8(leaving >> (bits - 4)) ^ nibble, 4);
    }
  }
}

void CrcStep::write_lookup(const CrcVariable& crc, const Expression& index, unsigned bits) const {
  routine_.set(*index_, index);
  if (!crc.high) {
    const bool is_emptied = variable_bits(code_) == bits;
    const Expression shifted = code_.is_reflected ? crc.low >> bits : crc.low << bits;
    routine_.set(crc.low, is_emptied ? Expression(tables_[0][*index_]) : shifted ^ tables_[0][*index_]);
  } else if (code_.is_reflected) {
    routine_.set(crc.low, ((crc.low >> bits) | (*crc.high << (32 - bits))) ^ tables_[0][*index_]);
    routine_.set(*crc.high, (*crc.high >> bits) ^ tables_[1][*index_]);
  } else {
    routine_.set(*crc.high, ((*crc.high << bits) | (crc.low >> (32 - bits))) ^ tables_[1][*index_]);
    routine_.set(crc.low, (crc.low << bits) ^ tables_[0][*index_]);
  }
}

Routine crc_routine(const CrcCode& code, CrcMethod method) {
  Routine routine("crc");
  const unsigned bits = CrcStep::variable_bits(code);
  auto message = routine.parameter_structure("message");
  const auto data = message.array_u8("data", longest_message);
  const auto length = routine.parameter_u8("length");
  const CrcVariable crc{sized_parameter(routine, "crc", std::min(bits, 32U)),
                        bits == 64 ? std::optional(sized_parameter(routine, "crc_high", 32)) : std::nullopt};
  const auto position = routine.local_u8("position");
  const CrcStep step(routine, code, method);
  routine.for_count(position, length, [&] { step.write(crc, data[position]); });
  routine.return_(crc.low);
  return routine;
}

CrcMethod crc_method(std::string_view name) {
  if (name == "bitwise") return CrcMethod::bitwise;
  if (name == "nibble-table") return CrcMethod::nibble_table;
  if (name == "crc-unit") return CrcMethod::crc_unit;
  if (name == "byte-table") return CrcMethod::byte_table;
  throw SettingError("method \"" + std::string(name) +
                     "\": expected bitwise, nibble-table, byte-table or crc-unit");
}

}  // namespace portweigh::blocks

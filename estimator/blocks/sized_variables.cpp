#include "blocks/sized_variables.hpp"

#include <stdexcept>
#include <utility>

namespace portweigh::blocks {

using firmware::Array;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

unsigned variable_bits(unsigned bits) {
  if (bits > 32) throw std::logic_error("no variable holds " + std::to_string(bits) + " bits");
  return bits <= 8 ? 8 : bits <= 16 ? 16 : 32;
}

Place sized_local(Routine& routine, const std::string& name, unsigned bits) {
  const unsigned size = variable_bits(bits);
  return size == 8 ? routine.local_u8(name) : size == 16 ? routine.local_u16(name) : routine.local_u32(name);
}

Place sized_state(Routine& routine, const std::string& name, unsigned bits) {
  const unsigned size = variable_bits(bits);
  return size == 8 ? routine.state_u8(name) : size == 16 ? routine.state_u16(name) : routine.state_u32(name);
}

Place sized_parameter(Routine& routine, const std::string& name, unsigned bits) {
  const unsigned size = variable_bits(bits);
  if (size == 8) return routine.parameter_u8(name);
  return size == 16 ? routine.parameter_u16(name) : routine.parameter_u32(name);
}

Place sized_port(Routine& routine, const std::string& name, unsigned bits) {
  const unsigned size = variable_bits(bits);
  return size == 8 ? routine.port_u8(name) : size == 16 ? routine.port_u16(name) : routine.port_u32(name);
}

Array sized_array(Routine& routine, const std::string& name, unsigned bits, std::size_t length) {
  const unsigned size = variable_bits(bits);
  if (size == 8) return routine.array_u8(name, length);
  return size == 16 ? routine.array_u16(name, length) : routine.array_u32(name, length);
}

Array sized_table(Routine& routine, const std::string& name, unsigned bits,
                  std::vector<std::uint32_t> values) {
  const unsigned size = variable_bits(bits);
  if (size == 8) return routine.table_u8(name, std::move(values));
  return size == 16 ? routine.table_u16(name, std::move(values)) : routine.table_u32(name, std::move(values));
}

Expression sized_cast(unsigned bits, const Expression& value) {
  const unsigned size = variable_bits(bits);
  return size == 8 ? cast_u8(value) : size == 16 ? cast_u16(value) : cast_u32(value);
}

}  // namespace portweigh::blocks

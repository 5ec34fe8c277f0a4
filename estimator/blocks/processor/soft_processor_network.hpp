// What both styles of soft processor have in common at their edge: ports, data addresses, jumps, the counter.
//
// Tested by tests/blocks/processor/soft_processor_test.cpp through whole processors.
#pragma once

#include <optional>
#include <vector>

#include "blocks/processor/soft_processor_parts.hpp"

namespace portweigh::blocks {

logic::Network sequential_processor(const ProcessorShape& shape, const std::vector<std::uint64_t>& program);
logic::Network pipelined_processor(const ProcessorShape& shape, const std::vector<std::uint64_t>& program);

struct ProcessorPorts {
  logic::Bit reset;
  logic::Bit event;     // wakes a sleeping core, interrupts where allowed
  logic::Word data_in;  // of the addressed port, 8 bits
};
inline ProcessorPorts add_processor_ports(logic::Network& network) {
  return {add_input(network, "reset"), add_input(network, "event"), add_input_word(network, "port_in", 8)};
}

struct PortAccess {
  logic::Word address;
  logic::Bit write, read;
  logic::Word data;
};
inline void add_port_outputs(const PortAccess& access) {
  add_output(access.address, "port_address");
  add_output(access.write, "port_write");
  add_output(access.read, "port_read");
  add_output(access.data.slice(0, 8), "port_out");
}

// Address of a load or store: the sum, on the 8-bit core with the page above it.
struct DataAddress {
  std::optional<logic::Word> page;
  logic::Word of(const logic::Word& sum) const { return page ? concatenate(sum, *page) : sum; }
};
inline DataAddress add_data_address(const ProcessorShape& shape, const DecodedInstruction& instruction,
                                    logic::Bit reset, logic::Bit executes) {
  if (shape.bits != 8) return {};
  return {registered("page", instruction.immediate,
                     {.enable = executes & instruction.is(Special::page), .reset = reset})};
}

struct JumpControl {
  logic::Bit reset;
  logic::Bit executes;  // the instruction does what it does in this clock
};
// Where a jump goes: the sum, on the 8-bit core the top of the return stack.
inline logic::Word add_jump_target(logic::Network& network, const ProcessorShape& shape,
                                   const DecodedInstruction& instruction, const Arithmetic& arithmetic,
                                   const logic::Word& next, const JumpControl& control) {
  if (shape.bits != 8) return arithmetic.sum.resized(shape.code_address_bits());
  const ReturnStack stack(network, shape);
  stack.connect(control.reset, control.executes & instruction.is_call, control.executes & instruction.is_jump,
                next);
  return stack.top();
}

// Clocks since reset, for time stamps; the 32-bit core only.
inline std::optional<logic::Word> add_counter(logic::Network& network, const ProcessorShape& shape,
                                              logic::Bit reset) {
  if (shape.bits != 32) return std::nullopt;
  const logic::Word counter = add_registers(network, "counter", shape.bits);
  connect(counter, counter + 1U, {.reset = reset});
  return counter;
}

inline logic::Bit writes_result(const ProcessorShape& shape, const DecodedInstruction& instruction) {
  const logic::Bit common = instruction.is_alu | instruction.is_load;
  if (shape.bits == 8) return common;
  return common | instruction.is_call | instruction.is_jump | instruction.is(Special::upper) |
         instruction.is(Special::counter);
}

}  // namespace portweigh::blocks

// Sequential soft processor: one adder and one shift register do everything, 3 to 4 clocks an instruction.
//
//   fetch    program memory reads; an interrupt or the end of a sleep is taken here
//   decode   registers are read, the code address counts on
//   execute  the adder works; branches and control instructions end here
//   write    memory is read or written, the result goes to its register; shifts stay one clock for each bit
//
// Branches, jumps on the 8-bit core and special instructions take 3 clocks, others 4, shifts 4 + count.
// Tested by tests/blocks/processor/soft_processor_test.cpp.
#include <bit>

#include "blocks/processor/soft_processor_network.hpp"
#include "blocks/processor/soft_processor_parts.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

struct Stages {
  Bit fetch, decode, execute, write;
};

struct Wakefulness {
  Bit may_go;      // not asleep, or an event waits
  Bit interrupts;  // the vector is taken in this fetch
};

Wakefulness connect_events(Network& network, Bit reset, Bit event, const Stages& stage,
                           const DecodedInstruction& instruction) {
  const Bit pending = add_register(network, "pending");
  const Bit asleep = add_register(network, "asleep");
  const Bit allowed = add_register(network, "interrupts_allowed");
  const Bit interrupts = stage.fetch & pending & allowed;
  const Bit wakes = stage.fetch & pending & asleep;
  connect(pending, event | (pending & (~(interrupts | wakes))), {.reset = reset});
  const Bit falls_asleep = stage.execute & instruction.is(Special::sleep);
  connect(asleep, falls_asleep, {.enable = falls_asleep | wakes | interrupts, .reset = reset});
  const Bit allow = instruction.is(Special::allow_interrupt) | instruction.is(Special::return_interrupt);
  const Bit changes = stage.execute & (allow | instruction.is(Special::forbid_interrupt));
  connect(allowed, changes & allow, {.enable = changes | interrupts, .reset = reset});
  return {pending | (~asleep), interrupts};
}

struct StageConditions {
  Bit may_leave_fetch, needs_write, is_shifting;
};

void connect_stages(const Stages& stage, const StageConditions& when, Bit reset) {
  const Bit leaves_fetch = stage.fetch & when.may_leave_fetch;
  const Bit write_ends = stage.write & (~when.is_shifting);
  connect(stage.fetch, (stage.fetch & (~leaves_fetch)) | (stage.execute & (~when.needs_write)) | write_ends,
          {.reset = reset, .reset_value = 1});
  connect(stage.decode, leaves_fetch, {.reset = reset});
  connect(stage.execute, stage.decode, {.reset = reset});
  connect(stage.write, (stage.execute & when.needs_write) | (stage.write & when.is_shifting),
          {.reset = reset});
}

// What the execute stage leaves in the result register, apart from arithmetic.
Word execute_value(const ProcessorShape& shape, const DecodedInstruction& instruction,
                   const Arithmetic& arithmetic, const Word& a, const Word& code_address,
                   std::optional<Word> counter) {
  Word value = select(instruction.is_shift, a, arithmetic.value);
  if (shape.bits == 8) return value;
  value = select(instruction.is_call | instruction.is_jump, code_address.resized(shape.bits), value);
  value = select(instruction.is(Special::upper), upper_value(shape, instruction), value);
  if (counter) value = select(instruction.is(Special::counter), *counter, value);
  return value;
}

struct CodeControl {
  const Stages& stage;
  const Wakefulness& wake;
  Bit reset;
};

// On by one in decode, elsewhere in execute, to the interrupt's address before a fetch.
void connect_code_address(Network& network, const ProcessorShape& shape,
                          const DecodedInstruction& instruction, const Arithmetic& arithmetic,
                          const Word& code_address, const CodeControl& control) {
  const Stages& stage = control.stage;
  const Bit interrupts = control.wake.interrupts;
  const Word link = registered("saved_address", code_address, {.enable = interrupts});
  const Bit taken = instruction.is_branch & branch_condition(instruction, arithmetic);
  const Word jump_target = add_jump_target(network, shape, instruction, arithmetic, code_address,
                                           {.reset = control.reset, .executes = stage.execute});
  Word next = select(stage.decode, code_address + 1U, code_address + instruction.offset);
  next = select(stage.execute & instruction.is_jump, jump_target, next);
  next = select(stage.execute & instruction.is(Special::return_interrupt), link, next);
  next = select(interrupts, constant_word(network, interrupt_vector, shape.code_address_bits()), next);
  const Bit redirects =
      taken | instruction.is_call | instruction.is_jump | instruction.is(Special::return_interrupt);
  connect(code_address, next,
          {.enable = stage.decode | interrupts | (stage.execute & redirects), .reset = control.reset});
}

}  // namespace

Network sequential_processor(const ProcessorShape& shape, const std::vector<std::uint64_t>& program) {
  Network network;
  const ProcessorPorts ports = add_processor_ports(network);
  const Bit reset = ports.reset;
  const Stages stage{add_register(network, "stage_fetch"), add_register(network, "stage_decode"),
                     add_register(network, "stage_execute"), add_register(network, "stage_write")};

  // Instruction and registers.
  const Word code_address = add_registers(network, "code_address", shape.code_address_bits());
  const Word fetched = add_program_memory(network, shape, program, code_address);
  const Word word = registered("instruction", fetched, {.enable = stage.decode});
  const DecodedInstruction instruction = decode_instruction(shape, word);
  const RegisterFile file =
      add_register_file(network, shape, fetched.slice(shape.immediate_bits(), shape.register_bits()),
                        second_register(shape, fetched));
  const Word second = select(instruction.uses_immediate, instruction.immediate, file.b);
  const Arithmetic arithmetic = add_arithmetic(instruction, file.a, second);
  const Wakefulness wake = connect_events(network, reset, ports.event, stage, instruction);

  // Result, shifted in place one bit a clock.
  const auto count_bits = static_cast<unsigned>(std::bit_width(shape.bits - 1U));
  const Word result = add_registers(network, "result", shape.bits);
  const Word count = add_registers(network, "count", count_bits);
  const Bit is_shifting = any(count);
  const Bit shift_ends = stage.write & (~is_shifting);
  connect(count, select(stage.execute, gate(instruction.is_shift, second.slice(0, count_bits)), count - 1U),
          {.enable = stage.execute | (stage.write & is_shifting), .reset = reset});
  const Bit sign = instruction.shift_kind[1] & result.top();
  const Word shifted = select(instruction.shift_kind[0] | instruction.shift_kind[1],
                              shifted_right(result, 1, sign), shifted_left(result, 1));
  const std::optional<Word> counter = add_counter(network, shape, reset);
  const Word executed = execute_value(shape, instruction, arithmetic, file.a, code_address, counter);
  connect(result, select(stage.execute, executed, shifted),
          {.enable = stage.execute | (stage.write & is_shifting)});

  // Memory and ports: read as the address is computed, written a clock later.
  const DataMemory memory(network, shape);
  const DataAddress address = add_data_address(shape, instruction, reset, stage.execute);
  const Word loaded = memory.read(address.of(arithmetic.sum));
  const Word target = address.of(result);
  const Bit is_port = target.top();
  const Bit stores = stage.write & instruction.is_store;
  memory.write(instruction, stores & (~is_port), target, file.b);
  const Word read_value =
      select(is_port, ports.data_in.resized(shape.bits), memory.align(instruction, target, loaded));

  const Bit writes_register = writes_result(shape, instruction) & any(instruction.rd);
  write_memory(file.memory, shift_ends & writes_register, instruction.rd,
               select(instruction.is_load, read_value, result));
  add_port_outputs({.address = target.slice(0, port_address_bits),
                    .write = stores & is_port,
                    .read = stage.write & instruction.is_load & is_port,
                    .data = file.b});

  connect_code_address(network, shape, instruction, arithmetic, code_address, {stage, wake, reset});
  const Bit needs_write = writes_result(shape, instruction) | instruction.is_store;
  connect_stages(stage, {wake.may_go & (~wake.interrupts), needs_write, is_shifting}, reset);
  return network;
}

}  // namespace portweigh::blocks

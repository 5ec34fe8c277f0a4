// Pipelined soft processor: three stages, most instructions one clock.
//
//   fetch    program memory reads at the next code address
//   decode   registers are read; a result just being written is forwarded
//   execute  arithmetic, barrel shift, store, branch; the result goes to its register at the end
//
// Taken branches, calls and jumps drop two instructions on their way: 3 clocks. Loads take 2 clocks,
// multiplications of the 32-bit core one clock for each bit and one more. An interrupt drops the instruction
// in decode and comes back to it. Tested by tests/blocks/processor/soft_processor_test.cpp.
#include <bit>

#include "blocks/processor/soft_processor_network.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

// Shifts right through stages of 1, 2, 4 ..., left by reversing before and after.
Word barrel_shifted(const DecodedInstruction& instruction, const Word& a, const Word& count) {
  const Bit is_left = ~(instruction.shift_kind[0] | instruction.shift_kind[1]);
  const Bit fill = instruction.shift_kind[1] & a.top();
  Word value = select(is_left, reversed(a), a);
  for (std::size_t stage = 0; (std::size_t{1} << stage) < a.size(); ++stage) {
    value = select(count[stage], shifted_right(value, std::size_t{1} << stage, fill), value);
  }
  return select(is_left, reversed(value), value);
}

// Low half of a product by shift and add; operands are taken in the first clock. The stall it causes depends
// on its registers alone, which is why they exist before the operands do.
class Multiplier {
 public:
  Multiplier(Network& network, unsigned bits, Bit wanted)
      : product_(add_registers(network, "product", bits)),
        factor_(add_registers(network, "factor", bits)),
        remaining_(add_registers(network, "remaining", bits)),
        is_busy_(add_register(network, "multiplying")),
        begins_(wanted & (~is_busy_)),
        goes_on_(is_busy_ & any(remaining_)) {}

  const Word& product() const { return product_; }
  Bit stalls() const { return begins_ | goes_on_; }
  void connect(const Word& a, const Word& b, Bit reset) const {
    logic::connect(is_busy_, begins_ | goes_on_, {.reset = reset});
    logic::connect(product_, product_ + gate(remaining_[0], factor_), {.enable = is_busy_, .reset = begins_});
    logic::connect(factor_, select(begins_, a, shifted_left(factor_, 1)), {.enable = begins_ | is_busy_});
    logic::connect(remaining_, select(begins_, b, shifted_right(remaining_, 1)),
                   {.enable = begins_ | is_busy_});
  }

 private:
  Word product_, factor_, remaining_;
  Bit is_busy_, begins_, goes_on_;
};

// Gives whether the vector is taken now.
Bit connect_events(Network& network, Bit reset, Bit event, Bit pending, const DecodedInstruction& instruction,
                   Bit is_valid, Bit may_interrupt) {
  const Bit allowed = add_register(network, "interrupts_allowed");
  const Bit interrupts = pending & allowed & may_interrupt;
  const Bit wakes = pending & is_valid & instruction.is(Special::sleep);
  connect(pending, event | (pending & (~(interrupts | wakes))), {.reset = reset});
  const Bit allow =
      is_valid & (instruction.is(Special::allow_interrupt) | instruction.is(Special::return_interrupt));
  const Bit forbid = is_valid & instruction.is(Special::forbid_interrupt);
  connect(allowed, allow & (~interrupts), {.enable = allow | forbid | interrupts, .reset = reset});
  return interrupts;
}

// Register numbers of the instruction in decode match what execute writes.
struct Forwarding {
  Bit a, b;
  Word last_result;
  Word operand_a(const RegisterFile& file) const { return select(a, last_result, file.a); }
  Word operand_b(const RegisterFile& file) const { return select(b, last_result, file.b); }
};

struct CodeFlow {
  Word code_address;    // read in this clock
  Word decode_address;  // of the instruction in decode: where calls and interrupts come back to
  Bit decode_valid, execute_valid;
};

CodeFlow add_code_flow(Network& network, const ProcessorShape& shape) {
  return {add_registers(network, "code_address", shape.code_address_bits()),
          add_registers(network, "decode_address", shape.code_address_bits()),
          add_register(network, "decode_valid"), add_register(network, "execute_valid")};
}

struct Redirection {
  Bit stalls, redirects;
  Word target;
};

void connect_code_flow(const CodeFlow& flow, const Redirection& to, Bit reset) {
  connect(flow.code_address, select(to.redirects, to.target, flow.code_address + 1U),
          {.enable = ~to.stalls, .reset = reset});
  connect(flow.decode_address, flow.code_address, {.enable = ~to.stalls});
  connect(flow.decode_valid, ~to.redirects, {.enable = ~to.stalls, .reset = reset});
  connect(flow.execute_valid, flow.decode_valid & (~to.redirects), {.enable = ~to.stalls, .reset = reset});
}

// Results other than loads.
Word result_value(const ProcessorShape& shape, const DecodedInstruction& instruction,
                  const Arithmetic& arithmetic, const Word& shifted, const Word& next,
                  const std::optional<Word>& counter) {
  Word value = select(instruction.is_shift, shifted, arithmetic.value);
  if (shape.bits == 8) return value;
  value = select(instruction.is_call | instruction.is_jump, next.resized(shape.bits), value);
  value = select(instruction.is(Special::upper), upper_value(shape, instruction), value);
  if (counter) value = select(instruction.is(Special::counter), *counter, value);
  return value;
}

void add_registered_ports(const DecodedInstruction& instruction, Bit is_valid, const Word& address,
                          const Word& data, Bit reset) {
  const Bit is_port = is_valid & address.top();
  const Bit writes = is_port & instruction.is_store;
  const Bit reads = is_port & instruction.is_load;
  const Bit moves = writes | reads;
  add_port_outputs(
      {registered("port_address_register", address.slice(0, port_address_bits), {.enable = moves}),
       registered("port_write_register", writes, {.reset = reset}),
       registered("port_read_register", reads, {.reset = reset}),
       registered("port_out_register", data.slice(0, 8), {.enable = writes})});
}

struct CodeControl {
  const ProcessorPorts& ports;
  const CodeFlow& flow;
  Bit pending;
  Bit stalls;
};

// Where the code goes on: jumps and branches as they complete, interrupts between two instructions.
void connect_redirection(Network& network, const ProcessorShape& shape, const DecodedInstruction& instruction,
                         const Arithmetic& arithmetic, const CodeControl& from) {
  const CodeFlow& flow = from.flow;
  const Bit valid = flow.execute_valid;
  const Bit completes = valid & (~from.stalls);
  const Bit returns = instruction.is(Special::return_interrupt);
  const Bit taken = instruction.is_branch & branch_condition(instruction, arithmetic);
  const Bit jumps = completes & (taken | instruction.is_call | instruction.is_jump | returns);
  const Bit interrupts = connect_events(network, from.ports.reset, from.ports.event, from.pending,
                                        instruction, valid, flow.decode_valid & (~from.stalls) & (~jumps));
  const Word saved = registered("saved_address", flow.decode_address, {.enable = interrupts});
  const Word jump_target = add_jump_target(network, shape, instruction, arithmetic, flow.decode_address,
                                           {.reset = from.ports.reset, .executes = valid});
  Word target = select(instruction.is_jump, jump_target, flow.decode_address + instruction.offset);
  target = select(returns, saved, target);
  target = select(interrupts, constant_word(network, interrupt_vector, shape.code_address_bits()), target);
  connect_code_flow(flow, {from.stalls, jumps | interrupts, target}, from.ports.reset);
}

}  // namespace

Network pipelined_processor(const ProcessorShape& shape, const std::vector<std::uint64_t>& program) {
  Network network;
  const ProcessorPorts ports = add_processor_ports(network);
  const Bit reset = ports.reset;
  const CodeFlow flow = add_code_flow(network, shape);
  const Bit valid = flow.execute_valid;
  const Word word = add_registers(network, "instruction", shape.instruction_bits());
  const DecodedInstruction instruction = decode_instruction(shape, word);

  // Stalls depend on registers alone, so that the program memory can read again what waits in decode.
  const Bit pending = add_register(network, "pending");
  const Bit second = add_register(network, "load_second");
  const Bit first_of_load = valid & instruction.is_load & (~second);
  connect(second, first_of_load, {.reset = reset});
  std::optional<Multiplier> multiplier;
  if (shape.bits == 32) multiplier.emplace(network, shape.bits, valid & instruction.is_multiply);
  Bit stalls = first_of_load | (valid & instruction.is(Special::sleep) & (~pending));
  if (multiplier) stalls = stalls | multiplier->stalls();
  const Bit completes = valid & (~stalls);
  // Fetch, decode, operands.
  const Word fetched =
      add_program_memory(network, shape, program, select(stalls, flow.decode_address, flow.code_address));
  connect(word, fetched, {.enable = ~stalls});
  const Word decoded_a = fetched.slice(shape.immediate_bits(), shape.register_bits());
  const Word decoded_b = second_register(shape, fetched);
  const RegisterFile file = add_register_file(network, shape, decoded_a, decoded_b);
  const Bit writes = completes & writes_result(shape, instruction) & any(instruction.rd);
  const Word last_result = add_registers(network, "last_result", shape.bits);
  const Forwarding forwarding{
      registered("forward_a", writes & (decoded_a == instruction.rd), {.enable = ~stalls, .reset = reset}),
      registered("forward_b", writes & (decoded_b == instruction.rd), {.enable = ~stalls, .reset = reset}),
      last_result};
  const Word a = forwarding.operand_a(file);
  const Word b = forwarding.operand_b(file);

  // Execute.
  const Word second_operand = select(instruction.uses_immediate, instruction.immediate, b);
  const Arithmetic arithmetic = add_arithmetic(instruction, a, second_operand);
  if (multiplier) multiplier->connect(a, second_operand, reset);
  Word shifted = barrel_shifted(instruction, a, second_operand);
  if (multiplier) shifted = select(instruction.is_multiply, multiplier->product(), shifted);
  const std::optional<Word> counter = add_counter(network, shape, reset);
  const Word value = result_value(shape, instruction, arithmetic, shifted, flow.decode_address, counter);

  // Memory and ports.
  const DataMemory memory(network, shape);
  const Word address = add_data_address(shape, instruction, reset, valid).of(arithmetic.sum);
  memory.write(instruction, valid & instruction.is_store & (~address.top()), address, b);
  add_registered_ports(instruction, valid & (~second), address, b, reset);
  const Word lane = registered("load_lane", address.slice(0, 2));
  const Word aligned = memory.align(instruction, lane, memory.read(address));
  const Word loaded =
      select(registered("load_port", address.top()), ports.data_in.resized(shape.bits), aligned);
  const Word result = select(instruction.is_load, loaded, value);
  connect(last_result, result, {.enable = writes});
  write_memory(file.memory, writes, instruction.rd, result);

  connect_redirection(network, shape, instruction, arithmetic, {ports, flow, pending, stalls});
  return network;
}

}  // namespace portweigh::blocks

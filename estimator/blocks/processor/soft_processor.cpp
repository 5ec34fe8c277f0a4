// Soft processor kind: settings, the demonstration program, traffic.
//
// Its network holds the program and data memories, so they count as RAM bits; there is no routine (it is what
// routines run on) and no pins. Idle traffic lets the core sleep; active traffic gives it events and port
// data without pause, so it works through the demonstration program again and again. Tested by
// tests/blocks/processor/soft_processor_test.cpp.
#include "blocks/processor/soft_processor.hpp"

#include <algorithm>
#include <bit>
#include <random>

#include "blocks/processor/soft_processor_assembler.hpp"
#include "blocks/processor/soft_processor_network.hpp"
#include "blocks/random_traffic.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned port_base(unsigned bits) {
  return bits == 8 ? 0x80 : 1;  // page, or the top bit reached by a shift
}

// Registers of the demonstration program.
enum DemonstrationRegister : unsigned {
  zero,
  link,
  crc,
  byte,
  count,
  bit_mask,
  ring,
  ports,
  polynomial,
  top_bit
};

void emit_port_base(Assembler& a, const ProcessorShape& shape) {
  if (shape.bits == 8) return;  // by page
  a.constant(ports, port_base(shape.bits));
  a.shift_by(ports, ports, shape.bits - 1, Shift::left);
}

void select_page(Assembler& a, const ProcessorShape& shape, unsigned page) {
  if (shape.bits == 8) a.special(Special::page, 0, page);
}

// crc = CRC-8, polynomial 0x07, of crc and byte; called with its return address in `link`.
void emit_crc(Assembler& a) {
  const auto again = a.new_label();
  const auto no_carry = a.new_label();
  a.registers(Instruction::bit_xor, crc, crc, byte);
  a.immediate(Instruction::add_i, count, zero, 8);
  a.place(again);
  a.registers(Instruction::bit_and, bit_mask, crc, top_bit);
  a.shift_by(crc, crc, 1, Shift::left);
  a.branch(Instruction::if_equal, bit_mask, zero, no_carry);
  a.registers(Instruction::bit_xor, crc, crc, polynomial);
  a.place(no_carry);
  a.immediate(Instruction::add_i, count, count, -1);
  a.branch(Instruction::if_not_equal, count, zero, again);
  a.immediate(Instruction::and_i, crc, crc, 0xFF);
  a.jump(zero, link);
}

Drive soft_processor_traffic(const Settings&, TrafficState state, std::uint64_t seed) {
  return [state, port_in = RandomInput("port_in"), random = std::mt19937_64(seed)](
             logic::Simulator& simulator, std::uint64_t clock) mutable {
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("event", state == TrafficState::active ? 1 : 0);
    if (state == TrafficState::active && clock % 16 == 0) port_in.set(simulator, random);
  };
}

}  // namespace

unsigned ProcessorShape::code_address_bits() const {
  const unsigned usual = bits == 8 ? 12 : bits == 16 ? 16 : 24;
  return std::max(usual, static_cast<unsigned>(std::bit_width(program_words() - 1U)));
}

ProcessorShape processor_shape(const Settings& settings) {
  return {.bits = static_cast<unsigned>(std::stoul(settings.choice("bits"))),
          .style = settings.choice("style") == "pipelined" ? ProcessorStyle::pipelined
                                                           : ProcessorStyle::sequential,
          .program_bytes = static_cast<unsigned>(settings.integer("program_bytes")),
          .data_bytes = static_cast<unsigned>(settings.integer("data_bytes"))};
}

logic::Network processor_network(const ProcessorShape& shape, const std::vector<std::uint64_t>& program) {
  return shape.style == ProcessorStyle::sequential ? sequential_processor(shape, program)
                                                   : pipelined_processor(shape, program);
}

std::vector<std::uint64_t> demonstration_program(const ProcessorShape& shape) {
  Assembler a(shape);
  const auto start = a.new_label();
  const auto loop = a.new_label();
  const auto check_sum = a.new_label();
  a.call(link, start);
  a.special(Special::return_interrupt);  // at the vector; interrupts stay forbidden here
  a.place(check_sum);
  emit_crc(a);
  a.place(start);
  emit_port_base(a, shape);
  a.constant(polynomial, 0x07);
  a.constant(top_bit, 0x80);
  a.constant(crc, 0);
  a.constant(ring, 0);
  a.place(loop);
  a.special(Special::sleep);
  select_page(a, shape, port_base(8));
  a.immediate(Instruction::load, byte, ports, 0);
  a.immediate(Instruction::and_i, byte, byte, 0xFF);
  a.call(link, check_sum);
  a.immediate(Instruction::store, crc, ports, static_cast<std::int64_t>(shape.bits / 8));
  select_page(a, shape, 0);
  a.immediate(shape.bits == 8 ? Instruction::store : Instruction::store_byte, byte, ring, 0);
  a.immediate(Instruction::add_i, ring, ring, 1);
  a.immediate(Instruction::and_i, ring, ring, 0x1F);
  a.branch(Instruction::if_equal, zero, zero, loop);
  return a.finish();
}

Kind soft_processor_kind() {
  Kind kind;
  kind.name = "soft-processor";
  kind.summary = "a small load/store core with its program and data memory, in programmable logic";
  kind.spread_class = "processor";
  kind.settings = {
      {"bits", "width of registers", ChoiceDomain{{"8", "16", "32"}, "32"}},
      {"style", "several clocks an instruction, or one for most",
       ChoiceDomain{{"sequential", "pipelined"}, "sequential"}},
      {"program_bytes", "program memory", IntegerDomain{256, 4096, 65536}},
      {"data_bytes", "data memory", IntegerDomain{64, 1024, 32768}},
  };
  kind.network = [](const Settings& settings) {
    const ProcessorShape shape = processor_shape(settings);
    return processor_network(shape, demonstration_program(shape));
  };
  kind.traffic = soft_processor_traffic;
  kind.stage = Stage::processor;
  return kind;
}

}  // namespace portweigh::blocks

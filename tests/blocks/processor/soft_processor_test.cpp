// Soft processors of all widths and styles execute programs as the instruction-set model says.
#include "blocks/processor/soft_processor.hpp"

#include <fmt/core.h>

#include <boost/crc.hpp>
#include <catch2/catch.hpp>
#include <random>

#include "blocks/processor/soft_processor_assembler.hpp"
#include "processor_model.hpp"

namespace portweigh::blocks {
namespace {

using Program = std::vector<std::uint64_t>;
using PortWrites = std::vector<std::pair<std::uint64_t, std::uint64_t>>;

std::vector<ProcessorShape> all_shapes() {
  std::vector<ProcessorShape> shapes;
  for (const unsigned bits : {8U, 16U, 32U}) {
    for (const auto style : {ProcessorStyle::sequential, ProcessorStyle::pipelined}) {
      shapes.push_back({.bits = bits, .style = style, .program_bytes = 2048, .data_bytes = 256});
    }
  }
  return shapes;
}

std::string name_of(const ProcessorShape& shape) {
  return fmt::format("{} bits, {}", shape.bits,
                     shape.style == ProcessorStyle::sequential ? "sequential" : "pipelined");
}

// The network with its ports answered by `read_port`, until it has written `writes` bytes to ports.
struct Chip {
  Chip(const ProcessorShape& shape, const Program& program)
      : network(processor_network(shape, program)), simulator(network, logic::ToggleCounting::off) {
    simulator.set("reset", 1);
    simulator.clock();
    simulator.set("reset", 0);
  }
  logic::Network network;
  logic::Simulator simulator;
  std::function<std::uint64_t(std::uint64_t)> read_port = [](std::uint64_t) { return 0; };
  PortWrites port_writes;
  std::uint64_t clocks = 0;

  void clock() {
    if (simulator.value("port_read") != 0) {
      simulator.set("port_in", read_port(simulator.value("port_address")));
    }
    if (simulator.value("port_write") != 0) {
      port_writes.emplace_back(simulator.value("port_address"), simulator.value("port_out"));
    }
    simulator.clock();
    ++clocks;
  }
  void run_until_writes(std::size_t writes, std::uint64_t limit = 200'000) {
    while (port_writes.size() < writes) {
      clock();
      if (clocks > limit) FAIL("no end after " << limit << " clocks, " << port_writes.size() << " writes");
    }
  }
  std::uint64_t data_byte(const ProcessorShape& shape, unsigned address) const {
    const unsigned lanes = shape.bits / 8;
    const auto& memories = network.memories();
    for (std::uint32_t i = 0; i < memories.size(); ++i) {
      if (memories[i].name == fmt::format("data_{}", address % lanes)) {
        return simulator.memory_word(i, address / lanes);
      }
    }
    return ~std::uint64_t{0};
  }
};

constexpr unsigned port_register = 1;

// Leaves the port base in register 1 (page 0x80 on the 8-bit core).
void reach_ports(Assembler& a, const ProcessorShape& shape) {
  if (shape.bits == 8) {
    a.special(Special::page, 0, 0x80);
    a.constant(port_register, 0);
    return;
  }
  a.constant(port_register, 1);
  a.shift_by(port_register, port_register, shape.bits - 1, Shift::left);
}

// Shows all bytes of a register at one port.
void show(Assembler& a, const ProcessorShape& shape, unsigned reg, unsigned port, unsigned scratch) {
  reach_ports(a, shape);
  a.registers(Instruction::add, scratch, reg, 0);
  for (unsigned byte = 0; byte < shape.bits / 8; ++byte) {
    a.immediate(Instruction::store, scratch, port_register, port);
    if (shape.bits > 8) a.shift_by(scratch, scratch, 8, Shift::right);
  }
}

void stop(Assembler& a) {
  const auto here = a.new_label();
  a.place(here);
  a.branch(Instruction::if_equal, 0, 0, here);
}

void check_against_model(const ProcessorShape& shape, const Program& program, std::size_t writes,
                         const std::function<std::uint64_t(std::uint64_t)>& read_port = nullptr) {
  ProcessorModel model(shape.bits, program, shape.data_bytes);
  Chip chip(shape, program);
  if (read_port) {
    model.read_port = read_port;
    chip.read_port = read_port;
  }
  for (int step = 0; step < 100'000 && model.port_writes.size() < writes; ++step) model.step();
  REQUIRE(model.port_writes.size() == writes);
  chip.run_until_writes(writes);
  REQUIRE(chip.port_writes == model.port_writes);
  for (unsigned address = 0; address < shape.data_bytes; ++address) {
    if (chip.data_byte(shape, address) != model.byte(address)) {
      FAIL("data byte " << address << ": " << chip.data_byte(shape, address) << " and not "
                        << model.byte(address));
    }
  }
}

// Straight code over registers 2..9 with loads, stores and short forward branches; shows the registers at the
// end.
Program random_program(const ProcessorShape& shape, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  const auto pick = [&](unsigned from, unsigned count) {
    return from + static_cast<unsigned>(random() % count);
  };
  Assembler a(shape);
  for (unsigned reg = 2; reg < 10; ++reg) a.constant(reg, random() & ((1ULL << shape.bits) - 1));
  std::vector<std::pair<unsigned, Assembler::Label>> ahead;  // place the label at this instruction
  for (int i = 0; i < 120; ++i) {
    std::erase_if(ahead, [&](const auto& entry) {
      if (entry.first > a.here()) return false;
      a.place(entry.second);
      return true;
    });
    const auto rd = pick(2, 8);
    const auto ra = pick(2, 8);
    const auto rb = pick(2, 8);
    switch (random() % 8) {
      case 0:
      case 1:
        a.registers(static_cast<Instruction>(random() % 7), rd, ra, rb);
        break;
      case 2: {
        const auto limit = std::int64_t{1} << (shape.immediate_bits() - 1);
        a.immediate(static_cast<Instruction>(8 + random() % 7), rd, ra,
                    static_cast<std::int64_t>(random() % static_cast<std::uint64_t>(2 * limit)) - limit);
        break;
      }
      case 3:
        a.shift_by(rd, ra, pick(0, shape.bits), static_cast<Shift>(random() % 3));
        break;
      case 4:
        a.shift(rd, ra, rb, static_cast<Shift>(random() % 3));
        break;
      case 5: {
        const auto kind = shape.bits == 32   ? pick(0, 4)
                          : shape.bits == 16 ? std::array{0U, 2U, 3U}[pick(0, 3)]
                                             : 0U;
        a.immediate(static_cast<Instruction>(16 + kind), rd, 0, pick(0, 100));
        break;
      }
      case 6: {
        const auto kind = shape.bits == 32 ? pick(0, 3) : shape.bits == 16 ? 2 * pick(0, 2) : 0U;
        a.immediate(static_cast<Instruction>(20 + kind), rd, 0, pick(0, 100));
        break;
      }
      default:
        ahead.emplace_back(a.here() + pick(1, 4), a.new_label());
        a.branch(static_cast<Instruction>(24 + random() % 6), ra, rb, ahead.back().second);
        break;
    }
  }
  for (const auto& entry : ahead) a.place(entry.second);
  for (unsigned reg = 2; reg < 10; ++reg) show(a, shape, reg, reg, 10);
  stop(a);
  return a.finish();
}

}  // namespace

TEST_CASE("random programs end as the instruction-set model says") {
  for (const ProcessorShape& shape : all_shapes()) {
    CAPTURE(name_of(shape));
    for (std::uint64_t seed = 1; seed <= 12; ++seed) {
      CAPTURE(seed);
      check_against_model(shape, random_program(shape, seed), 8 * shape.bits / 8);
    }
  }
}

TEST_CASE("Fibonacci numbers come out of every processor") {
  for (const ProcessorShape& shape : all_shapes()) {
    CAPTURE(name_of(shape));
    Assembler a(shape);
    const auto loop = a.new_label();
    a.constant(2, 0);
    a.constant(3, 1);
    a.constant(4, 10);
    a.place(loop);
    a.registers(Instruction::add, 5, 2, 3);
    a.registers(Instruction::add, 2, 3, 0);
    a.registers(Instruction::add, 3, 5, 0);
    a.immediate(Instruction::subtract_i, 4, 4, 1);
    a.branch(Instruction::if_not_equal, 4, 0, loop);
    show(a, shape, 2, 7, 6);
    stop(a);
    Chip chip(shape, a.finish());
    chip.run_until_writes(1);
    CHECK(chip.port_writes[0] == std::pair<std::uint64_t, std::uint64_t>{7, 55});
  }
}

TEST_CASE("a list is sorted by a subroutine") {
  for (const ProcessorShape& shape : all_shapes()) {
    CAPTURE(name_of(shape));
    const unsigned step = shape.bits / 8;
    const std::int64_t count = 9;
    Assembler a(shape);
    const auto sort = a.new_label();
    const auto outer = a.new_label();
    const auto inner = a.new_label();
    const auto in_order = a.new_label();
    const auto done = a.new_label();
    const std::vector<unsigned> values{90, 7, 61, 255, 0, 18, 200, 18, 33};
    for (std::size_t i = 0; i < values.size(); ++i) {
      a.constant(2, values[i]);
      a.immediate(Instruction::store, 2, 0, static_cast<std::int64_t>(i * step));
    }
    a.call(9, sort);
    for (std::int64_t i = 0; i < count; ++i) {
      if (shape.bits == 8) a.special(Special::page, 0, 0);
      a.immediate(Instruction::load, 2, 0, i * step);
      reach_ports(a, shape);
      a.immediate(Instruction::store, 2, port_register, 3);
    }
    a.branch(Instruction::if_equal, 0, 0, done);
    a.place(sort);  // bubbles, unsigned
    a.constant(3, static_cast<std::uint64_t>(count - 1) * step);
    a.place(outer);
    a.constant(4, 0);
    a.place(inner);
    a.immediate(Instruction::load, 5, 4, 0);
    a.immediate(Instruction::load, 6, 4, step);
    a.branch(Instruction::if_not_less_unsigned, 6, 5, in_order);
    a.immediate(Instruction::store, 6, 4, 0);
    a.immediate(Instruction::store, 5, 4, step);
    a.place(in_order);
    a.immediate(Instruction::add_i, 4, 4, step);
    a.branch(Instruction::if_less_unsigned, 4, 3, inner);
    a.immediate(Instruction::subtract_i, 3, 3, step);
    a.branch(Instruction::if_not_equal, 3, 0, outer);
    a.jump(0, 9);
    a.place(done);
    stop(a);
    const auto program = a.finish();
    check_against_model(shape, program, values.size());
    Chip chip(shape, program);
    chip.run_until_writes(values.size());
    auto sorted = values;
    std::sort(sorted.begin(), sorted.end());
    for (std::size_t i = 0; i < sorted.size(); ++i) CHECK(chip.port_writes[i].second == sorted[i]);
  }
}

TEST_CASE("the demonstration program computes the CRC-8 of what its port gives") {
  for (const ProcessorShape& shape : all_shapes()) {
    CAPTURE(name_of(shape));
    const std::string message = "123456789";
    Chip chip(shape, demonstration_program(shape));
    std::size_t next = 0;
    chip.read_port = [&](std::uint64_t) { return static_cast<std::uint64_t>(message[next++]); };
    chip.simulator.set("event", 1);
    chip.run_until_writes(message.size());
    boost::crc_optimal<8, 0x07, 0, 0, false, false> reference;
    for (std::size_t i = 0; i < message.size(); ++i) {
      reference.process_byte(static_cast<unsigned char>(message[i]));
      REQUIRE(chip.port_writes[i].second == reference.checksum());
    }
    CHECK(chip.port_writes.back().second == 0xF4);  // CRC-8/SMBUS, catalogue of G. Cook [C]
    for (int i = 0; i < 40; ++i) chip.clock();
    CHECK(chip.data_byte(shape, 4) == '5');
  }
}

TEST_CASE("a sleeping processor does nothing until an event") {
  for (const ProcessorShape& shape : all_shapes()) {
    CAPTURE(name_of(shape));
    const Program program = demonstration_program(shape);
    Chip chip(shape, program);
    for (int i = 0; i < 300; ++i) chip.clock();
    CHECK(chip.port_writes.empty());
    logic::Simulator simulator(chip.network);
    for (int i = 0; i < 200; ++i) simulator.clock();
    simulator.reset_toggles();
    for (int i = 0; i < 100; ++i) simulator.clock();
    std::uint64_t moving = 0;
    for (const auto& reg : chip.network.registers()) {
      if (!reg.name.starts_with("counter")) moving += simulator.toggles(reg.node);
    }
    CHECK(moving == 0);
    chip.simulator.set("event", 1);
    chip.clock();
    chip.simulator.set("event", 0);
    for (int i = 0; i < 2000; ++i) chip.clock();
    CHECK(chip.port_writes.size() == 1);
  }
}

TEST_CASE("an interrupt goes to the vector and comes back") {
  for (const ProcessorShape& shape : all_shapes()) {
    CAPTURE(name_of(shape));
    Assembler a(shape);
    const auto main = a.new_label();
    const auto handler = a.new_label();
    const auto loop = a.new_label();
    a.call(9, main);
    a.branch(Instruction::if_equal, 0, 0, handler);
    a.place(handler);
    a.immediate(Instruction::add_i, 8, 8, 1);
    a.immediate(Instruction::store, 8, port_register, 5);
    a.special(Special::return_interrupt);
    a.place(main);
    reach_ports(a, shape);
    a.constant(8, 0);
    a.constant(2, 0);
    a.constant(4, 100);
    a.special(Special::allow_interrupt);
    a.place(loop);
    a.immediate(Instruction::add_i, 2, 2, 1);
    a.branch(Instruction::if_not_equal, 2, 4, loop);
    a.special(Special::forbid_interrupt);
    a.immediate(Instruction::store, 2, port_register, 6);
    stop(a);
    for (const unsigned spacing : {23U, 37U, 41U}) {
      Chip chip(shape, a.finish());
      unsigned events = 0;
      for (unsigned clock = 0; clock < 1200; ++clock) {
        const bool is_event = clock % spacing == spacing - 1 && events < 5 && clock > 40;
        events += is_event ? 1 : 0;
        chip.simulator.set("event", is_event ? 1 : 0);
        chip.clock();
      }
      REQUIRE(events == 5);
      REQUIRE(chip.port_writes.size() == 6);
      for (unsigned i = 0; i < 5; ++i) {
        CHECK(chip.port_writes[i] == std::pair<std::uint64_t, std::uint64_t>{5, i + 1});
      }
      // The loop counted to its end although it was interrupted five times.
      CHECK(chip.port_writes[5] == std::pair<std::uint64_t, std::uint64_t>{6, 100});
    }
  }
}

TEST_CASE("the pipelined 32-bit core multiplies") {
  const ProcessorShape shape{
      .bits = 32, .style = ProcessorStyle::pipelined, .program_bytes = 2048, .data_bytes = 256};
  std::mt19937_64 random(9);
  Assembler a(shape);
  for (int i = 0; i < 12; ++i) {
    a.constant(2, random() & 0xFFFFFFFFU);
    a.constant(3, i == 0 ? 0 : random() & 0xFFFFFFFFU);
    a.shift(4, 2, 3, Shift::multiply);
    a.registers(Instruction::add, 4, 4, 2);  // needs the product at once
    show(a, shape, 4, 1, 5);
  }
  stop(a);
  check_against_model(shape, a.finish(), 12 * 4);
}

TEST_CASE("instructions take the clocks that the reference page says") {
  for (const unsigned bits : {8U, 16U, 32U}) {
    const auto clocks_of = [&](ProcessorStyle style, const std::function<void(Assembler&)>& emit) {
      std::array<std::uint64_t, 2> clocks{};
      const ProcessorShape shape{.bits = bits, .style = style, .program_bytes = 2048, .data_bytes = 256};
      for (unsigned times : {0U, 8U}) {
        Assembler a(shape);
        reach_ports(a, shape);
        for (unsigned i = 0; i < times; ++i) emit(a);
        a.immediate(Instruction::store, 0, port_register, 0);
        stop(a);
        Chip chip(shape, a.finish());
        chip.run_until_writes(1);
        clocks[times == 0 ? 0 : 1] = chip.clocks;
      }
      return static_cast<double>(clocks[1] - clocks[0]) / 8;
    };
    const auto add = [](Assembler& a) { a.registers(Instruction::add, 2, 2, 2); };
    const auto load = [](Assembler& a) { a.immediate(Instruction::load, 2, 3, 0); };
    const auto shift = [](Assembler& a) { a.shift_by(2, 2, 5, Shift::left); };
    const auto taken = [](Assembler& a) {
      const auto next = a.new_label();
      a.branch(Instruction::if_equal, 0, 0, next);
      a.place(next);
    };
    const auto not_taken = [](Assembler& a) {
      const auto next = a.new_label();
      a.branch(Instruction::if_not_equal, 0, 0, next);
      a.place(next);
    };
    CAPTURE(bits);
    CHECK(clocks_of(ProcessorStyle::sequential, add) == 4);
    CHECK(clocks_of(ProcessorStyle::sequential, load) == 4);
    CHECK(clocks_of(ProcessorStyle::sequential, shift) == 4 + 5);
    CHECK(clocks_of(ProcessorStyle::sequential, taken) == 3);
    CHECK(clocks_of(ProcessorStyle::sequential, not_taken) == 3);
    CHECK(clocks_of(ProcessorStyle::pipelined, add) == 1);
    CHECK(clocks_of(ProcessorStyle::pipelined, load) == 2);
    CHECK(clocks_of(ProcessorStyle::pipelined, shift) == 1);
    CHECK(clocks_of(ProcessorStyle::pipelined, taken) == 3);
    CHECK(clocks_of(ProcessorStyle::pipelined, not_taken) == 1);
  }
}

TEST_CASE("memories of a soft processor are as large as they were asked for") {
  const Kind kind = soft_processor_kind();
  CHECK(kind.methods.empty());
  for (const char* bits : {"8", "16", "32"}) {
    auto settings = Settings::standard(kind.settings);
    settings.set("bits", bits);
    settings.set("program_bytes", "6144");
    settings.set("data_bytes", "512");
    const auto network = kind.network(settings);
    std::uint64_t program_bits = 0;
    std::uint64_t data_bits = 0;
    for (const auto& memory : network.memories()) {
      const auto size = std::uint64_t{memory.words} * memory.bits;
      if (memory.name == "program") program_bits += size;
      if (memory.name.starts_with("data")) data_bits += size;
    }
    CHECK(program_bits == 6144 * 8);
    CHECK(data_bits == 512 * 8);
  }
}

TEST_CASE("the largest and smallest memories work") {
  const Kind kind = soft_processor_kind();
  for (const char* bits : {"8", "16", "32"}) {
    for (const char* style : {"sequential", "pipelined"}) {
      for (const auto& [program, data] : {std::pair{"256", "64"}, std::pair{"65536", "32768"}}) {
        CAPTURE(bits, style, program);
        auto settings = Settings::standard(kind.settings);
        settings.set("bits", bits);
        settings.set("style", style);
        settings.set("program_bytes", program);
        settings.set("data_bytes", data);
        const auto shape = processor_shape(settings);
        Chip chip(shape, demonstration_program(shape));
        chip.read_port = [](std::uint64_t) { return 0x31; };
        chip.simulator.set("event", 1);
        chip.run_until_writes(2);
        CHECK(chip.port_writes[0].second == 0x97);  // CRC-8 of "1", computed by a separate program [C]
      }
    }
  }
}

TEST_CASE("the assembler refuses what does not fit") {
  const ProcessorShape shape{
      .bits = 16, .style = ProcessorStyle::sequential, .program_bytes = 256, .data_bytes = 64};
  Assembler a(shape);
  CHECK_THROWS_AS(a.immediate(Instruction::add_i, 1, 1, 5000), std::logic_error);
  const auto label = a.new_label();
  a.branch(Instruction::if_equal, 0, 0, label);
  CHECK_THROWS_AS(a.finish(), std::logic_error);
}

}  // namespace portweigh::blocks

#include "logic/network/memories.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "logic/simulation/simulate.hpp"

using namespace portweigh::logic;

namespace {

Network two_port_memory(std::uint32_t words, std::vector<std::uint64_t> contents) {
  Network net;
  const Word first = add_input_word(net, "first", 3);
  const Word second = add_input_word(net, "second", 3);
  const Word data = add_input_word(net, "data", 5);
  const Bit write_first = add_input(net, "write_first");
  const Bit write_second = add_input(net, "write_second");
  const std::uint32_t memory = net.add_memory("m", words, 5, std::move(contents));
  write_memory(memory, write_first, first, data);
  write_memory(memory, write_second, second, ~data);
  add_output(read_memory(memory, second, ReadStyle::combinational), "now");
  add_output(read_memory(memory, first, ReadStyle::registered), "later");
  return net;
}

Network with_small_memories_expanded(const Network& network, std::uint64_t limit_bits) {
  return memories_to_registers(
      network, [limit_bits](const Memory& memory) { return memory_bits(memory) < limit_bits; });
}

}  // namespace

TEST_CASE("memories built of registers behave like memories") {
  for (const std::uint32_t words : {1U, 3U, 6U, 8U}) {
    const Network net = two_port_memory(words, {7});
    const Network expanded = with_small_memories_expanded(net, 1000);
    REQUIRE(expanded.memories().empty());
    CHECK(expanded.registers().size() == words * 5 + 5);
    Simulator original(net);
    Simulator copy(expanded);
    std::mt19937_64 random(words);
    for (unsigned clock = 0; clock < 60; ++clock) {
      for (std::size_t i = 0; i < net.inputs().size(); ++i) {
        const std::uint64_t lanes = random();
        original.set_lanes(net.inputs()[i].literal, lanes);
        copy.set_lanes(expanded.inputs()[i].literal, lanes);
      }
      for (std::size_t i = 0; i < net.outputs().size(); ++i) {
        REQUIRE(original.lanes(net.outputs()[i].literal) == copy.lanes(expanded.outputs()[i].literal));
      }
      original.clock();
      copy.clock();
    }
  }
}

TEST_CASE("memories at or above the limit stay, read-only ones become tables") {
  const Network kept = with_small_memories_expanded(two_port_memory(8, {}), 40);
  CHECK(kept.memories().size() == 1);
  CHECK(kept.registers().empty());
  Network table;
  const Word index = add_input_word(table, "i", 2);
  const std::uint32_t rom = table.add_memory("rom", 4, 3, {1, 5, 2, 6});
  add_output(read_memory(rom, index, ReadStyle::combinational), "y");
  const Network expanded = with_small_memories_expanded(table, 100);
  CHECK(expanded.registers().empty());
  Simulator sim(expanded);
  sim.set("i", 3);
  CHECK(sim.value("y") == 6);
}

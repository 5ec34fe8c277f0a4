#include "logic/simulation/activity.hpp"

#include <catch2/catch.hpp>

#include "logic/cover/pack.hpp"
#include "logic/network/word.hpp"

using namespace portweigh::logic;

TEST_CASE("a free-running counter toggles 2 - 2^(1-n) registers a clock") {
  for (const CarryChain chain : {CarryChain::none, CarryChain::dedicated}) {
    Network net;
    const Word count = add_registers(net, "count", 6);
    connect(count, count + 1U);
    add_output(count, "count");
    const Cover covered = cover(net, {.carry_chain = chain});
    Simulator sim(net);
    watch(sim, covered);
    sim.clock();
    sim.reset_toggles();
    sim.clock(128);
    const Activity counted = activity(net, covered, sim);
    CHECK(counted.register_toggles == Approx(2 - 2.0 / 64));
    // The next values toggle as often as the registers themselves.
    CHECK(counted.lut_toggles + counted.carry_toggles >= 2 - 2.0 / 64);
    CHECK(counted.memory_reads == 0);
  }
}

TEST_CASE("an idle block with a clock enable toggles nothing") {
  Network net;
  const Bit enable = add_input(net, "enable");
  const Word count = add_registers(net, "count", 8);
  connect(count, count + 1U, {.enable = enable});
  add_output(count, "count");
  const Cover covered = cover(net, {});
  Simulator sim(net);
  watch(sim, covered);
  sim.clock(20);
  const Activity idle = activity(net, covered, sim);
  CHECK(idle.total_toggles() == 0);
  sim.set(enable, 1);
  sim.clock();
  sim.reset_toggles();
  sim.clock(256);
  CHECK(activity(net, covered, sim).register_toggles == Approx(2 - 2.0 / 256));
}

TEST_CASE("activity of a LUT that no gate of the network matches is still measured") {
  Network net;
  const Word a = add_input_word(net, "a", 4);
  add_output(registered("q", all(a)), "q");
  const Cover covered = cover(net, {});
  REQUIRE(covered.luts.size() == 1);
  Simulator sim(net);
  watch(sim, covered);
  for (unsigned clock = 0; clock < 32; ++clock) {
    sim.set(a, clock % 16);
    sim.clock();
  }
  // All four bits are set in one clock of sixteen: two changes in 16 clocks, three in the 31 seen here.
  CHECK(activity(net, covered, sim).lut_toggles == Approx(3.0 / 32));
}

TEST_CASE("memory accesses are counted by clock and stream") {
  Network net;
  const Word address = add_input_word(net, "a", 9);
  const Word data = add_input_word(net, "d", 8);
  const Bit write = add_input(net, "w");
  const std::uint32_t memory = add_memory(net, "m", 512, 8);
  write_memory(memory, write, address, data);
  add_output(read_memory(memory, address, ReadStyle::registered), "q");
  const Cover covered = cover(net, {});
  Simulator sim(net);
  watch(sim, covered);
  for (unsigned clock = 0; clock < 64; ++clock) {
    sim.set(address, clock / 2);
    sim.set(write, clock % 4 == 0 ? 1 : 0);
    sim.clock();
  }
  const Activity counted = activity(net, covered, sim);
  CHECK(counted.memory_reads == Approx(31.0 / 64));
  CHECK(counted.memory_writes == Approx(0.25));
}

TEST_CASE("activity needs a watched cover") {
  Network net;
  const Bit a = add_input(net, "a");
  const Bit b = add_input(net, "b");
  add_output(a & b, "y");
  const Cover covered = cover(net, {});
  Simulator sim(net);
  sim.clock(4);
  CHECK_THROWS_AS(activity(net, covered, sim), std::logic_error);
}

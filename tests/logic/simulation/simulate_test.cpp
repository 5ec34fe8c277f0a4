#include "logic/simulation/simulate.hpp"

#include <bit>
#include <catch2/catch.hpp>
#include <random>

#include "logic_fixture.hpp"

using namespace portweigh::logic;

namespace {

std::uint32_t node_of(Bit bit) {
  return bit.literal().node();
}

}  // namespace

TEST_CASE("arithmetic over words simulates like arithmetic") {
  Network net;
  const Word a = add_input_word(net, "a", 13);
  const Word b = add_input_word(net, "b", 13);
  add_output(a + b, "sum");
  add_output(a - b, "difference");
  add_output(a < b, "less");
  add_output(a == b, "equal");
  Simulator sim(net);
  std::mt19937_64 random(1);
  for (unsigned trial = 0; trial < 20; ++trial) {
    std::array<std::uint64_t, 64> x{};
    std::array<std::uint64_t, 64> y{};
    for (unsigned stream = 0; stream < 64; ++stream) {
      x[stream] = random() % 8192;
      y[stream] = stream % 5 == 0 ? x[stream] : random() % 8192;
      sim.set(a, stream, x[stream]);
      sim.set("b", stream, y[stream]);
    }
    for (unsigned stream = 0; stream < 64; ++stream) {
      REQUIRE(sim.value("sum", stream) == (x[stream] + y[stream]) % 8192);
      REQUIRE(sim.value("difference", stream) == (x[stream] - y[stream]) % 8192);
      REQUIRE(sim.value("less", stream) == (x[stream] < y[stream] ? 1U : 0U));
      REQUIRE(sim.value("equal", stream) == (x[stream] == y[stream] ? 1U : 0U));
    }
  }
}

TEST_CASE("registers obey enable and reset, reset wins, and start at their reset value") {
  Network net;
  const Bit enable = add_input(net, "enable");
  const Bit reset = add_input(net, "reset");
  const Word count = add_registers(net, "count", 4);
  connect(count, count + 1U, {.enable = enable, .reset = reset, .reset_value = 9});
  Simulator sim(net);
  CHECK(sim.value(count) == 9);
  sim.clock(3);
  CHECK(sim.value(count) == 9);
  sim.set(enable, 1);
  sim.clock(8);
  CHECK(sim.value(count) == 1);
  sim.set(reset, 5, 1);
  sim.clock();
  CHECK(sim.value(count, 5) == 9);
  CHECK(sim.value("count", 4) == 2);
}

TEST_CASE("memories: combinational and registered reads, read before write, each stream its own") {
  Network net;
  const Word address = add_input_word(net, "address", 3);
  const Word data = add_input_word(net, "data", 8);
  const Bit write = add_input(net, "write");
  const std::uint32_t memory = net.add_memory("m", 6, 8, {11, 22});
  write_memory(memory, write, address, data);
  const Word now = read_memory(memory, address, ReadStyle::combinational);
  const Word later = read_memory(memory, address, ReadStyle::registered);
  add_output(now + 1U, "now_plus_one");
  Simulator sim(net);
  sim.set(address, 1);
  CHECK(sim.value(now) == 22);
  CHECK(sim.value("now_plus_one") == 23);
  CHECK(sim.value(later) == 0);
  sim.set(data, 77);
  sim.set(write, 3, 1);
  sim.clock();
  CHECK(sim.value(later, 3) == 22);
  CHECK(sim.value(now, 3) == 77);
  CHECK(sim.value(now, 2) == 22);
  sim.clock();
  CHECK(sim.value(later, 3) == 77);
  sim.set(address, 7);
  sim.set(write, 1);
  CHECK(sim.value(now) == 0);
  sim.clock();
  CHECK(sim.memory_word(memory, 0) == 11);
}

TEST_CASE("toggles are the changes of settled values from clock to clock") {
  Network net;
  const Word count = add_registers(net, "count", 6);
  connect(count, count + 1U);
  const Bit input = add_input(net, "input");
  add_output(input & count[0], "gated");
  Simulator sim(net);
  sim.clock();
  sim.reset_toggles();
  sim.clock(64);
  // Bit i of a counter toggles every 2^i clocks, in each of the 64 streams.
  for (unsigned bit = 0; bit < 6; ++bit) CHECK(sim.toggles(node_of(count[bit])) == 64U * (64U >> bit));
  CHECK(sim.clocks_counted() == 64);
  sim.reset_toggles();
  CHECK(sim.toggles(node_of(count[0])) == 0);
  sim.set_lanes(input.literal(), 0xFF);
  sim.clock(2);
  CHECK(sim.toggles(node_of(input)) == 8);
}

TEST_CASE("probes are functions of nodes and earlier probes") {
  Network net;
  const Word count = add_registers(net, "count", 2);
  connect(count, count + 1U);
  Simulator sim(net);
  const auto size = static_cast<std::uint32_t>(net.size());
  const TruthTable both = TruthTable::input(0) & TruthTable::input(1);
  sim.set_probes({{{count.literals()[0].node(), count.literals()[1].node()}, both},
                  {{size, count.literals()[0].node()}, TruthTable::input(0) ^ TruthTable::input(1)}});
  sim.clock(9);
  // Counts 0..8: "both" is on in clocks 3 and 7 (four changes); "odd and not both" in 1 and 5.
  CHECK(sim.probe_toggles(0) == 64 * 4);
  CHECK(sim.probe_toggles(1) == 64 * 4);
}

TEST_CASE("probes of any function count as if the function were looked up") {
  Network net;
  const Word leaves = add_input_word(net, "leaves", 6);
  add_output(leaves, "kept");
  std::mt19937_64 random(5);
  std::vector<Probe> probes;
  for (unsigned inputs = 0; inputs <= 6; ++inputs) {
    for (unsigned sort = 0; sort < 8; ++sort) {
      Probe probe{{}, TruthTable::constant(sort % 2 == 1)};
      for (unsigned i = 0; i < inputs; ++i) probe.leaves.push_back(leaves.literals()[i].node());
      for (unsigned term = 0; term <= sort && inputs > 0; ++term) {
        const TruthTable input = TruthTable::input(static_cast<unsigned>(random() % inputs));
        probe.function = random() % 2 == 0 ? probe.function ^ input : probe.function & ~input;
      }
      probes.push_back(probe);
    }
  }
  Simulator sim(net);
  sim.set_probes(probes, {});
  std::vector<std::uint64_t> before(probes.size());
  std::vector<std::uint64_t> expected(probes.size(), 0);
  for (unsigned clock = 0; clock < 40; ++clock) {
    std::vector<std::uint64_t> lanes;
    for (unsigned i = 0; i < 6; ++i) {
      lanes.push_back(random());
      sim.set_lanes(leaves.literals()[i], lanes.back());
    }
    sim.clock();
    for (std::size_t p = 0; p < probes.size(); ++p) {
      const std::uint64_t now = probes[p].function.evaluate(std::span(lanes).first(probes[p].leaves.size()));
      if (clock > 0) expected[p] += static_cast<std::uint64_t>(std::popcount(now ^ before[p]));
      before[p] = now;
    }
  }
  for (std::size_t p = 0; p < probes.size(); ++p) CHECK(sim.probe_toggles(p) == expected[p]);
  CHECK_THROWS_AS(sim.toggles(node_of(leaves[0])), std::logic_error);
}

TEST_CASE("misuse of the simulator is refused") {
  Network net;
  const Word a = add_input_word(net, "a", 2);
  const Word sum = a + 1U;
  add_output(sum, "sum");
  Simulator sim(net);
  CHECK_THROWS_AS(sim.set(sum, 1), std::logic_error);
  CHECK_THROWS_AS(sim.set("b", 1), std::logic_error);
  CHECK_THROWS_AS(sim.value("b"), std::logic_error);
  CHECK_THROWS_AS(sim.set(a, 64, 1), std::logic_error);
  Network open;
  open.add_register("q");
  CHECK_THROWS_AS(Simulator(open), std::logic_error);
}

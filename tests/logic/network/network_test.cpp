#include "logic/network/network.hpp"

#include <catch2/catch.hpp>

#include "logic/simulation/simulate.hpp"

using namespace portweigh::logic;

TEST_CASE("gates of constants, equal and opposite operands are folded, equal gates exist once") {
  Network net;
  const Literal a = net.add_input("a");
  const Literal b = net.add_input("b");
  const std::size_t size = net.size();
  CHECK(net.make_and(a, constant_false) == constant_false);
  CHECK(net.make_and(constant_true, a) == a);
  CHECK(net.make_and(a, a) == a);
  CHECK(net.make_and(a, !a) == constant_false);
  CHECK(net.make_xor(a, a) == constant_false);
  CHECK(net.make_xor(a, !a) == constant_true);
  CHECK(net.make_xor(constant_true, b) == !b);
  CHECK(net.make_mux(a, b, b) == b);
  CHECK(net.size() == size);
  CHECK(net.make_and(a, b) == net.make_and(b, a));
  CHECK(net.make_xor(!a, b) == !net.make_xor(a, b));
  CHECK(net.gate_count() == 2);
}

TEST_CASE("every gate computes its truth table") {
  Network net;
  const Literal a = net.add_input("a");
  const Literal b = net.add_input("b");
  const Literal c = net.add_input("c");
  net.add_output("or", net.make_or(a, b));
  net.add_output("mux", net.make_mux(a, b, c));
  net.add_output("majority", net.make_majority(a, b, c));
  Simulator sim(net);
  sim.set_lanes(a, 0xF0);
  sim.set_lanes(b, 0xCC);
  sim.set_lanes(c, 0xAA);
  CHECK((sim.lanes(net.outputs()[0].literal) & 0xFFU) == 0xFC);
  CHECK((sim.lanes(net.outputs()[1].literal) & 0xFFU) == 0xCA);
  CHECK((sim.lanes(net.outputs()[2].literal) & 0xFFU) == 0xE8);
}

TEST_CASE("a toggle flip-flop toggles") {
  Network net;
  const Literal q = net.add_register("q");
  CHECK_THROWS_AS(net.check_complete(), std::logic_error);
  net.connect(q, !q);
  net.check_complete();
  net.add_output("q", q);
  Simulator sim(net);
  CHECK(sim.value("q") == 0);
  sim.clock();
  CHECK(sim.value("q") == 1);
  sim.clock();
  CHECK(sim.value("q") == 0);
}

TEST_CASE("misuse of a network is refused") {
  Network net;
  const Literal a = net.add_input("a");
  const Literal q = net.add_register("q");
  CHECK_THROWS_AS(net.connect(a, q), std::logic_error);
  CHECK_THROWS_AS(net.connect(!q, a), std::logic_error);
  net.connect(q, a);
  CHECK_THROWS_AS(net.connect(q, a), std::logic_error);
  CHECK_THROWS_AS(net.add_memory("m", 0, 8), std::logic_error);
  CHECK_THROWS_AS(net.add_memory("m", 4, 65), std::logic_error);
  const std::uint32_t memory = net.add_memory("m", 4, 2);
  CHECK_THROWS_AS(net.add_memory_write(memory, {a, {a}, {a}}), std::logic_error);
}

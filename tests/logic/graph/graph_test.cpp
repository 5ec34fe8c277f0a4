#include "logic/graph/graph.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::logic;

TEST_CASE("graphs fold, hash and take back the latest gates") {
  Graph graph;
  const Literal a = graph.add_source();
  const Literal b = graph.add_source();
  const Literal c = graph.add_source();
  CHECK(graph.make_and(a, !a) == constant_false);
  CHECK(graph.make_and(constant_true, b) == b);
  CHECK(graph.make_xor(!a, b) == !graph.make_xor(a, b));
  const Literal ab = graph.make_and(a, b);
  const std::size_t size = graph.size();
  for (unsigned round = 0; round < 3; ++round) {
    Literal deep = ab;
    for (unsigned i = 0; i < 300; ++i)
      deep = graph.make_and(graph.make_xor(deep, c), !graph.make_and(deep, a));
    CHECK(graph.size() > size);
    graph.truncate(size);
    CHECK(graph.size() == size);
    CHECK(graph.make_and(b, a) == ab);
    CHECK(graph.size() == size);
  }
}

TEST_CASE("XORs made of ANDs are recovered and unread gates dropped") {
  Graph graph;
  const Literal a = graph.add_source();
  const Literal b = graph.add_source();
  const Literal both = graph.make_and(a, b);
  const Literal neither = graph.make_and(!a, !b);
  graph.add_root(graph.make_and(!both, !neither));
  graph.make_and(a, !b);
  const Graph clean = cleaned(graph);
  CHECK(clean.gate_count() == 1);
  CHECK(clean.is_xor(clean.roots()[0].node()));
  CHECK(clean.sources().size() == 2);
}

TEST_CASE("carry boxes keep their place between operands and readers") {
  Graph graph;
  const Literal a = graph.add_source();
  const Literal b = graph.add_source();
  const Literal ab = graph.make_and(a, b);
  const Graph::Box first = graph.add_box(ab, b, constant_false, false);
  const Graph::Box second = graph.add_box(a, b, Literal(first.carry, false), true);
  graph.add_root(graph.make_xor(Literal(second.sum, false), a));
  const Graph clean = cleaned(graph);
  REQUIRE(clean.boxes().size() == 2);
  const std::vector<std::uint32_t> level = levels(clean);
  CHECK(level[clean.boxes()[0].sum] == 2);
  CHECK(level[clean.boxes()[1].sum] == 2);
  CHECK(level[clean.roots()[0].node()] == 3);
}

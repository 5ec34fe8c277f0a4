#include "logic/graph/restructure.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <random>

#include "circuits.hpp"
#include "logic/graph/combinational_view.hpp"
#include "logic/graph/graph_editor.hpp"
#include "logic/graph/small_functions.hpp"

using namespace portweigh::logic;

namespace {

std::vector<std::uint64_t> root_lanes(const Graph& graph, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::vector<std::uint64_t> lanes(graph.size(), 0);
  for (const std::uint32_t source : graph.sources()) lanes[source] = random();
  const auto lane = [&lanes](Literal literal) {
    return literal.is_complemented() ? ~lanes[literal.node()] : lanes[literal.node()];
  };
  for (std::uint32_t node = 1; node < graph.size(); ++node) {
    if (!graph.is_gate(node)) continue;
    const std::uint64_t a = lane(graph.fanin0(node));
    const std::uint64_t b = lane(graph.fanin1(node));
    lanes[node] = graph.is_xor(node) ? a ^ b : a & b;
  }
  std::vector<std::uint64_t> roots;
  for (const Literal root : graph.roots()) roots.push_back(lane(root));
  return roots;
}

std::uint32_t depth(const Graph& graph) {
  const std::vector<std::uint32_t> level = levels(graph);
  std::uint32_t deepest = 0;
  for (const Literal root : graph.roots()) deepest = std::max(deepest, level[root.node()]);
  return deepest;
}

std::vector<Graph> graphs() {
  std::vector<Graph> list;
  for (const Network& net :
       {circuits::adder(16), circuits::multiplier(8), circuits::priority_encoder(40), circuits::less_than(20),
        circuits::crc_next_state(16, 0x1021, 16), circuits::random_logic(1, 20, 900),
        circuits::random_logic(2, 60, 2500), circuits::multiplexer(5)}) {
    list.push_back(combinational_view(net, {}).graph);
  }
  return list;
}

}  // namespace

TEST_CASE("restructuring keeps every function and never deepens the graph") {
  for (const Graph& graph : graphs()) {
    const Graph even = balanced(graph);
    const Graph grouped = balanced(graph, 5);
    const Graph smaller = rewritten(graph);
    const Graph both = balanced(rewritten(balanced(rewritten(even))));
    for (std::uint64_t seed = 1; seed < 6; ++seed) {
      const std::vector<std::uint64_t> expected = root_lanes(graph, seed);
      REQUIRE(root_lanes(even, seed) == expected);
      REQUIRE(root_lanes(grouped, seed) == expected);
      REQUIRE(root_lanes(smaller, seed) == expected);
      REQUIRE(root_lanes(both, seed) == expected);
    }
    CHECK(depth(even) <= depth(graph));
    CHECK(depth(smaller) <= depth(graph));
    CHECK(smaller.gate_count() <= graph.gate_count());
  }
}

TEST_CASE("balancing makes chains of ANDs and XORs logarithmic") {
  Graph graph;
  Literal conjunction = graph.add_source();
  Literal parity = conjunction;
  for (unsigned i = 1; i < 64; ++i) {
    const Literal next = graph.add_source();
    conjunction = graph.make_and(conjunction, next);
    parity = graph.make_xor(parity, next.complement_if(i % 3 == 0));
  }
  graph.add_root(conjunction);
  graph.add_root(!parity);
  CHECK(depth(balanced(graph)) == 6);
}

TEST_CASE("rewriting finds the smaller form of redundant logic") {
  Graph graph;
  const Literal a = graph.add_source();
  const Literal b = graph.add_source();
  const Literal c = graph.add_source();
  // a b + a c + a !b !c is a; (a + b)(a + c) is a + b c.
  graph.add_root(graph.make_or(graph.make_or(graph.make_and(a, b), graph.make_and(a, c)),
                               graph.make_and(a, graph.make_and(!b, !c))));
  graph.add_root(graph.make_and(graph.make_or(a, b), graph.make_or(a, c)));
  const Graph smaller = rewritten(rewritten(graph));
  CHECK(smaller.gate_count() == 2);
  CHECK(root_lanes(smaller, 1) == root_lanes(graph, 1));
}

TEST_CASE("the table of small functions covers all of them with decompositions that add up") {
  const SmallFunctions& table = SmallFunctions::table();
  unsigned most = 0;
  for (unsigned function = 0; function < 65536; ++function) {
    const auto f = static_cast<std::uint16_t>(function);
    most = std::max(most, table.gates(f));
    REQUIRE(table.gates(f) == table.gates(static_cast<std::uint16_t>(~f)));
    if (table.gates(f) == 0) continue;
    REQUIRE(table.decomposition_count(f) > 0);
    for (unsigned i = 0; i < table.decomposition_count(f); ++i) {
      const auto& parts = table.decomposition(f, i);
      const auto gate =
          static_cast<std::uint16_t>(parts.is_xor ? parts.left ^ parts.right : parts.left & parts.right);
      REQUIRE((parts.is_complemented ? static_cast<std::uint16_t>(~gate) : gate) == f);
      REQUIRE(table.gates(parts.left) + table.gates(parts.right) + 1 == table.gates(f));
    }
  }
  CHECK(most == 7);
  CHECK(table.gates(0x6996) == 3);
  CHECK(table.gates(0xCACA) == 3);
}

TEST_CASE("the editor's gain is the change of the gate count") {
  Graph graph;
  const Literal a = graph.add_source();
  const Literal b = graph.add_source();
  const Literal c = graph.add_source();
  const Literal shared = graph.make_and(a, b);
  const Literal top = graph.make_and(graph.make_and(shared, c), graph.make_xor(a, c));
  graph.add_root(top);
  graph.add_root(shared);
  GraphEditor editor(graph);
  const std::vector<std::uint32_t> leaves = {a.node(), b.node(), c.node()};
  editor.open(top.node(), leaves);
  CHECK(editor.opened_size() == 3);  // the shared gate stays
  const auto build = [&](Graph& target) { return target.make_and(shared, target.make_and(c, !a)); };
  const GraphEditor::Trial trial = editor.attempt(build);
  CHECK(trial.is_valid);
  CHECK(trial.gain == 1);
  editor.close();
  const std::size_t before = cleaned(graph).gate_count();
  editor.replace(top.node(), build);
  CHECK(editor.finish().gate_count() == before - 1);
}

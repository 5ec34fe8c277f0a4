#include "logic/cover/priority_cuts.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "circuits.hpp"
#include "logic/graph/combinational_view.hpp"

using namespace portweigh::logic;

namespace {

Graph graph_of(const Network& net) {
  return combinational_view(net, {}).graph;
}

constexpr unsigned area_mode = 1000;

}  // namespace

TEST_CASE("ripple adders with K = 6: three LUTs for two bits") {
  // Two bits with carry take 3 LUTs, so 8 bits without a depth limit 12: berkeley-abc 1.01, `strash; if -K`
  // [C]. 64 bits at least depth at most 114: from memory of the literature, unconfirmed [M].
  CHECK(cover_graph(graph_of(circuits::adder(8)), {6, area_mode}).nodes.size() == 12);
  const Covering least_depth = cover_graph(graph_of(circuits::adder(64)), {6, 0});
  CHECK(least_depth.nodes.size() <= 114);
  CHECK(cover_graph(graph_of(circuits::adder(64)), {6, area_mode}).nodes.size() <= least_depth.nodes.size());
}

TEST_CASE("a covering is a set of LUTs whose leaves are sources or LUTs before them") {
  const Graph graph = graph_of(circuits::random_logic(8, 50, 3000));
  for (unsigned k = 3; k <= 8; ++k) {
    const Covering covering = cover_graph(graph, {k, 0});
    std::vector<bool> is_known(graph.size(), false);
    for (const std::uint32_t source : graph.sources()) is_known[source] = true;
    for (std::size_t i = 0; i < covering.nodes.size(); ++i) {
      const std::uint32_t size = covering.first_leaf[i + 1] - covering.first_leaf[i];
      REQUIRE(size <= k);
      for (std::uint32_t j = covering.first_leaf[i]; j < covering.first_leaf[i + 1]; ++j) {
        REQUIRE(is_known[covering.leaves[j]]);
      }
      is_known[covering.nodes[i]] = true;
    }
    for (const Literal root : graph.roots()) REQUIRE((root.node() == 0 || is_known[root.node()]));
  }
}

TEST_CASE("extra levels may save LUTs and never exceed the allowance") {
  const Graph graph = graph_of(circuits::adder(32));
  const Covering least = cover_graph(graph, {6, 0});
  for (unsigned extra = 1; extra < 6; ++extra) {
    const Covering relaxed = cover_graph(graph, {6, extra});
    CHECK(relaxed.levels <= least.levels + extra);
    CHECK(relaxed.nodes.size() <= least.nodes.size());
  }
}

TEST_CASE("very deep chains without fan-out are covered in reasonable time") {
  Network net;
  Bit state = add_input(net, "s");
  for (unsigned i = 0; i < 30000; ++i) {
    const Bit input = add_input(net, "i" + std::to_string(i));
    state = i % 2 == 0 ? state & input : state | input;
  }
  add_output(state, "y");
  const Covering covering = cover_graph(graph_of(net), {4, 0});
  CHECK(covering.nodes.size() == 10000);
}

TEST_CASE("roots that are sources or constants need no LUT") {
  Network net;
  const Bit a = add_input(net, "a");
  add_output(a, "same");
  add_output(!a, "inverted");
  add_output(constant_bit(net, true), "one");
  CHECK(cover_graph(graph_of(net), {4, 0}).nodes.empty());
}

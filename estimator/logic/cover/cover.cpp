#include "logic/cover/cover.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "logic/cover/cover_polish.hpp"
#include "logic/cover/priority_cuts.hpp"
#include "logic/graph/combinational_view.hpp"
#include "logic/graph/graph.hpp"
#include "logic/graph/register_control.hpp"
#include "logic/graph/restructure.hpp"

namespace portweigh::logic {
namespace {

// The function of each LUT's cone over its leaves.
std::vector<TruthTable> lut_functions(const Graph& graph, const Covering& covering) {
  std::vector<TruthTable> values(graph.size());
  std::vector<std::uint32_t> lut_of(graph.size(), 0);  // the last LUT, from 1, whose cone reaches the node
  const auto value = [&values](Literal literal) {
    return values[literal.node()].complement_if(literal.is_complemented());
  };
  std::vector<TruthTable> functions;
  for (std::uint32_t lut = 1; lut <= covering.nodes.size(); ++lut) {
    const std::uint32_t first_leaf = covering.first_leaf[lut - 1];
    for (std::uint32_t leaf = first_leaf; leaf < covering.first_leaf[lut]; ++leaf) {
      values[covering.leaves[leaf]] = TruthTable::input(leaf - first_leaf);
      lut_of[covering.leaves[leaf]] = lut;
    }
    std::vector<std::uint32_t> cone{covering.nodes[lut - 1]};
    for (std::size_t i = 0; i < cone.size(); ++i) {
      for (const Literal fanin : {graph.fanin0(cone[i]), graph.fanin1(cone[i])}) {
        const std::uint32_t node = fanin.node();
        if (node != 0 && std::exchange(lut_of[node], lut) != lut) cone.push_back(node);
      }
    }
    std::sort(cone.begin(), cone.end());  // operands first
    for (const std::uint32_t node : cone) {
      const TruthTable a = value(graph.fanin0(node));
      const TruthTable b = value(graph.fanin1(node));
      values[node] = graph.is_xor(node) ? a ^ b : a & b;
    }
    functions.push_back(values[cone.back()]);
  }
  return functions;
}

// Turns a covering of the view's graph into signals, LUTs, carry bits and roots.
class CoverBuilder {
 public:
  CoverBuilder(const Network& network, const CombinationalView& view, const Covering& covering,
               const CoverOptions& options)
      : network_(network), view_(view), covering_(covering), signal_(view.graph.size(), 0) {
    cover_.options = options;
  }

  Cover build() {
    const Graph& graph = view_.graph;
    cover_.signals.push_back({SignalKind::constant, 0});
    for (std::size_t i = 0; i < graph.sources().size(); ++i) {
      signal_[graph.sources()[i]] = add_signal(SignalKind::source, view_.source_nodes[i]);
    }
    add_cells();
    add_roots();
    cover_.levels = covering_.levels;
    return std::move(cover_);
  }

 private:
  std::uint32_t add_signal(SignalKind kind, std::size_t index) {
    cover_.signals.push_back({kind, static_cast<std::uint32_t>(index)});
    return static_cast<std::uint32_t>(cover_.signals.size() - 1);
  }

  Literal mapped(Literal literal) const { return {signal_[literal.node()], literal.is_complemented()}; }

  // Boxes are in the cover if a LUT, a root or a later bit of the chain reads them.
  std::vector<bool> needed_boxes() const {
    const Graph& graph = view_.graph;
    std::vector<bool> is_needed(graph.boxes().size(), false);
    const auto need = [&](std::uint32_t node) {
      if (graph.box_of(node) != Graph::none) is_needed[graph.box_of(node)] = true;
    };
    for (const Literal root : graph.roots()) need(root.node());
    for (const std::uint32_t leaf : covering_.leaves) need(leaf);
    for (std::size_t i = graph.boxes().size(); i-- > 0;) {
      if (!is_needed[i]) continue;
      const Graph::Box& box = graph.boxes()[i];
      for (const Literal operand : box.operands()) need(operand.node());
    }
    return is_needed;
  }

  void add_cells() {
    const Graph& graph = view_.graph;
    const std::vector<bool> is_needed = needed_boxes();
    std::vector<TruthTable> functions = lut_functions(graph, covering_);
    std::size_t lut = 0;
    for (std::size_t box = 0; box <= graph.boxes().size(); ++box) {
      const std::uint32_t until =
          box < graph.boxes().size() ? graph.boxes()[box].sum : static_cast<std::uint32_t>(graph.size());
      for (; lut < covering_.nodes.size() && covering_.nodes[lut] < until; ++lut) {
        add_lut(lut, functions[lut]);
      }
      if (box < graph.boxes().size() && is_needed[box]) add_carry_bit(graph.boxes()[box]);
    }
  }

  void add_lut(std::size_t index, const TruthTable& function) {
    Lut lut;
    lut.function = function;
    for (std::uint32_t i = covering_.first_leaf[index]; i < covering_.first_leaf[index + 1]; ++i) {
      lut.leaves.push_back(signal_[covering_.leaves[i]]);
    }
    lut.signal = add_signal(SignalKind::lut, cover_.luts.size());
    signal_[covering_.nodes[index]] = lut.signal;
    cover_.luts.push_back(std::move(lut));
  }

  void add_carry_bit(const Graph::Box& box) {
    CarryBit bit;
    bit.a = mapped(box.a);
    bit.b = mapped(box.b);
    bit.carry_in = mapped(box.carry_in);
    bit.continues_chain = box.continues_chain;
    bit.sum = signal_[box.sum] = add_signal(SignalKind::sum, cover_.carry_bits.size());
    bit.carry = signal_[box.carry] = add_signal(SignalKind::carry, cover_.carry_bits.size());
    cover_.carry_bits.push_back(bit);
  }

  void add_roots() {
    const auto root = [this](std::uint32_t place) { return mapped(view_.graph.roots()[place]); };
    for (std::uint32_t i = 0; i < network_.outputs().size(); ++i) {
      cover_.outputs.push_back({network_.outputs()[i].name, root(i)});
    }
    std::vector<std::uint32_t> signal_of_node(network_.size(), 0);
    for (std::uint32_t i = 0; i < cover_.signals.size(); ++i) {
      if (cover_.signals[i].kind == SignalKind::source) signal_of_node[cover_.signals[i].index] = i;
    }
    for (const CombinationalView::RegisterRoots& reg : view_.registers) {
      cover_.registers.push_back({reg.index, signal_of_node[network_.registers()[reg.index].node],
                                  root(reg.next), root(reg.enable), root(reg.reset), reg.reset_value});
    }
    for (const CombinationalView::MemoryRoots& memory : view_.memories) {
      CoveredMemory covered{memory.index, {}};
      for (std::uint32_t i = 0; i < memory.root_count; ++i)
        covered.roots.push_back(root(memory.first_root + i));
      cover_.memories.push_back(std::move(covered));
    }
  }

  const Network& network_;
  const CombinationalView& view_;
  const Covering& covering_;
  std::vector<std::uint32_t> signal_;
  Cover cover_;
};

template <class Visit>
void for_each_root(const Cover& cover, Visit visit) {
  for (const CoveredOutput& output : cover.outputs) visit(output.literal);
  for (const CoveredRegister& reg : cover.registers) {
    for (const Literal root : {reg.next, reg.enable, reg.reset}) visit(root);
  }
  for (const CoveredMemory& memory : cover.memories) {
    for (const Literal root : memory.roots) visit(root);
  }
}

// Levels of LUTs and carry bits, the longest run of carry bits, and which carries leave their chain.
void annotate(Cover& cover) {
  std::vector<unsigned> level(cover.signals.size(), 0);
  std::vector<unsigned> run(cover.signals.size(), 0);
  cover.levels = 0;
  cover.longest_carry = 0;
  for (const Signal& signal : cover.signals) {
    if (signal.kind == SignalKind::lut) {
      Lut& lut = cover.luts[signal.index];
      for (const std::uint32_t leaf : lut.leaves) lut.level = std::max(lut.level, level[leaf] + 1);
      level[lut.signal] = lut.level;
    } else if (signal.kind == SignalKind::sum) {
      CarryBit& bit = cover.carry_bits[signal.index];
      const unsigned carry_step = bit.continues_chain ? 0 : 1;
      bit.level = std::max(
          {level[bit.a.node()] + 1, level[bit.b.node()] + 1, level[bit.carry_in.node()] + carry_step});
      level[bit.sum] = level[bit.carry] = bit.level;
      run[bit.carry] = 1 + (bit.continues_chain ? run[bit.carry_in.node()] : 0);
      cover.longest_carry = std::max(cover.longest_carry, run[bit.carry]);
    }
  }
  std::vector<bool> is_read(cover.signals.size(), false);
  for_each_root(cover, [&](Literal root) {
    cover.levels = std::max(cover.levels, level[root.node()]);
    is_read[root.node()] = true;
  });
  for (const Lut& lut : cover.luts) {
    for (const std::uint32_t leaf : lut.leaves) is_read[leaf] = true;
  }
  for (const CarryBit& bit : cover.carry_bits) {
    is_read[bit.a.node()] = is_read[bit.b.node()] = true;
    if (!bit.continues_chain) is_read[bit.carry_in.node()] = true;
  }
  for (CarryBit& bit : cover.carry_bits) bit.carry_leaves_chain = is_read[bit.carry];
}

// Fewer LUTs win; within two percent, fewer levels.
bool is_better(const Covering& a, const Covering& b) {
  const auto luts_a = static_cast<double>(a.nodes.size());
  const auto luts_b = static_cast<double>(b.nodes.size());
  // On the circuits of rewrite.cpp: none 605 levels in all, one or two percent 595, three 589 with 0.2 % more
  // LUTs.
  constexpr double nearly_equal = 1.02;
  if (luts_a * nearly_equal < luts_b || luts_b * nearly_equal < luts_a) return luts_a < luts_b;
  return a.levels != b.levels ? a.levels < b.levels : luts_a < luts_b;
}

// Recovers enables and resets where that doesn't cost LUTs.
void choose_controls(const Network& network, CombinationalView& view, Covering& covering,
                     unsigned lut_inputs) {
  if (view.registers.empty()) return;
  CombinationalView recovered = with_recovered_controls(view, network);
  Covering tried = cover_graph(recovered.graph, {lut_inputs, 0, CoveringOrders::both});
  if (tried.nodes.size() > covering.nodes.size()) return;
  view = std::move(recovered);
  covering = std::move(tried);
}

// Tries restructured forms of the graph and leaves the one that covers best.
void choose_structure(Graph& graph, Covering& covering, unsigned lut_inputs) {
  bool has_changed = false;
  const auto consider = [&](Graph candidate) {
    Covering tried = cover_graph(candidate, {lut_inputs, 0, CoveringOrders::first});
    if (!is_better(tried, covering)) return;
    has_changed = true;
    covering = std::move(tried);
    graph = std::move(candidate);
  };
  // One round has to do for larger graphs: all of them take 27 s instead of 8 s for EPFL div (57,000 gates, K
  // = 4 and 6), for 1.6 % fewer LUTs.
  constexpr std::size_t large = 50000;
  // 1, 2, 4, 6 rounds give +1.6, +0.0, 0, -0.2 % LUTs and 600, 598, 595, 592 levels on the circuits of
  // rewrite.cpp.
  constexpr unsigned rounds = 4;
  Graph form = balanced(graph);
  if (graph.gate_count() > large) return consider(rewritten(form));
  consider(balanced(form, lut_inputs));
  consider(form);
  for (unsigned round = 0; round < rounds; ++round) {
    const std::size_t gates = form.gate_count();
    form = balanced(rewritten(form));
    if (form.gate_count() == gates) break;
    consider(balanced(form, lut_inputs));
    consider(form);
  }
  if (has_changed) covering = cover_graph(graph, {lut_inputs, 0, CoveringOrders::both});
}

}  // namespace

std::vector<std::uint32_t> Cover::fanouts() const {
  std::vector<std::uint32_t> count(signals.size(), 0);
  for (const Lut& lut : luts) {
    for (const std::uint32_t leaf : lut.leaves) ++count[leaf];
  }
  for (const CarryBit& bit : carry_bits) {
    for (const Literal operand : {bit.a, bit.b, bit.carry_in}) ++count[operand.node()];
  }
  for_each_root(*this, [&count](Literal root) { ++count[root.node()]; });
  return count;
}

Cover cover(const Network& network, const CoverOptions& options) {
  network.check_complete();
  if (options.lut_inputs < 3 || options.lut_inputs > max_lut_inputs) {
    throw std::logic_error(fmt::format("LUTs of {} inputs: 3 to 8 can be covered", options.lut_inputs));
  }
  CombinationalView view = combinational_view(network, {options.carry_chain, options.register_style});
  Covering covering = cover_graph(view.graph, {options.lut_inputs, 0, CoveringOrders::both});
  if (options.effort == Effort::restructure) {
    if (options.register_style == RegisterStyle::with_enable_and_reset) {
      choose_controls(network, view, covering, options.lut_inputs);
    }
    choose_structure(view.graph, covering, options.lut_inputs);
  }
  Cover result = polished(CoverBuilder(network, view, covering, options).build());
  annotate(result);
  return result;
}

}  // namespace portweigh::logic

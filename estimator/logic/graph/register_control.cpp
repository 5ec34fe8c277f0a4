#include "logic/graph/register_control.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <vector>

namespace portweigh::logic {
namespace {

// A recovered enable costs a LUT and saves each register two inputs (condition and own output), a reset one;
// so two registers pay for an enable and three for a reset. All kinds of block at their defaults, K = 4, K =
// 4 with carry chains, K = 6: 1, 2, 3, 4 sharers of an enable give 5,918, 5,909, 5,909, 5,912 cells; 1 to 6
// of a reset the same.
constexpr std::size_t least_enable_sharers = 2;
constexpr std::size_t least_reset_sharers = 3;
// Bounds the search: 2 to 16 selections give the same cells, 0 gates two more and 1 to 4 the same.
constexpr unsigned deepest_selection = 8;
constexpr unsigned most_gates = 2;

struct Selection {
  Literal select;
  Literal when_true;
  Literal when_false;
};

struct Held {
  Literal enable = constant_true;
  std::optional<Literal> data = std::nullopt;  // absent: the register never loads here
};

// Whether a XOR with the register itself counts as a condition under which it toggles.
enum class Toggles : std::uint8_t { whole, split };

class ControlRecovery {
 public:
  ControlRecovery(const CombinationalView& view, const Network& network) : view_(view) {
    std::vector<Literal> of_node(network.size(), constant_false);
    for (std::size_t i = 0; i < view.source_nodes.size(); ++i) {
      of_node[view.source_nodes[i]] = Literal(view.graph.sources()[i], false);
    }
    for (const CombinationalView::RegisterRoots& reg : view.registers) {
      outputs_.push_back(of_node[network.registers()[reg.index].node]);
    }
    original_size_ = view.graph.size();
  }

  CombinationalView recover() {
    recover_enables();
    recover_resets();
    view_.graph = cleaned(graph_);
    return std::move(view_);
  }

 private:
  // A selection is the complement of AND(!AND(s, t), !AND(!s, f)).
  std::optional<Selection> selection(Literal literal) const {
    if (!graph_.is_and(literal.node())) return std::nullopt;
    const Literal high = graph_.fanin0(literal.node());
    const Literal low = graph_.fanin1(literal.node());
    if (!high.is_complemented() || !low.is_complemented() || !graph_.is_and(high.node()) ||
        !graph_.is_and(low.node())) {
      return std::nullopt;
    }
    const bool is_inverted = !literal.is_complemented();
    const Literal highs[2] = {graph_.fanin0(high.node()), graph_.fanin1(high.node())};
    const Literal lows[2] = {graph_.fanin0(low.node()), graph_.fanin1(low.node())};
    for (unsigned i = 0; i < 2; ++i) {
      for (unsigned j = 0; j < 2; ++j) {
        if (highs[i] != !lows[j]) continue;
        return Selection{highs[i], highs[1 - i].complement_if(is_inverted),
                         lows[1 - j].complement_if(is_inverted)};
      }
    }
    return std::nullopt;
  }

  // `gates` AND gates may be looked through between selections: more of them are a comparison that happens to
  // contain the register, not a condition.
  Held hold(Literal next, Literal output, unsigned depth, unsigned gates = most_gates) {
    if (next == output) return {constant_false, std::nullopt};
    if (depth != 0 && toggles_ == Toggles::split && graph_.is_xor(next.node())) {
      return toggle(next, output);
    }
    if (depth == 0 || !graph_.is_and(next.node())) return {constant_true, next};
    if (const std::optional<Selection> parts = selection(next)) {
      const Held high = hold(parts->when_true, output, depth - 1);
      const Held low = hold(parts->when_false, output, depth - 1);
      if (high.enable != constant_true || low.enable != constant_true) {
        return selected(parts->select, high, low);
      }
    }
    if (gates == 0) return {constant_true, next};
    // p AND q is select(p, q, 0), its complement select(p, !q, 1).
    const Literal forced = constant_false.complement_if(next.is_complemented());
    const Literal operands[2] = {graph_.fanin0(next.node()), graph_.fanin1(next.node())};
    for (unsigned i = 0; i < 2; ++i) {
      const Literal value = operands[i].complement_if(next.is_complemented());
      const Held high = hold(value, output, depth - 1, gates - 1);
      if (high.enable != constant_true) return selected(operands[1 - i], high, {constant_true, forced});
    }
    return {constant_true, next};
  }

  // s XOR q is select(s, !q, q).
  Held toggle(Literal next, Literal output) {
    const Literal operands[2] = {graph_.fanin0(next.node()), graph_.fanin1(next.node())};
    for (unsigned i = 0; i < 2; ++i) {
      if (operands[i] != output) continue;
      return {operands[1 - i].complement_if(next.is_complemented()), !output};
    }
    return {constant_true, next};
  }

  Held selected(Literal select, const Held& high, const Held& low) {
    const Literal enable = graph_.make_mux(select, high.enable, low.enable);
    if (high.data && low.data) return {enable, graph_.make_mux(select, *high.data, *low.data)};
    return {enable, high.data ? high.data : low.data};
  }

  std::vector<Held> hold_all(Toggles toggles) {
    toggles_ = toggles;
    std::vector<Held> found;
    for (std::size_t i = 0; i < view_.registers.size(); ++i) {
      found.push_back(hold(root(view_.registers[i].next), outputs_[i], deepest_selection));
    }
    return found;
  }

  // An adder's bits are XORs with the register too, each with an enable of its own; so XORs are split only
  // where that gives an enable which other registers have without it.
  void recover_enables() {
    const std::vector<Held> whole = hold_all(Toggles::whole);
    const std::vector<Held> split = hold_all(Toggles::split);
    std::map<Literal, std::size_t> sharers;
    for (const Held& held : whole) ++sharers[held.enable];
    for (std::size_t i = 0; i < whole.size(); ++i) {
      const bool has_whole = whole[i].enable != constant_true;
      const Held& held = has_whole ? whole[i] : split[i];
      if (held.enable == constant_true || !held.data) continue;
      const bool exists = has_whole && held.enable.node() < original_size_;
      const auto others = sharers.find(held.enable);
      const std::size_t count = others == sharers.end() ? 0 : others->second + (has_whole ? 0 : 1);
      if (!exists && count < least_enable_sharers) continue;
      const CombinationalView::RegisterRoots& reg = view_.registers[i];
      // Data is loaded only where both the given and the recovered enable are set.
      graph_.set_root(reg.enable, graph_.make_and(root(reg.enable), held.enable));
      graph_.set_root(reg.next, *held.data);
    }
  }

  Literal root(std::uint32_t place) const { return graph_.roots()[place]; }

  // Operands of the AND tree that a literal is the top of.
  void collect_factors(Literal literal, std::vector<Literal>& factors) const {
    constexpr std::size_t most_factors = 16;  // bounds the search; 4 to 64 give the same cells
    if (literal.is_complemented() || !graph_.is_and(literal.node()) || factors.size() >= most_factors) {
      factors.push_back(literal);
      return;
    }
    collect_factors(graph_.fanin0(literal.node()), factors);
    collect_factors(graph_.fanin1(literal.node()), factors);
  }

  // Whether a reset lets the register load whenever it is on: always, or because the enable contains it.
  bool loads_under(Literal enable, Literal reset) const {
    if (enable == constant_true) return true;
    if (enable == reset) return true;
    std::vector<Literal> factors;
    collect_factors(!enable, factors);
    return std::find(factors.begin(), factors.end(), !reset) != factors.end();
  }

  std::vector<Literal> reset_factors(std::size_t index) const {
    const CombinationalView::RegisterRoots& reg = view_.registers[index];
    std::vector<Literal> factors;
    if (root(reg.reset) != constant_false) return factors;
    const Literal top = root(reg.next).complement_if(reg.reset_value);
    if (top.is_complemented() || !graph_.is_and(top.node())) return factors;
    collect_factors(top, factors);
    std::erase_if(factors, [&](Literal factor) { return !loads_under(root(reg.enable), !factor); });
    return factors;
  }

  void recover_resets() {
    std::map<Literal, std::size_t> sharers;
    std::vector<std::vector<Literal>> factors;
    for (std::size_t i = 0; i < view_.registers.size(); ++i) {
      factors.push_back(reset_factors(i));
      for (const Literal factor : factors.back()) ++sharers[factor];
    }
    for (std::size_t i = 0; i < factors.size(); ++i) {
      const auto most = std::max_element(factors[i].begin(), factors[i].end(), [&](Literal a, Literal b) {
        return sharers[a] != sharers[b] ? sharers[a] < sharers[b] : a > b;
      });
      if (most == factors[i].end() || sharers[*most] < least_reset_sharers) continue;
      const CombinationalView::RegisterRoots& reg = view_.registers[i];
      const Literal top = root(reg.next).complement_if(reg.reset_value);
      graph_.set_root(reg.reset, !*most);
      graph_.set_root(reg.next, without(top, *most).complement_if(reg.reset_value));
    }
  }

  // The AND tree without one of its factors.
  Literal without(Literal literal, Literal factor) {
    if (literal == factor) return constant_true;
    if (literal.is_complemented() || !graph_.is_and(literal.node())) return literal;
    const Literal a = without(graph_.fanin0(literal.node()), factor);
    const Literal b = without(graph_.fanin1(literal.node()), factor);
    return graph_.make_and(a, b);
  }

  CombinationalView view_;
  Graph& graph_ = view_.graph;
  std::vector<Literal> outputs_;
  std::size_t original_size_ = 0;
  Toggles toggles_ = Toggles::whole;
};

}  // namespace

CombinationalView with_recovered_controls(const CombinationalView& view, const Network& network) {
  return ControlRecovery(view, network).recover();
}

}  // namespace portweigh::logic

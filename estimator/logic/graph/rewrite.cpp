#include <algorithm>
#include <array>

#include "logic/graph/cut.hpp"
#include "logic/graph/graph_editor.hpp"
#include "logic/graph/restructure.hpp"
#include "logic/graph/small_functions.hpp"

namespace portweigh::logic {
namespace {

// Four leaves: all functions of as many inputs fit a table (Mishchenko, Chatterjee, Brayton, DAC 2006 [M]).
constexpr unsigned most_leaves = 4;
// Cuts of a gate tried, nearest first. Thirteen EPFL circuits of fewer than 14,000 gates, K = 4 and 6: 5, 7,
// 9, 12, 16 give 21,021, 20,933, 20,873, 21,273, 21,355 LUTs.
constexpr unsigned most_cuts = 9;

struct Cut4 : Cut<most_leaves> {
  std::uint16_t function;
};

// Function over `from`'s leaves as one over `to`'s, of which they are a subset.
std::uint16_t expanded(const Cut4& from, const Cut4& to) {
  std::array<unsigned, most_leaves> place{};
  for (unsigned i = 0; i < from.size; ++i) {
    while (to.leaves[place[i]] != from.leaves[i]) ++place[i];
  }
  std::uint16_t result = 0;
  for (unsigned assignment = 0; assignment < 16; ++assignment) {
    unsigned source = 0;
    for (unsigned i = 0; i < from.size; ++i) source |= (assignment >> place[i] & 1U) << i;
    result = static_cast<std::uint16_t>(result | (from.function >> source & 1U) << assignment);
  }
  return result;
}

class Rewriter {
 public:
  explicit Rewriter(const Graph& graph) : editor_(graph), first_new_(graph.size()) {}

  Graph run() {
    for (std::uint32_t node = 1; node < first_new_; ++node) {
      if (!editor_.is_gate(node) || !editor_.is_alive(node)) continue;
      const std::uint32_t present = editor_.refresh(node);
      if (present != Graph::none && editor_.is_alive(present)) rewrite(present);
    }
    return editor_.finish();
  }

 private:
  const std::vector<Cut4>& cuts(std::uint32_t node) {
    if (node >= cuts_.size()) cuts_.resize(editor_.graph().size());
    if (cuts_[node].empty()) {
      const Cut4 unit{{{node}, 1, signature_of(node)}, small_inputs[0]};
      std::vector<Cut4> found;
      if (editor_.is_gate(node)) found = gate_cuts(node);
      found.push_back(unit);
      cuts_[node] = std::move(found);
    }
    return cuts_[node];
  }

  std::vector<Cut4> gate_cuts(std::uint32_t node) {
    const Literal a = editor_.fanin0(node);
    const Literal b = editor_.fanin1(node);
    cuts(a.node());
    cuts(b.node());
    std::vector<Cut4> found;
    for (const Cut4& first : cuts_[a.node()]) {
      for (const Cut4& second : cuts_[b.node()]) {
        if (found.size() == most_cuts) return found;
        Cut4 cut;
        if (!merge<most_leaves>(first, second, cut)) continue;
        const bool is_known = std::any_of(found.begin(), found.end(), [&cut](const Cut4& other) {
          return std::ranges::equal(cut.inputs(), other.inputs());
        });
        if (is_known) continue;
        const auto x =
            static_cast<std::uint16_t>(expanded(first, cut) ^ (a.is_complemented() ? 0xFFFFU : 0U));
        const auto y =
            static_cast<std::uint16_t>(expanded(second, cut) ^ (b.is_complemented() ? 0xFFFFU : 0U));
        cut.function = editor_.graph().is_xor(node) ? x ^ y : x & y;
        found.push_back(cut);
      }
    }
    return found;
  }

  // The structure of a function on the cut's leaves; `choice` picks the decomposition of the topmost gate.
  static Literal build(Graph& graph, std::uint16_t function, const Cut4& cut, unsigned choice) {
    const SmallFunctions& table = SmallFunctions::table();
    if (table.gates(function) == 0) {
      if (function == 0 || function == 0xFFFF) return constant_false.complement_if(function != 0);
      for (unsigned i = 0; i < most_leaves; ++i) {
        const auto inverse = static_cast<std::uint16_t>(~small_inputs[i]);
        if (function == small_inputs[i] || function == inverse) {
          return {cut.leaves[i], function == inverse};
        }
      }
    }
    const SmallFunctions::Decomposition& parts = table.decomposition(function, choice);
    const Literal left = build(graph, parts.left, cut, 0);
    const Literal right = build(graph, parts.right, cut, 0);
    const Literal result = parts.is_xor ? graph.make_xor(left, right) : graph.make_and(left, right);
    return result.complement_if(parts.is_complemented);
  }

  bool is_usable(const Cut4& cut) const {
    return std::ranges::all_of(cut.inputs(), [this](std::uint32_t leaf) {
      return !editor_.is_replaced(leaf) && (!editor_.is_gate(leaf) || editor_.is_alive(leaf));
    });
  }

  void rewrite(std::uint32_t node) {
    const std::vector<Cut4> candidates = cuts(node);
    int best_gain = 0;
    std::uint32_t best_level = 0;
    const Cut4* best_cut = nullptr;
    unsigned best_choice = 0;
    const SmallFunctions& table = SmallFunctions::table();
    for (const Cut4& cut : candidates) {
      if (cut.size < 2 || !is_usable(cut)) continue;
      editor_.open(node, cut.inputs());
      const unsigned choices = std::max(table.decomposition_count(cut.function), 1U);
      for (unsigned choice = 0; choice < choices && editor_.opened_size() > 0; ++choice) {
        const GraphEditor::Trial trial =
            editor_.attempt([&](Graph& graph) { return build(graph, cut.function, cut, choice); });
        if (!trial.is_valid || trial.level > editor_.required(node)) continue;
        const bool is_better =
            trial.gain > best_gain || (trial.gain == best_gain && best_gain > 0 && trial.level < best_level);
        if (!is_better) continue;
        best_gain = trial.gain;
        best_level = trial.level;
        best_cut = &cut;
        best_choice = choice;
      }
      editor_.close();
    }
    if (best_cut == nullptr) return;
    editor_.replace(node,
                    [&](Graph& graph) { return build(graph, best_cut->function, *best_cut, best_choice); });
  }

  GraphEditor editor_;
  std::size_t first_new_;
  std::vector<std::vector<Cut4>> cuts_;
};

}  // namespace

Graph rewritten(const Graph& graph) {
  return Rewriter(graph).run();
}

}  // namespace portweigh::logic

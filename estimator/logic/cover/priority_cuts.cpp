#include "logic/cover/priority_cuts.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <deque>
#include <limits>
#include <span>
#include <stdexcept>

#include "logic/graph/cut.hpp"

namespace portweigh::logic {
namespace {

// EPFL: 6, 7, 8, 9, 10 and 12 cuts give 152140, 152149, 151470, 151361, 151502, 151474 LUTs; time grows in
// proportion.
constexpr unsigned cuts_kept = 9;
constexpr std::uint32_t unbounded = std::numeric_limits<std::uint32_t>::max() / 2;
// Flows of one LUT count added in another order differ by rounding: 24 bits hold flows up to 4,096 this well.
// EPFL: 0 to 1/256 differ by less than 0.02 %.
constexpr float area_tolerance = 1.0F / 4096;
// Leaves that one exact area may visit: keeps deep fan-out-free chains from costing quadratic time.
// EPFL: 100, 300, 1000, 10000 give 151509, 151398, 151361, 151357 LUTs.
constexpr std::size_t trail_budget = 1000;
// Weight of the old expectation against the references just seen. EPFL: 0, 1, 2, 3, 4 give 159918, 152877,
// 151836, 151361, 151379 LUTs.
constexpr float expectation_weight = 3;
constexpr std::size_t no_budget = std::numeric_limits<std::size_t>::max() / 2;

enum class Pass : std::uint8_t { depth, depth_by_flow, area_flow, exact_area };

template <unsigned K>
struct CostedCut : Cut<K> {
  std::uint32_t depth;
  float area;
};

template <unsigned K>
struct CutSet {
  std::uint32_t count = 0;
  std::array<CostedCut<K>, cuts_kept + 1> cuts;  // best first; the last one is the node itself
};

template <unsigned K>
class Coverer {
 public:
  Coverer(const Graph& graph, unsigned extra_levels)
      : graph_(graph),
        extra_levels_(extra_levels),
        best_(graph.size()),
        flow_(graph.size(), 0),
        expected_(graph.size(), 1),
        depth_(graph.size(), 0),
        required_(graph.size(), unbounded),
        references_(graph.size(), 0),
        fanouts_(graph.size(), 0),
        set_of_(graph.size(), 0) {
    for (std::uint32_t node = 1; node < graph.size(); ++node) {
      if (!graph.is_gate(node)) continue;
      ++fanouts_[graph.fanin0(node).node()];
      ++fanouts_[graph.fanin1(node).node()];
    }
    for (std::uint32_t node = 0; node < graph.size(); ++node) {
      expected_[node] = std::max(1.0F, static_cast<float>(fanouts_[node]));
    }
  }

  Covering run(std::span<const Pass> depth_passes) {
    for (const Pass pass : depth_passes) {
      run_pass(pass);
      reference_all();
      update_expected();
    }
    bound_ = root_depth() + extra_levels_;
    compute_required();
    // EPFL: none to four area-flow passes give 158953, 151776, 151610, 151361, 151167 LUTs; one to three exact
    // passes 151737, 151361, 151344.
    for (const Pass pass :
         {Pass::area_flow, Pass::area_flow, Pass::area_flow, Pass::exact_area, Pass::exact_area}) {
      run_pass(pass);
      reference_all();
      if (pass == Pass::area_flow) update_expected();
      compute_required();
    }
    return extract();
  }

 private:
  using CutK = CostedCut<K>;
  using SetK = CutSet<K>;

  void run_pass(Pass pass) {
    open_fanouts_ = fanouts_;
    for (std::uint32_t node = 0; node < graph_.size(); ++node) process(node, pass);
    has_best_ = true;
  }

  void process(std::uint32_t node, Pass pass) {
    SetK& set = open_set(node);
    if (graph_.is_gate(node)) {
      process_gate(node, set, pass);
    } else {
      depth_[node] = graph_.level(node, depth_);
    }
    CutK& unit = set.cuts[set.count];
    unit.leaves[0] = node;
    unit.size = 1;
    unit.signature = signature_of(node);
    if (open_fanouts_[node] == 0) free_sets_.push_back(set_of_[node]);
  }

  void process_gate(std::uint32_t node, SetK& set, Pass pass) {
    const bool is_in_cover = pass == Pass::exact_area && references_[node] > 0;
    if (is_in_cover) dereference(best_[node], trail_budget);
    const std::size_t dereferenced = trail_.size();
    if (has_best_) consider(best_[node], node, set, pass);
    merge_fanins(node, set, pass);
    for (std::size_t i = 0; i < dereferenced; ++i) ++references_[trail_[i]];
    trail_.clear();
    if (is_in_cover) replace_best(node, set.cuts[0]);
    best_[node] = set.cuts[0];
    depth_[node] = best_[node].depth;
    flow_[node] = best_[node].area / expected_[node];
    release_fanins(node);
  }

  SetK& open_set(std::uint32_t node) {
    if (free_sets_.empty()) {
      free_sets_.push_back(static_cast<std::uint32_t>(sets_.size()));
      sets_.emplace_back();
    }
    set_of_[node] = free_sets_.back();
    free_sets_.pop_back();
    SetK& set = sets_[set_of_[node]];
    set.count = 0;
    return set;
  }

  void release_fanins(std::uint32_t node) {
    for (const Literal fanin : {graph_.fanin0(node), graph_.fanin1(node)}) {
      if (--open_fanouts_[fanin.node()] == 0) free_sets_.push_back(set_of_[fanin.node()]);
    }
  }

  void merge_fanins(std::uint32_t node, SetK& set, Pass pass) {
    const SetK& first = sets_[set_of_[graph_.fanin0(node).node()]];
    const SetK& second = sets_[set_of_[graph_.fanin1(node).node()]];
    CutK merged;
    for (unsigned i = 0; i <= first.count; ++i) {
      for (unsigned j = 0; j <= second.count; ++j) {
        const std::uint64_t signature = first.cuts[i].signature | second.cuts[j].signature;
        if (static_cast<unsigned>(std::popcount(signature)) > K) continue;
        if (merge<K>(first.cuts[i], second.cuts[j], merged)) consider(merged, node, set, pass);
      }
    }
  }

  void consider(const CutK& cut, std::uint32_t node, SetK& set, Pass pass) {
    unsigned kept = 0;
    for (unsigned i = 0; i < set.count; ++i) {
      if (is_subset<K>(set.cuts[i], cut)) return;
    }
    for (unsigned i = 0; i < set.count; ++i) {
      if (is_subset<K>(cut, set.cuts[i])) continue;
      if (kept != i) set.cuts[kept] = set.cuts[i];
      ++kept;
    }
    set.count = kept;
    CutK candidate = cut;
    fill_costs(candidate, pass);
    if (candidate.depth > required_[node]) return;
    unsigned place = set.count;
    while (place > 0 && is_better(candidate, set.cuts[place - 1], pass)) --place;
    if (place == cuts_kept) return;
    const unsigned last = std::min(set.count, cuts_kept - 1);
    for (unsigned i = last; i > place; --i) set.cuts[i] = set.cuts[i - 1];
    set.cuts[place] = candidate;
    set.count = std::min(set.count + 1, cuts_kept);
  }

  void fill_costs(CutK& cut, Pass pass) {
    std::uint32_t depth = 0;
    float flow = 1;
    for (const std::uint32_t leaf : cut.inputs()) {
      depth = std::max(depth, depth_[leaf]);
      flow += flow_[leaf];
    }
    cut.depth = depth + 1;
    cut.area = pass == Pass::exact_area ? exact_area(cut) : flow;
  }

  // EPFL: size before depth in the area passes gives 157034 LUTs.
  bool is_better(const CutK& a, const CutK& b, Pass pass) const {
    const bool is_area_less = a.area < b.area - area_tolerance;
    const bool is_area_more = a.area > b.area + area_tolerance;
    if (pass == Pass::depth) {
      if (a.depth != b.depth) return a.depth < b.depth;
      if (a.size != b.size) return a.size < b.size;
      return is_area_less;
    }
    if (pass == Pass::depth_by_flow && a.depth != b.depth) return a.depth < b.depth;
    if (is_area_less || is_area_more) return is_area_less;
    if (a.depth != b.depth) return a.depth < b.depth;
    return a.size < b.size;
  }

  float exact_area(const CutK& cut) {
    const std::size_t start = trail_.size();
    const std::uint32_t area = reference(cut, trail_budget);
    for (std::size_t i = start; i < trail_.size(); ++i) --references_[trail_[i]];
    trail_.resize(start);
    return static_cast<float>(area);
  }

  void add_to_trail(const CutK& cut) {
    trail_.insert(trail_.end(), cut.leaves.begin(), cut.leaves.begin() + cut.size);
  }

  // References the leaves of a cut and of the LUTs that thereby enter the cover; every step is noted in the
  // trail. Within the budget the result is the exact number of entering LUTs; deeper ones are left out alike
  // for all cuts.
  std::uint32_t reference(const CutK& cut, std::size_t budget) {
    std::uint32_t area = 1;
    std::size_t next = trail_.size();
    const std::size_t end = next + budget;
    add_to_trail(cut);
    for (; next < trail_.size(); ++next) {
      const std::uint32_t leaf = trail_[next];
      if (references_[leaf]++ != 0 || !graph_.is_gate(leaf)) continue;
      ++area;
      if (trail_.size() < end) add_to_trail(best_[leaf]);
    }
    return area;
  }

  void dereference(const CutK& cut, std::size_t budget) {
    std::size_t next = trail_.size();
    const std::size_t end = next + budget;
    add_to_trail(cut);
    for (; next < trail_.size(); ++next) {
      const std::uint32_t leaf = trail_[next];
      if (--references_[leaf] == 0 && graph_.is_gate(leaf) && trail_.size() < end) add_to_trail(best_[leaf]);
    }
  }

  // The node's LUT is in the cover; its old leaves leave and the new ones enter.
  void replace_best(std::uint32_t node, const CutK& chosen) {
    const CutK& old = best_[node];
    if (std::ranges::equal(old.inputs(), chosen.inputs())) return;
    dereference(old, no_budget);
    reference(chosen, no_budget);
    trail_.clear();
  }

  std::uint32_t root_depth() const {
    std::uint32_t depth = 0;
    for (const Literal root : graph_.roots()) depth = std::max(depth, depth_[root.node()]);
    return depth;
  }

  void reference_all() {
    std::fill(references_.begin(), references_.end(), 0);
    for (const Literal root : graph_.roots()) ++references_[root.node()];
    for (auto node = static_cast<std::uint32_t>(graph_.size()); node-- > 1;) {
      if (references_[node] == 0) continue;
      if (graph_.is_gate(node)) {
        for (const std::uint32_t leaf : best_[node].inputs()) ++references_[leaf];
      } else if (graph_.box_of(node) != Graph::none) {
        // A box references its operands once, however many of its outputs are read.
        const Graph::Box& bit = graph_.boxes()[graph_.box_of(node)];
        if (node == bit.sum && references_[bit.carry] != 0) continue;
        for (const Literal operand : bit.operands()) ++references_[operand.node()];
      }
    }
  }

  void compute_required() {
    std::fill(required_.begin(), required_.end(), unbounded);
    for (const Literal root : graph_.roots()) required_[root.node()] = bound_;
    for (auto node = static_cast<std::uint32_t>(graph_.size()); node-- > 1;) {
      if (references_[node] == 0 || required_[node] == unbounded) continue;
      if (!graph_.is_gate(node)) {
        graph_.require_operands(node, required_);
        continue;
      }
      const std::uint32_t below = required_[node] - std::min(required_[node], 1U);
      for (const std::uint32_t leaf : best_[node].inputs())
        required_[leaf] = std::min(required_[leaf], below);
    }
  }

  void update_expected() {
    for (std::uint32_t node = 0; node < graph_.size(); ++node) {
      const float seen = static_cast<float>(references_[node]);
      expected_[node] =
          std::max(1.0F, (expectation_weight * expected_[node] + seen) / (expectation_weight + 1));
    }
  }

  Covering extract() const {
    Covering covering;
    for (std::uint32_t node = 1; node < graph_.size(); ++node) {
      if (references_[node] == 0 || !graph_.is_gate(node)) continue;
      covering.nodes.push_back(node);
      covering.first_leaf.push_back(static_cast<std::uint32_t>(covering.leaves.size()));
      const auto inputs = best_[node].inputs();
      covering.leaves.insert(covering.leaves.end(), inputs.begin(), inputs.end());
    }
    covering.first_leaf.push_back(static_cast<std::uint32_t>(covering.leaves.size()));
    covering.levels = root_depth();
    return covering;
  }

  const Graph& graph_;
  unsigned extra_levels_;
  std::vector<CutK> best_;
  std::vector<float> flow_;
  std::vector<float> expected_;
  std::vector<std::uint32_t> depth_;
  std::vector<std::uint32_t> required_;
  std::vector<std::uint32_t> references_;
  std::vector<std::uint32_t> fanouts_;
  std::vector<std::uint32_t> open_fanouts_;
  std::vector<std::uint32_t> set_of_;
  std::deque<SetK> sets_;  // recycled once all readers of a node are done
  std::vector<std::uint32_t> free_sets_;
  std::uint32_t bound_ = 0;
  bool has_best_ = false;
  std::vector<std::uint32_t> trail_;
};

// Most gates of a graph that is covered twice. EPFL: never 151556, always 151115 LUTs in
// 1.6 times the time.
constexpr std::size_t covered_twice = 20000;

template <unsigned K>
Covering best_covering(const Graph& graph, const CoveringGoal& goal) {
  // EPFL: only the first 157310 LUTs, the first two 151734; three by flow 150631, but 0.7 % more levels.
  constexpr std::array size_first = {Pass::depth, Pass::depth_by_flow, Pass::depth_by_flow};
  constexpr std::array flow_first = {Pass::depth_by_flow};
  Covering best = Coverer<K>(graph, goal.extra_levels).run(size_first);
  if (graph.gate_count() > covered_twice || goal.orders == CoveringOrders::first) return best;
  Covering other = Coverer<K>(graph, goal.extra_levels).run(flow_first);
  const bool is_other_better =
      other.levels != best.levels ? other.levels < best.levels : other.nodes.size() < best.nodes.size();
  return is_other_better ? other : best;
}

}  // namespace

Covering cover_graph(const Graph& graph, const CoveringGoal& goal) {
  switch (goal.lut_inputs) {
    case 3:
      return best_covering<3>(graph, goal);
    case 4:
      return best_covering<4>(graph, goal);
    case 5:
      return best_covering<5>(graph, goal);
    case 6:
      return best_covering<6>(graph, goal);
    case 7:
      return best_covering<7>(graph, goal);
    case 8:
      return best_covering<8>(graph, goal);
    default:
      throw std::logic_error("LUTs of 3 to 8 inputs can be covered");
  }
}

}  // namespace portweigh::logic

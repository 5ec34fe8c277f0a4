#include "logic/graph/combinational_view.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <map>
#include <optional>
#include <tuple>

namespace portweigh::logic {
namespace {

constexpr std::uint32_t none = 0xFFFFFFFFU;

struct ChainPlace {
  std::uint32_t chain = none;
  std::uint32_t bit = 0;
};

// Which nodes are sums and carries of the marked adders that are built as adders.
class AdderMap {
 public:
  AdderMap(const Network& network, const CoverOptions& options)
      : network_(network), sums_(network.size()), carries_(network.size()) {
    const bool is_needed =
        options.carry_chain == CarryChain::dedicated || options.adder_form == AdderForm::prefix;
    if (!is_needed) return;
    for (std::uint32_t chain = 0; chain < network.chains().size(); ++chain)
      claim(chain, options.shortest_chain);
  }

  const ChainPlace& sum(std::uint32_t node) const { return sums_[node]; }
  const ChainPlace& carry(std::uint32_t node) const { return carries_[node]; }
  bool is_adder_bit(const ChainPlace& place) const {
    const std::uint32_t node = network_.chains()[place.chain][place.bit].sum.node();
    return sums_[node].chain == place.chain && sums_[node].bit == place.bit;
  }
  // Lowest bit of the unbroken run of adder bits that ends at `place`.
  std::uint32_t first_bit(const ChainPlace& place) const {
    const Chain& chain = network_.chains()[place.chain];
    std::uint32_t bit = place.bit;
    while (bit > 0 && is_adder_bit({place.chain, bit - 1}) &&
           chain[bit].carry_in == chain[bit - 1].carry_out) {
      --bit;
    }
    return bit;
  }

 private:
  static bool is_gate(NodeKind kind) { return kind == NodeKind::and_gate || kind == NodeKind::xor_gate; }

  void claim(std::uint32_t index, unsigned shortest) {
    const Chain& chain = network_.chains()[index];
    std::vector<std::uint32_t> bits;
    for (std::uint32_t bit = 0; bit < chain.size(); ++bit) {
      const std::uint32_t node = chain[bit].sum.node();
      if (is_gate(network_.node(node).kind) && sums_[node].chain == none) bits.push_back(bit);
    }
    if (bits.size() < shortest) return;
    for (const std::uint32_t bit : bits) {
      sums_[chain[bit].sum.node()] = {index, bit};
      const std::uint32_t carry = chain[bit].carry_out.node();
      // The carry of a half adder is one gate: cheaper in a LUT than brought out of the chain.
      const bool is_half_adder = chain[bit].carry_in.node() == 0;
      if (is_gate(network_.node(carry).kind) && carries_[carry].chain == none && !is_half_adder &&
          sums_[carry].chain == none) {
        carries_[carry] = {index, bit};
      }
    }
  }

  const Network& network_;
  std::vector<ChainPlace> sums_;
  std::vector<ChainPlace> carries_;
};

// What a register is known to equal: itself, a constant, or another register's output.
using Substitutes = std::vector<Literal>;  // by register index, literals of the network

class ViewBuilder {
 public:
  ViewBuilder(const Network& network, const CoverOptions& options, const AdderMap& adders,
              const Substitutes& substitutes)
      : network_(network),
        options_(options),
        adders_(adders),
        substitutes_(substitutes),
        is_live_(network.size(), false),
        is_live_memory_(network.memories().size(), false),
        image_(network.size(), constant_false),
        boxes_(network.chains().size()) {}

  CombinationalView build() {
    trace_live();
    view_.graph.reserve(network_.size());
    add_sources();
    for (std::uint32_t node = 1; node < network_.size(); ++node) {
      if (is_live_[node]) build_node(node);
    }
    add_roots();
    return std::move(view_);
  }

 private:
  void need(Literal literal) { need(literal.node()); }
  void need(std::uint32_t node) {
    if (is_live_[node]) return;
    is_live_[node] = true;
    stack_.push_back(node);
  }

  void trace_live() {
    for (const NamedLiteral& output : network_.outputs()) need(output.literal);
    while (!stack_.empty()) {
      const std::uint32_t node = stack_.back();
      stack_.pop_back();
      need_operands(node);
    }
  }

  void need_adder(const ChainPlace& place) {
    const Chain& chain = network_.chains()[place.chain];
    const std::uint32_t first = adders_.first_bit(place);
    for (std::uint32_t bit = first; bit <= place.bit; ++bit) {
      need(chain[bit].a);
      need(chain[bit].b);
    }
    need(chain[first].carry_in);
  }

  void need_operands(std::uint32_t index) {
    const Node& node = network_.node(index);
    if (adders_.sum(index).chain != none) return need_adder(adders_.sum(index));
    if (adders_.carry(index).chain != none) return need_adder(adders_.carry(index));
    if (node.kind == NodeKind::and_gate || node.kind == NodeKind::xor_gate) {
      need(node.fanin0);
      need(node.fanin1);
    } else if (node.kind == NodeKind::register_output) {
      need_register(node.index);
    } else if (node.kind == NodeKind::memory_output && !is_live_memory_[node.index]) {
      is_live_memory_[node.index] = true;
      for (const Literal root : memory_roots(network_.memories()[node.index])) need(root);
    }
  }

  void need_register(std::uint32_t index) {
    const Register& reg = network_.registers()[index];
    if (substitutes_[index].node() != reg.node) return need(substitutes_[index]);
    need(reg.next);
    need(reg.enable);
    need(reg.reset);
  }

  static std::vector<Literal> memory_roots(const Memory& memory) {
    std::vector<Literal> roots;
    for (const MemoryWritePort& port : memory.writes) {
      roots.push_back(port.enable);
      roots.insert(roots.end(), port.address.begin(), port.address.end());
      roots.insert(roots.end(), port.data.begin(), port.data.end());
    }
    for (const MemoryReadPort& port : memory.reads) {
      roots.insert(roots.end(), port.address.begin(), port.address.end());
    }
    return roots;
  }

  bool is_own_source(std::uint32_t node) const {
    const Node& source = network_.node(node);
    if (source.kind == NodeKind::input || source.kind == NodeKind::memory_output) return true;
    return source.kind == NodeKind::register_output && substitutes_[source.index].node() == node;
  }

  void add_sources() {
    for (std::uint32_t node = 1; node < network_.size(); ++node) {
      if (!is_live_[node] || !is_own_source(node)) continue;
      image_[node] = view_.graph.add_source();
      view_.source_nodes.push_back(node);
    }
    for (const Register& reg : network_.registers()) {
      const Literal substitute = substitutes_[network_.node(reg.node).index];
      if (is_live_[reg.node] && substitute.node() != reg.node) image_[reg.node] = mapped(substitute);
    }
  }

  Literal mapped(Literal literal) const {
    return image_[literal.node()].complement_if(literal.is_complemented());
  }

  void build_node(std::uint32_t index) {
    const Node& node = network_.node(index);
    if (node.kind != NodeKind::and_gate && node.kind != NodeKind::xor_gate) return;
    const ChainPlace& sum = adders_.sum(index);
    const ChainPlace& carry = adders_.carry(index);
    if (sum.chain != none) {
      const Literal own = network_.chains()[sum.chain][sum.bit].sum;
      image_[index] = adder_sum(sum).complement_if(own.is_complemented());
    } else if (carry.chain != none) {
      const Literal own = network_.chains()[carry.chain][carry.bit].carry_out;
      image_[index] = adder_carry(carry).complement_if(own.is_complemented());
    } else if (node.kind == NodeKind::and_gate) {
      image_[index] = make_and_or_xor(view_.graph, mapped(node.fanin0), mapped(node.fanin1));
    } else {
      image_[index] = view_.graph.make_xor(mapped(node.fanin0), mapped(node.fanin1));
    }
  }

  Literal adder_sum(const ChainPlace& place) {
    if (options_.carry_chain == CarryChain::dedicated) return {box_at(place).sum, false};
    const ChainBit& bit = network_.chains()[place.chain][place.bit];
    const Literal propagate = view_.graph.make_xor(mapped(bit.a), mapped(bit.b));
    return view_.graph.make_xor(propagate, prefix_carry(place.chain, adders_.first_bit(place), place.bit));
  }

  Literal adder_carry(const ChainPlace& place) {
    if (options_.carry_chain == CarryChain::dedicated) return {box_at(place).carry, false};
    return prefix_carry(place.chain, adders_.first_bit(place), place.bit + 1);
  }

  // The box of an adder bit; those below it in its run are made first.
  const Graph::Box& box_at(const ChainPlace& place) {
    std::vector<std::uint32_t>& boxes = boxes_[place.chain];
    const Chain& chain = network_.chains()[place.chain];
    boxes.resize(chain.size(), none);
    const std::uint32_t first = adders_.first_bit(place);
    for (std::uint32_t bit = first; bit <= place.bit; ++bit) {
      if (boxes[bit] != none) continue;
      const bool continues = bit != first;
      const Literal carry_in =
          continues ? Literal(view_.graph.boxes()[boxes[bit - 1]].carry, false) : mapped(chain[bit].carry_in);
      boxes[bit] = static_cast<std::uint32_t>(view_.graph.boxes().size());
      view_.graph.add_box(mapped(chain[bit].a), mapped(chain[bit].b), carry_in, continues);
    }
    return view_.graph.boxes()[boxes[place.bit]];
  }

  struct Group {
    Literal generate;
    Literal propagate;
  };

  Group combine(const Group& high, const Group& low) {
    Graph& graph = view_.graph;
    return {graph.make_or(high.generate, graph.make_and(high.propagate, low.generate)),
            graph.make_and(high.propagate, low.propagate)};
  }

  // Generate and propagate of `count` (a power of two) bits from `from` upwards.
  Group group(std::uint32_t chain, std::uint32_t from, std::uint32_t count) {
    if (count == 1) {
      const ChainBit& bit = network_.chains()[chain][from];
      return {view_.graph.make_and(mapped(bit.a), mapped(bit.b)),
              view_.graph.make_xor(mapped(bit.a), mapped(bit.b))};
    }
    return combine(group(chain, from + count / 2, count / 2), group(chain, from, count / 2));
  }

  // Carry into bit `to` of the run that starts at `first`, by aligned blocks (Brent-Kung).
  Literal prefix_carry(std::uint32_t chain, std::uint32_t first, std::uint32_t to) {
    const Literal carry_in = mapped(network_.chains()[chain][first].carry_in);
    std::optional<Group> prefix;
    std::uint32_t from = first;
    while (from < to) {
      const std::uint32_t count = std::bit_floor(to - from);
      const Group block = group(chain, from, count);
      prefix = prefix ? combine(block, *prefix) : block;
      from += count;
    }
    if (!prefix) return carry_in;
    return view_.graph.make_or(prefix->generate, view_.graph.make_and(prefix->propagate, carry_in));
  }

  std::uint32_t add_root(Literal literal) { return add_graph_root(mapped(literal)); }

  std::uint32_t add_graph_root(Literal literal) {
    view_.graph.add_root(literal);
    return static_cast<std::uint32_t>(view_.graph.roots().size() - 1);
  }

  // Next value with enable and reset made of logic.
  Literal plain_next(const Register& reg) {
    const Literal held = view_.graph.make_mux(mapped(reg.enable), mapped(reg.next), image_[reg.node]);
    return view_.graph.make_mux(mapped(reg.reset), constant_false.complement_if(reg.reset_value), held);
  }

  void add_roots() {
    for (const NamedLiteral& output : network_.outputs()) add_root(output.literal);
    for (std::uint32_t i = 0; i < network_.registers().size(); ++i) {
      const Register& reg = network_.registers()[i];
      if (!is_live_[reg.node] || substitutes_[i].node() != reg.node) continue;
      CombinationalView::RegisterRoots roots{i, reg.reset_value, 0, 0, 0};
      if (options_.register_style == RegisterStyle::plain) {
        roots.next = add_graph_root(plain_next(reg));
        roots.enable = add_graph_root(constant_true);
        roots.reset = add_graph_root(constant_false);
      } else {
        roots.next = add_root(reg.next);
        roots.enable = add_root(reg.enable);
        roots.reset = add_root(reg.reset);
      }
      view_.registers.push_back(roots);
    }
    for (std::uint32_t i = 0; i < network_.memories().size(); ++i) {
      if (!is_live_memory_[i]) continue;
      const auto first = static_cast<std::uint32_t>(view_.graph.roots().size());
      const std::vector<Literal> roots = memory_roots(network_.memories()[i]);
      for (const Literal root : roots) add_root(root);
      view_.memories.push_back({i, first, static_cast<std::uint32_t>(roots.size())});
    }
  }

  const Network& network_;
  const CoverOptions& options_;
  const AdderMap& adders_;
  const Substitutes& substitutes_;
  std::vector<bool> is_live_;
  std::vector<bool> is_live_memory_;
  std::vector<Literal> image_;
  std::vector<std::vector<std::uint32_t>> boxes_;
  std::vector<std::uint32_t> stack_;
  CombinationalView view_;
};

// Constants and duplicates among the registers of a view; true if a substitute was found.
bool find_substitutes(const Network& network, const CombinationalView& view, Substitutes& substitutes) {
  bool has_found = false;
  std::map<std::tuple<Literal, Literal, Literal, bool>, std::uint32_t> seen;
  std::vector<Literal> outputs(network.size(), constant_false);
  for (std::size_t i = 0; i < view.source_nodes.size(); ++i) {
    outputs[view.source_nodes[i]] = Literal(view.graph.sources()[i], false);
  }
  for (const CombinationalView::RegisterRoots& roots : view.registers) {
    const std::uint32_t node = network.registers()[roots.index].node;
    const Literal next = view.graph.roots()[roots.next];
    const Literal enable = view.graph.roots()[roots.enable];
    const Literal reset = view.graph.roots()[roots.reset];
    const Literal initial = constant_false.complement_if(roots.reset_value);
    if (next == initial || next == outputs[node] || enable == constant_false || reset == constant_true) {
      substitutes[roots.index] = initial;
      has_found = true;
      continue;
    }
    const auto [entry, is_new] = seen.try_emplace({next, enable, reset, roots.reset_value}, node);
    if (is_new) continue;
    substitutes[roots.index] = Literal(entry->second, false);
    has_found = true;
  }
  return has_found;
}

}  // namespace

CombinationalView combinational_view(const Network& network, const CoverOptions& options) {
  const AdderMap adders(network, options);
  Substitutes substitutes;
  for (const Register& reg : network.registers()) substitutes.emplace_back(reg.node, false);
  while (true) {
    CombinationalView view = ViewBuilder(network, options, adders, substitutes).build();
    if (find_substitutes(network, view, substitutes)) continue;
    view.graph = cleaned(view.graph);
    return view;
  }
}

}  // namespace portweigh::logic

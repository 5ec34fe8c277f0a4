#include "logic/graph/combinational_view.hpp"

#include <map>
#include <tuple>

namespace portweigh::logic {
namespace {

constexpr std::uint32_t none = 0xFFFFFFFFU;

struct ChainPlace {
  std::uint32_t chain = none;
  std::uint32_t bit = 0;
  bool is_carry = false;
};

// Which nodes are sums and carries of the marked adders that become boxes.
class AdderMap {
 public:
  AdderMap(const Network& network, const ViewOptions& options) : network_(network), places_(network.size()) {
    if (options.carry_chain == CarryChain::none) return;
    for (std::uint32_t chain = 0; chain < network.chains().size(); ++chain) {
      claim(chain, options.shortest_chain);
    }
  }

  const ChainPlace& place(std::uint32_t node) const { return places_[node]; }
  const ChainBit& bit(const ChainPlace& place) const { return network_.chains()[place.chain][place.bit]; }
  // Lowest bit of the unbroken run of adder bits that ends at `place`.
  std::uint32_t first_bit(const ChainPlace& place) const {
    const Chain& chain = network_.chains()[place.chain];
    std::uint32_t bit = place.bit;
    while (bit > 0 && is_adder_bit(place.chain, bit - 1) && chain[bit].carry_in == chain[bit - 1].carry_out) {
      --bit;
    }
    return bit;
  }

 private:
  bool is_sum(std::uint32_t node) const { return places_[node].chain != none && !places_[node].is_carry; }
  bool is_adder_bit(std::uint32_t chain, std::uint32_t bit) const {
    const std::uint32_t node = network_.chains()[chain][bit].sum.node();
    return is_sum(node) && places_[node].chain == chain && places_[node].bit == bit;
  }

  void claim(std::uint32_t index, unsigned shortest) {
    const Chain& chain = network_.chains()[index];
    std::vector<std::uint32_t> bits;
    for (std::uint32_t bit = 0; bit < chain.size(); ++bit) {
      const std::uint32_t node = chain[bit].sum.node();
      if (network_.is_gate(node) && !is_sum(node)) bits.push_back(bit);
    }
    if (bits.size() < shortest) return;
    for (const std::uint32_t bit : bits) {
      places_[chain[bit].sum.node()] = {index, bit, false};
      const std::uint32_t carry = chain[bit].carry_out.node();
      // The carry of a half adder is one gate: cheaper in a LUT than brought out of the chain.
      const bool is_half_adder = chain[bit].carry_in.node() == 0;
      if (network_.is_gate(carry) && places_[carry].chain == none && !is_half_adder) {
        places_[carry] = {index, bit, true};
      }
    }
  }

  const Network& network_;
  std::vector<ChainPlace> places_;  // by node
};

// What a register is known to equal: itself, a constant, or another register's output.
using Substitutes = std::vector<Literal>;  // by register index, literals of the network

class ViewBuilder {
 public:
  ViewBuilder(const Network& network, const ViewOptions& options, const AdderMap& adders,
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
    if (adders_.place(index).chain != none) return need_adder(adders_.place(index));
    const NodeKind kind = network_.kind(index);
    if (network_.is_gate(index)) {
      need(network_.fanin0(index));
      need(network_.fanin1(index));
    } else if (kind == NodeKind::register_output) {
      need_register(network_.source_index(index));
    } else if (kind == NodeKind::memory_output && !is_live_memory_[network_.source_index(index)]) {
      const std::uint32_t memory = network_.source_index(index);
      is_live_memory_[memory] = true;
      for (const Literal root : memory_roots(network_.memories()[memory])) need(root);
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
    const NodeKind kind = network_.kind(node);
    if (kind == NodeKind::input || kind == NodeKind::memory_output) return true;
    return kind == NodeKind::register_output && substitutes_[network_.source_index(node)].node() == node;
  }

  void add_sources() {
    for (std::uint32_t node = 1; node < network_.size(); ++node) {
      if (!is_live_[node] || !is_own_source(node)) continue;
      image_[node] = view_.graph.add_source();
      view_.source_nodes.push_back(node);
    }
    for (std::size_t i = 0; i < substitutes_.size(); ++i) {
      const std::uint32_t node = network_.registers()[i].node;
      if (is_live_[node] && substitutes_[i].node() != node) image_[node] = mapped(substitutes_[i]);
    }
  }

  Literal mapped(Literal literal) const { return literal.in(image_); }

  void build_node(std::uint32_t index) {
    if (!network_.is_gate(index)) return;
    const ChainPlace& place = adders_.place(index);
    const Literal a = network_.fanin0(index);
    const Literal b = network_.fanin1(index);
    if (place.chain != none) {
      const ChainBit& bit = adders_.bit(place);
      const Graph::Box& box = box_at(place);
      image_[index] = place.is_carry ? Literal(box.carry, bit.carry_out.is_complemented())
                                     : Literal(box.sum, bit.sum.is_complemented());
    } else if (network_.is_xor(index)) {
      image_[index] = view_.graph.make_xor(mapped(a), mapped(b));
    } else {
      image_[index] = make_and_or_xor(view_.graph, mapped(a), mapped(b));
    }
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

  std::uint32_t add_root(Literal literal) {
    view_.graph.add_root(literal);
    return static_cast<std::uint32_t>(view_.graph.roots().size() - 1);
  }

  // Next value with enable and reset made of logic.
  Literal plain_next(const Register& reg) {
    const Literal held = view_.graph.make_mux(mapped(reg.enable), mapped(reg.next), image_[reg.node]);
    return view_.graph.make_mux(mapped(reg.reset), constant_false.complement_if(reg.reset_value), held);
  }

  void add_roots() {
    const bool is_plain = options_.register_style == RegisterStyle::plain;
    for (const NamedLiteral& output : network_.outputs()) add_root(mapped(output.literal));
    for (std::uint32_t i = 0; i < network_.registers().size(); ++i) {
      const Register& reg = network_.registers()[i];
      if (!is_live_[reg.node] || substitutes_[i].node() != reg.node) continue;
      CombinationalView::RegisterRoots roots{i, reg.reset_value, 0, 0, 0};
      roots.next = add_root(is_plain ? plain_next(reg) : mapped(reg.next));
      roots.enable = add_root(is_plain ? constant_true : mapped(reg.enable));
      roots.reset = add_root(is_plain ? constant_false : mapped(reg.reset));
      view_.registers.push_back(roots);
    }
    for (std::uint32_t i = 0; i < network_.memories().size(); ++i) {
      if (!is_live_memory_[i]) continue;
      const auto first = static_cast<std::uint32_t>(view_.graph.roots().size());
      const std::vector<Literal> roots = memory_roots(network_.memories()[i]);
      for (const Literal root : roots) add_root(mapped(root));
      view_.memories.push_back({i, first, static_cast<std::uint32_t>(roots.size())});
    }
  }

  const Network& network_;
  const ViewOptions& options_;
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

CombinationalView combinational_view(const Network& network, const ViewOptions& options) {
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

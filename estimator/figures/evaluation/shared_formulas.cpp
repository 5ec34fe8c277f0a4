#include "figures/evaluation/shared_formulas.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <map>
#include <tuple>
#include <unordered_map>

#include "figures/evaluation/evaluate.hpp"

namespace portweigh::figures {
namespace {

// What makes a node the same as another.
struct Signature {
  std::uint64_t number = 0;  // bits of the value or exponent
  std::uint32_t operation = 0;
  std::uint32_t detail = 0;
  std::array<std::uint32_t, 3> arguments = {0, 0, 0};

  friend bool operator==(const Signature&, const Signature&) = default;
};

struct SignatureHash {
  std::size_t operator()(const Signature& signature) const {
    std::uint64_t hash = signature.number ^ (std::uint64_t{signature.operation} << 32 | signature.detail);
    for (const std::uint32_t argument : signature.arguments) {
      hash = (std::rotl(hash, 23) ^ argument) * 0x9e3779b97f4a7c15ULL;
    }
    return hash ^ hash >> 29;
  }
};

bool has_order(Operation operation) {
  return operation != Operation::add && operation != Operation::multiply;
}

class Sharing {
 public:
  explicit Sharing(ExactInputs exact_inputs) : exact_inputs_(exact_inputs) {}

  void add(const WantedFigures& wanted) {
    const Ledger& ledger = *wanted.ledger;
    const auto nodes = ledger.nodes();
    const auto needed = needed_nodes(ledger, wanted.figures);
    const auto typical = evaluate_all(ledger);
    const auto inputs = add_inputs(ledger);
    std::vector<std::uint32_t> place(nodes.size());
    for (std::size_t i = 0; i < nodes.size(); ++i) {
      if (needed[i]) place[i] = place_of(ledger, nodes[i], typical[i], inputs, place);
    }
    for (const Figure figure : wanted.figures) result_.wanted.push_back(place[figure.index()]);
  }

  [[nodiscard]] SharedFormulas take() && { return std::move(result_); }

 private:
  std::vector<std::uint32_t> add_inputs(const Ledger& ledger) {
    std::vector<std::uint32_t> numbers;
    for (const Input& input : ledger.inputs()) {
      const Range& range = input.range;
      const auto [entry, is_new] = inputs_.try_emplace({input.key, range.low, range.typical, range.high},
                                                       static_cast<std::uint32_t>(inputs_.size()));
      if (is_new) result_.inputs.push_back({input.key, range});
      numbers.push_back(entry->second);
    }
    return numbers;
  }

  std::uint32_t place_of(const Ledger& ledger, const Node& node, double typical,
                         const std::vector<std::uint32_t>& inputs, const std::vector<std::uint32_t>& place) {
    if (node.operation == Operation::same) return place[node.arguments[0]];
    Node shared = node;
    bool is_fixed = node.operation != Operation::input;
    for (std::size_t k = 0; k < node.argument_count; ++k) {
      shared.arguments[k] = place[node.arguments[k]];
      is_fixed = is_fixed && result_.nodes[shared.arguments[k]].operation == Operation::constant;
    }
    if (node.operation == Operation::input) {
      shared.detail = inputs[node.detail];
      const Range& range = result_.inputs[shared.detail].range;
      is_fixed = exact_inputs_ == ExactInputs::stay && range.low == range.high;
    }
    if (is_fixed) return intern(constant(typical));
    if (node.operation == Operation::lookup) shared.detail = table_number(ledger.tables()[node.detail]);
    if (!has_order(node.operation) && shared.arguments[0] > shared.arguments[1]) {
      std::swap(shared.arguments[0], shared.arguments[1]);
    }
    return intern(shared);
  }

  static Node constant(double value) {
    Node node;
    node.operation = Operation::constant;
    node.number = value;
    return node;
  }

  std::uint32_t table_number(const LookupTable& table) {
    const auto found = std::find(result_.tables.begin(), result_.tables.end(), table);
    if (found != result_.tables.end()) return static_cast<std::uint32_t>(found - result_.tables.begin());
    result_.tables.push_back(table);
    return static_cast<std::uint32_t>(result_.tables.size() - 1);
  }

  std::uint32_t intern(const Node& node) {
    Signature signature{std::bit_cast<std::uint64_t>(node.number),
                        static_cast<std::uint32_t>(node.operation),
                        node.detail,
                        {}};
    std::copy_n(node.arguments, node.argument_count, signature.arguments.begin());
    const auto [entry, is_new] =
        places_.try_emplace(signature, static_cast<std::uint32_t>(result_.nodes.size()));
    if (is_new) result_.nodes.push_back(node);
    return entry->second;
  }

  ExactInputs exact_inputs_;
  SharedFormulas result_;
  std::map<std::tuple<std::string, double, double, double>, std::uint32_t> inputs_;
  std::unordered_map<Signature, std::uint32_t, SignatureHash> places_;
};

}  // namespace

SharedFormulas share_formulas(std::span<const WantedFigures> wanted, ExactInputs exact_inputs) {
  Sharing sharing(exact_inputs);
  for (const WantedFigures& of_one : wanted) sharing.add(of_one);
  return std::move(sharing).take();
}

}  // namespace portweigh::figures

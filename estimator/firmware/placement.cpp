#include "firmware/placement.hpp"

#include <algorithm>
#include <bit>
#include <cmath>
#include <functional>
#include <utility>

#include "firmware/reaching.hpp"

namespace portweigh::firmware {

namespace {

unsigned binary_bound(const Program& program, const Node& node) {
  const unsigned a = bit_bound(program, node.left);
  const unsigned b = bit_bound(program, node.right);
  switch (node.op) {
    case Operator::add:
      return std::min(33U, std::max(a, b) + 1U);
    case Operator::multiply:
      return std::min(33U, a + b);
    case Operator::bit_and:
      return std::min(a, b);
    case Operator::bit_or:
    case Operator::bit_xor:
      return std::max(a, b);
    default:
      return 33;
  }
}

// Shifts first bring a negative or overflowing operand back to its type.
unsigned shift_bound(const Program& program, const Node& node) {
  const unsigned a = std::min(bit_bound(program, node.left), bits_of(node.type));
  const Node& count = program.nodes[node.right];
  const bool is_left = node.op == Operator::shift_left;
  if (count.op != Operator::constant) return is_left ? 33U : a;
  if (is_left) return std::min(33U, a + count.value);
  return a > count.value ? a - count.value : 1U;
}

}  // namespace

unsigned bit_bound(const Program& program, NodeId id) {
  const Node& node = program.nodes[id];
  switch (node.op) {
    case Operator::constant:
      return std::max(1U, static_cast<unsigned>(std::bit_width(node.value)));
    case Operator::variable:
    case Operator::element:
      return bits_of(node.type);
    case Operator::cast:
      return std::min(bit_bound(program, node.left), bits_of(node.type));
    case Operator::cast_signed:
      return bits_of(node.type);
    case Operator::complement:
      return 33;
    case Operator::select:
      return std::max(bit_bound(program, node.left), bit_bound(program, node.right));
    case Operator::shift_left:
    case Operator::shift_right:
      return shift_bound(program, node);
    case Operator::shift_right_signed:
      return bits_of(node.type);
    case Operator::equal:
    case Operator::not_equal:
    case Operator::less:
    case Operator::less_equal:
    case Operator::less_signed:
    case Operator::less_equal_signed:
    case Operator::logical_and:
    case Operator::logical_or:
      return 1;
    default:
      return binary_bound(program, node);
  }
}

unsigned zero_words(const Program& program, NodeId id, unsigned word_bits) {
  const Node& node = program.nodes[id];
  const unsigned words = (bits_of(node.type) + word_bits - 1) / word_bits;
  const unsigned bound = bit_bound(program, id);
  unsigned mask = 0;
  for (unsigned i = 1; i < words; ++i) {
    if (i * word_bits >= bound) mask |= 1U << i;
  }
  if (node.op == Operator::constant) {
    for (unsigned i = 0; i < words; ++i) {
      const std::uint64_t window = ((std::uint64_t{1} << word_bits) - 1) << (i * word_bits);
      if ((node.value & window) == 0) mask |= 1U << i;
    }
  }
  if (node.op == Operator::bit_and) {
    mask |= zero_words(program, node.left, word_bits) | zero_words(program, node.right, word_bits);
  }
  if (node.op == Operator::bit_or || node.op == Operator::bit_xor) {
    mask |= zero_words(program, node.left, word_bits) & zero_words(program, node.right, word_bits);
  }
  if (node.op == Operator::cast) mask |= zero_words(program, node.left, word_bits) & ((1U << words) - 1U);
  if (node.op == Operator::shift_left && program.nodes[node.right].op == Operator::constant) {
    const unsigned moved = program.nodes[node.right].value / word_bits;
    mask |= moved >= words ? (1U << words) - 1U : (1U << moved) - 1U;
  }
  return mask;
}

namespace {

struct Life {
  std::size_t first = 0;
  std::size_t last = 0;
  double weight = 0;
  bool used = false;
};

// Walks one function in order of its text and notes where each variable and pointer is used.
class Walk {
 public:
  Walk(const Program& program, const Core& core, std::size_t function)
      : program_(program), core_(core), lives_(program.variables.size() + program.structures.size()) {
    for (const auto parameter : program.functions[function].parameters) touch(parameter);
    if (function == 0) {
      for (std::size_t i = 0; i < program.structures.size(); ++i) touch_structure(i);
    }
    block(program.functions[function].body);
    extend_over_loops();
  }

  const std::vector<Life>& lives() const { return lives_; }
  const std::vector<std::size_t>& calls() const { return calls_; }
  std::size_t length() const { return position_ + 1; }

 private:
  void touch(std::size_t slot) {
    Life& life = lives_[slot];
    if (!life.used) life.first = position_;
    life.used = true;
    life.last = position_;
    // Loops turn eight times as often: the bits of a byte, the commonest count in these routines. Chosen.
    life.weight += std::pow(8.0, static_cast<double>(depth_));
  }

  void touch_structure(std::size_t structure) { touch(program_.variables.size() + structure); }

  void expression(NodeId id) {
    if (id == none) return;
    const Node& node = program_.nodes[id];
    // A helper routine rather than an instruction: the core classes take up to 7 cycles or 70 and more.
    const bool is_call = node.op == Operator::multiply && core_[Operation::multiply_8].cycles > 20 &&
                         program_.nodes[node.left].op != Operator::constant &&
                         program_.nodes[node.right].op != Operator::constant;
    if (is_call) calls_.push_back(position_);
    if (node.op == Operator::variable) {
      const auto& info = program_.variables[node.index];
      if (info.storage == Storage::field) touch_structure(info.structure);
      touch(node.index);
    }
    if (node.op == Operator::element) {
      const auto& info = program_.arrays[node.index];
      if (info.storage == Storage::field) touch_structure(info.structure);
    }
    expression(node.choice);
    expression(node.left);
    expression(node.right);
  }

  void block(const Block& statements) {
    for (const auto id : statements) statement(program_.statements[id]);
  }

  void statement(const Statement& s) {
    ++position_;
    const bool is_loop =
        s.kind == StatementKind::loop || s.kind == StatementKind::loop_post || s.kind == StatementKind::count;
    const auto begin = position_;
    if (is_loop) ++depth_;
    expression(s.value);
    expression(s.target);
    for (const auto argument : s.arguments) expression(argument);
    if (s.kind == StatementKind::call) calls_.push_back(position_);
    block(s.first);
    block(s.second);
    for (const auto& one : s.cases) block(one.body);
    if (!is_loop) return;
    ++position_;
    expression(s.value);  // the test is made again at the end of the body
    if (s.kind == StatementKind::count) expression(s.target);
    loops_.emplace_back(begin, position_);
    --depth_;
  }

  // Inner loops were closed first. What is used inside and outside a loop lives through all of it.
  void extend_over_loops() {
    for (const auto& [begin, end] : loops_) {
      for (Life& life : lives_) {
        if (!life.used || life.last < begin || life.first > end) continue;
        if (life.first < begin) life.last = std::max(life.last, end);
      }
    }
  }

  const Program& program_;
  const Core& core_;
  std::vector<Life> lives_;
  std::vector<std::size_t> calls_;
  std::vector<std::pair<std::size_t, std::size_t>> loops_;
  std::size_t position_ = 0;
  std::size_t depth_ = 0;
};

double words_of_slot(const Program& program, const Core& core, std::size_t slot) {
  if (slot >= program.variables.size()) return std::ceil(core.pointer_bits / core.word_bits);
  return std::ceil(bits_of(program.variables[slot].type) / core.word_bits);
}

bool wants_register(const Program& program, std::size_t slot) {
  if (slot >= program.variables.size()) return true;
  const auto storage = program.variables[slot].storage;
  return storage == Storage::local || storage == Storage::parameter;
}

void place_function(const Program& program, const Core& core, std::size_t function, Placement& placement) {
  const Walk walk(program, core, function);
  const auto& lives = walk.lives();
  auto& result = placement.functions[function];
  result.calls = !walk.calls().empty();
  std::vector<std::size_t> slots;
  for (std::size_t slot = 0; slot < lives.size(); ++slot) {
    if (lives[slot].used && wants_register(program, slot)) slots.push_back(slot);
  }
  const auto value_of = [&](std::size_t slot) {
    return lives[slot].weight / words_of_slot(program, core, slot);
  };
  std::stable_sort(slots.begin(), slots.end(),
                   [&](std::size_t a, std::size_t b) { return value_of(a) > value_of(b); });
  std::vector<double> occupied(walk.length(), 0.0);
  const double scratch = 2;  // both operands of a two-operand instruction; chosen
  for (const auto slot : slots) {
    const double words = words_of_slot(program, core, slot);
    const auto [first, last] = std::pair(lives[slot].first, lives[slot].last);
    const auto begin = occupied.begin() + static_cast<std::ptrdiff_t>(first);
    const auto end = occupied.begin() + static_cast<std::ptrdiff_t>(last) + 1;
    const bool is_allowed = slot >= program.variables.size() || !placement.merged[slot];
    const bool fits = is_allowed && *std::max_element(begin, end) + words + scratch <= core.registers;
    if (fits) std::for_each(begin, end, [&](double& count) { count += words; });
    if (!fits) result.spilled_bytes += words * core.word_bits / 8.0;
    if (slot < program.variables.size()) placement.in_register[slot] = fits;
  }
  const double peak = *std::max_element(occupied.begin(), occupied.end());
  result.spare_registers = std::max(0.0, core.registers - peak - scratch);
  double live_across_calls = 0;
  for (const auto call : walk.calls()) {
    double words = 0;
    for (const auto slot : slots) {
      const bool across = lives[slot].first < call && lives[slot].last > call;
      if (across) words += words_of_slot(program, core, slot);
    }
    live_across_calls = std::max(live_across_calls, words);
  }
  result.saved_registers = std::max(live_across_calls, peak + 1 - core.free_registers);
  result.saved_registers = std::max(0.0, result.saved_registers);
}

// Variables whose every assignment is a constant, or themselves plus or minus a constant.
std::vector<bool> find_stepped(const Program& program) {
  std::vector<bool> stepped(program.variables.size(), true);
  for (const auto& statement : program.statements) {
    if (statement.target == none) continue;
    const Node& target = program.nodes[statement.target];
    if (target.op != Operator::variable || statement.kind == StatementKind::count) continue;
    if (statement.kind != StatementKind::assign) {
      stepped[target.index] = false;
      continue;
    }
    const Node& value = program.nodes[statement.value];
    const bool is_step = (value.op == Operator::add || value.op == Operator::subtract) &&
                         program.nodes[value.left].op == Operator::variable &&
                         program.nodes[value.left].index == target.index &&
                         program.nodes[value.right].op == Operator::constant;
    if (!is_step && value.op != Operator::constant) stepped[target.index] = false;
  }
  for (std::size_t i = 0; i < stepped.size(); ++i) {
    if (program.variables[i].storage != Storage::local) stepped[i] = false;
  }
  return stepped;
}

}  // namespace

Placement place_variables(const Program& program, const Core& core) {
  Placement placement;
  placement.in_register.assign(program.variables.size(), true);
  placement.stepped = find_stepped(program);
  auto reaching = find_reaching(program);
  placement.definition = std::move(reaching.definition);
  placement.merged.assign(program.variables.size(), false);
  if (core.operands == Operands::accumulator) placement.merged = std::move(reaching.merged);
  placement.functions.resize(program.functions.size());
  for (std::size_t f = 0; f < program.functions.size(); ++f) place_function(program, core, f, placement);
  return placement;
}

}  // namespace portweigh::firmware

#include <algorithm>
#include <optional>
#include <vector>

#include "firmware/generator.hpp"

// Compilers of memory-operand cores test an element of a constant table that has no more elements than a word
// has bits by its index: compared with the one or two elements that matter, by a range, or by a word of
// answers shifted by the index (one bit a turn on these cores).
namespace portweigh::firmware {

namespace {

// table element [& mask] compared with a constant; a bare value is compared with zero.
struct TableTest {
  std::size_t array = 0;
  std::uint32_t mask = 0xFFFFFFFFU;
  Operator op = Operator::not_equal;
  std::uint32_t constant = 0;

  bool holds(std::uint32_t element) const {
    const auto value = element & mask;
    if (op == Operator::equal) return value == constant;
    if (op == Operator::less) return value < constant;
    if (op == Operator::less_equal) return value <= constant;
    return value != constant;
  }
};

NodeId without_casts(const Program& program, NodeId id) {
  while (program.nodes[id].op == Operator::cast) id = program.nodes[id].left;
  return id;
}

std::optional<TableTest> table_test(const Program& program, const Placement& placement, NodeId id) {
  TableTest test;
  NodeId at = without_casts(program, id);
  const Node& comparison = program.nodes[at];
  if (comparison.op >= Operator::equal && comparison.op <= Operator::less_equal) {
    const Node& right = program.nodes[comparison.right];
    if (right.op != Operator::constant) return std::nullopt;
    test.op = comparison.op;
    test.constant = right.value;
    at = without_casts(program, comparison.left);
  }
  if (program.nodes[at].op == Operator::bit_and) {
    const Node& right = program.nodes[program.nodes[at].right];
    if (right.op != Operator::constant) return std::nullopt;
    test.mask = right.value;
    at = without_casts(program, program.nodes[at].left);
  }
  if (program.nodes[at].op == Operator::variable) {
    const auto definition = placement.definition[at];
    if (definition == none || program.statements[definition].kind != StatementKind::assign)
      return std::nullopt;
    at = without_casts(program, program.statements[definition].value);
  }
  if (program.nodes[at].op != Operator::element) return std::nullopt;
  test.array = program.nodes[at].index;
  return test;
}

}  // namespace

// Emits what sets the flags for the branch.
bool Generator::test_by_index(NodeId id) {
  if (!is_memory()) return false;
  const auto test = table_test(program_, placement_, id);
  if (!test) return false;
  const auto& table = program_.arrays[test->array];
  if (table.storage != Storage::flash || static_cast<double>(table.length) > word_bits_) return false;
  std::vector<std::size_t> holding;
  for (std::size_t i = 0; i < table.length; ++i) {
    if (test->holds(table.values[i])) holding.push_back(i);
  }
  const std::size_t fewer = std::min(holding.size(), table.length - holding.size());
  const bool is_range = !holding.empty() && holding.back() - holding.front() + 1 == holding.size();
  if (fewer == 0) return true;
  if (fewer <= 2) {
    emit(Operation::compare_constant, static_cast<double>(fewer));
    emit(Operation::branch_not_taken, static_cast<double>(fewer) - 1);
  } else if (is_range) {
    emit(Operation::logic, 1);
    emit(Operation::compare_constant, 1);
  } else {
    const double turns = (static_cast<double>(table.length) - 1) / 2;
    emit(Operation::constant, 1);
    emit(Operation::compare, 1);
    emit(Operation::branch_not_taken, 1);
    emit(Operation::move, 1);
    emit(Operation::shift_bit, 2 * turns, 2, now_);  // the carry is cleared first
    emit(Operation::shift_loop, turns, 1, now_);
    emit(Operation::bit_branch, 1);
  }
  return true;
}

}  // namespace portweigh::firmware

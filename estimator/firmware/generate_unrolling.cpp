#include <algorithm>
#include <set>

#include "firmware/generator.hpp"

// Which loops are unrolled in code built for speed, and what is constant in each of their turns.
namespace portweigh::firmware {

// Counters, constants and variables in registers are no operations. An element is its address and its load;
// an index that steps becomes a constant, and so does what it fetches from a table.
double Generator::operations_in(NodeId id) const {
  if (id == none) return 0;
  const Node& n = node(id);
  double own = 1;
  if (n.op == Operator::constant || n.op == Operator::cast) own = 0;
  if (n.op == Operator::variable) own = program_.variables[n.index].storage == Storage::port ? 1 : 0;
  if (n.op == Operator::element) {
    const Node& index = node(n.left);
    const bool is_stepped =
        index.op == Operator::constant || (index.op == Operator::variable && placement_.stepped[index.index]);
    own = !is_stepped ? 2 : program_.arrays[n.index].storage == Storage::flash ? 0 : 1;
  }
  return own + operations_in(n.choice) + operations_in(n.left) + operations_in(n.right);
}

double Generator::operations_in(const Block& body) const {
  double sum = 0;
  for (const auto id : body) {
    const auto& s = program_.statements[id];
    sum += operations_in(s.value);
    for (const auto argument : s.arguments) sum += operations_in(argument);
    const auto storage = s.target != none && node(s.target).op == Operator::variable
                             ? program_.variables[node(s.target).index].storage
                             : Storage::state;
    const bool is_own = storage == Storage::local || storage == Storage::parameter;
    if (!is_own && s.kind == StatementKind::assign) sum += 1;
    if (s.kind != StatementKind::assign) sum += 1;
    const double turns = s.kind == StatementKind::count && unrolls(s) ? node(s.value).value : 1;
    sum += turns * operations_in(s.first) + operations_in(s.second);
    for (const auto& one : s.cases) sum += operations_in(one.body) + 1;
  }
  return sum;
}

bool Generator::unrolls(const Statement& s) const {
  if (is_for_size() || s.kind != StatementKind::count || node(s.value).op != Operator::constant) return false;
  return node(s.value).value * operations_in(s.first) <= core_.unroll_operations;
}

bool Generator::is_unrolled_constant(std::size_t variable) const {
  return std::any_of(loops_.begin(), loops_.end(), [&](const OpenLoop& loop) {
    return loop.is_unrolled && (loop.counter == variable || loop.constants.contains(variable));
  });
}

// Where nested loops are unrolled, an element that nobody writes and whose index the inner loop alone decides
// is fetched in the first outer turn and stays in a register: turns of the outer loops.
double Generator::repeats_of_element(const Node& element) const {
  const bool is_written =
      std::any_of(program_.statements.begin(), program_.statements.end(), [&](const Statement& s) {
        return s.target != none && node(s.target).op == Operator::element &&
               node(s.target).index == element.index;
      });
  const bool are_all =
      std::all_of(loops_.begin(), loops_.end(), [](const OpenLoop& open) { return open.is_unrolled; });
  if (is_written || !are_all || loops_.size() < 2) return 1;
  const Node& index = node(element.left);
  if (index.op == Operator::variable && index.index != loops_.back().counter) return 1;
  double repeats = 1;
  for (std::size_t i = 0; i + 1 < loops_.size(); ++i) repeats *= loops_[i].turns;
  return repeats;
}

// Variables that start from a constant and make the same step in every turn, where all loops around are
// unrolled too.
std::set<std::size_t> Generator::stepped_each_turn(const Statement& loop) const {
  std::set<std::size_t> stepped;
  const bool are_all =
      std::all_of(loops_.begin(), loops_.end(), [](const OpenLoop& open) { return open.is_unrolled; });
  if (!are_all) return stepped;
  for (const auto id : loop.first) {
    const auto& s = program_.statements[id];
    if (s.kind != StatementKind::assign || node(s.target).op != Operator::variable) continue;
    const auto variable = node(s.target).index;
    const auto writes =
        std::count_if(program_.statements.begin(), program_.statements.end(), [&](const auto& other) {
          return other.target != none && node(other.target).op == Operator::variable &&
                 node(other.target).index == variable;
        });
    // One start, one step.
    if (placement_.stepped[variable] && writes == 2) stepped.insert(variable);
  }
  return stepped;
}

// Static variables with an assignment that every turn reaches.
std::set<std::size_t> Generator::written_each_turn(const Block& body) const {
  std::set<std::size_t> written;
  for (const auto id : body) {
    const auto& s = program_.statements[id];
    if (s.target != none && node(s.target).op == Operator::variable) written.insert(node(s.target).index);
  }
  return written;
}

}  // namespace portweigh::firmware

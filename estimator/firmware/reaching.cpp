#include "firmware/reaching.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace portweigh::firmware {

namespace {

class Walk {
 public:
  explicit Walk(const Program& program)
      : program_(program),
        found_{.merged = std::vector<bool>(program.variables.size(), false),
               .definition = std::vector<StatementId>(program.nodes.size(), none)} {
    for (const auto& function : program.functions) {
      Assigned reaching;
      block(function.body, reaching);
    }
  }
  Reaching take() { return std::move(found_); }

 private:
  using Assigned =
      std::map<std::size_t, StatementId>;  // variable -> its one assignment, or `none` for several

  void use(NodeId id, const Assigned& reaching) {
    if (id == none) return;
    const Node& node = program_.nodes[id];
    if (node.op == Operator::variable) {
      const auto found = reaching.find(node.index);
      if (found != reaching.end() && found->second == none) found_.merged[node.index] = true;
      if (found != reaching.end()) found_.definition[id] = found->second;
    }
    use(node.choice, reaching);
    use(node.left, reaching);
    use(node.right, reaching);
  }

  static Assigned joined(const Assigned& a, const Assigned& b) {
    Assigned both = a;
    for (const auto& [variable, at] : b) {
      const auto [found, is_new] = both.emplace(variable, none);
      if (!is_new && found->second != at) found->second = none;
    }
    for (auto& [variable, at] : both) {
      if (!b.contains(variable)) at = none;
    }
    return both;
  }

  // Both assign an element of the same table, so that either stands for the other.
  bool is_same_table(StatementId a, StatementId b) const {
    const auto table_of = [&](StatementId id) -> const Node* {
      if (id == none || program_.statements[id].kind != StatementKind::assign) return nullptr;
      const Node& value = program_.nodes[program_.statements[id].value];
      return value.op == Operator::element ? &value : nullptr;
    };
    const Node* first = table_of(a);
    const Node* second = table_of(b);
    return first != nullptr && second != nullptr && first->index == second->index;
  }

  // False if control does not come out of the end.
  bool block(const Block& statements, Assigned& reaching) {
    return std::all_of(statements.begin(), statements.end(),
                       [&](StatementId id) { return statement(id, reaching); });
  }

  void forget_written(const Block& body, Assigned& reaching) const {
    for (const auto id : body) {
      const auto& s = program_.statements[id];
      if (s.target != none && program_.nodes[s.target].op == Operator::variable &&
          s.kind != StatementKind::count) {
        auto& reached = reaching[program_.nodes[s.target].index];
        if (!is_same_table(reached, id)) reached = none;
      }
      forget_written(s.first, reaching);
      forget_written(s.second, reaching);
      for (const auto& one : s.cases) forget_written(one.body, reaching);
    }
  }

  bool statement(StatementId id, Assigned& reaching) {
    const auto& s = program_.statements[id];
    const bool is_loop =
        s.kind == StatementKind::loop || s.kind == StatementKind::loop_post || s.kind == StatementKind::count;
    if (is_loop) forget_written(s.first, reaching);
    use(s.value, reaching);
    for (const auto argument : s.arguments) use(argument, reaching);
    if (s.target != none) {
      const Node& target = program_.nodes[s.target];
      if (target.op == Operator::element) use(target.left, reaching);
      if (target.op == Operator::variable && s.kind != StatementKind::count) reaching[target.index] = id;
    }
    if (is_loop) {
      auto inside = reaching;
      block(s.first, inside);
      use(s.value, inside);
      return true;
    }
    if (s.kind == StatementKind::branch) {
      auto otherwise = reaching;
      const bool first = block(s.first, reaching);
      const bool second = block(s.second, otherwise);
      if (first && second) reaching = joined(reaching, otherwise);
      if (!first && second) reaching = otherwise;
      return first || second;
    }
    if (s.kind == StatementKind::choose) {
      auto all = reaching;
      block(s.second, all);
      for (const auto& one : s.cases) {
        auto inside = reaching;
        if (block(one.body, inside)) all = joined(all, inside);
      }
      reaching = all;
    }
    return s.kind != StatementKind::leave && s.kind != StatementKind::stop && s.kind != StatementKind::next;
  }

  const Program& program_;
  Reaching found_;
};

}  // namespace

Reaching find_reaching(const Program& program) {
  return Walk(program).take();
}

}  // namespace portweigh::firmware

#include "firmware/routine.hpp"

#include <algorithm>

#include <fmt/core.h>

namespace portweigh::firmware {

namespace {

using NodePointer = std::shared_ptr<const ExpressionNode>;

const Program* common_owner(std::initializer_list<const NodePointer*> nodes) {
  const Program* owner = nullptr;
  for (const auto* node : nodes) {
    if (!*node || !(*node)->owner) continue;
    if (owner && owner != (*node)->owner) throw RoutineError("expression mixes variables of two routines");
    owner = (*node)->owner;
  }
  return owner;
}

Expression make(Operator op, Type type, const Expression& left) {
  auto node = std::make_shared<ExpressionNode>();
  node->op = op;
  node->type = type;
  node->left = left.node();
  node->owner = left.node()->owner;
  return Expression(std::move(node));
}

Expression make(Operator op, Type type, const Expression& left, const Expression& right) {
  auto node = std::make_shared<ExpressionNode>();
  node->op = op;
  node->type = type;
  node->left = left.node();
  node->right = right.node();
  node->owner = common_owner({&node->left, &node->right});
  return Expression(std::move(node));
}

Expression wider(Operator op, const Expression& a, const Expression& b) {
  return make(op, std::max(a.type(), b.type()), a, b);
}

Expression comparison(Operator op, const Expression& a, const Expression& b) {
  return make(op, Type::u8, a, b);
}

}  // namespace

Expression Expression::constant_expression(std::uint32_t value) {
  auto node = std::make_shared<ExpressionNode>();
  node->type = narrowest_type(value);
  node->value = value;
  return Expression(std::move(node));
}

Expression operator+(const Expression& a, const Expression& b) {
  return wider(Operator::add, a, b);
}
Expression operator-(const Expression& a, const Expression& b) {
  return wider(Operator::subtract, a, b);
}
Expression operator*(const Expression& a, const Expression& b) {
  return wider(Operator::multiply, a, b);
}
Expression operator&(const Expression& a, const Expression& b) {
  return wider(Operator::bit_and, a, b);
}
Expression operator|(const Expression& a, const Expression& b) {
  return wider(Operator::bit_or, a, b);
}
Expression operator^(const Expression& a, const Expression& b) {
  return wider(Operator::bit_xor, a, b);
}
Expression operator~(const Expression& a) {
  return make(Operator::complement, a.type(), a);
}

Expression operator<<(const Expression& a, const Expression& count) {
  return make(Operator::shift_left, a.type(), a, count);
}
Expression operator>>(const Expression& a, const Expression& count) {
  return make(Operator::shift_right, a.type(), a, count);
}
Expression shift_right_signed(const Expression& a, const Expression& count) {
  return make(Operator::shift_right_signed, a.type(), a, count);
}

Expression operator==(const Expression& a, const Expression& b) {
  return comparison(Operator::equal, a, b);
}
Expression operator!=(const Expression& a, const Expression& b) {
  return comparison(Operator::not_equal, a, b);
}
Expression operator<(const Expression& a, const Expression& b) {
  return comparison(Operator::less, a, b);
}
Expression operator<=(const Expression& a, const Expression& b) {
  return comparison(Operator::less_equal, a, b);
}
Expression operator>(const Expression& a, const Expression& b) {
  return b < a;
}
Expression operator>=(const Expression& a, const Expression& b) {
  return b <= a;
}
Expression less_signed(const Expression& a, const Expression& b) {
  return comparison(Operator::less_signed, a, b);
}
Expression less_equal_signed(const Expression& a, const Expression& b) {
  return comparison(Operator::less_equal_signed, a, b);
}
Expression operator&&(const Expression& a, const Expression& b) {
  return comparison(Operator::logical_and, a, b);
}
Expression operator||(const Expression& a, const Expression& b) {
  return comparison(Operator::logical_or, a, b);
}
Expression operator!(const Expression& a) {
  return a == 0;
}

Expression select(const Expression& condition, const Expression& if_true, const Expression& if_false) {
  auto node = std::make_shared<ExpressionNode>();
  node->op = Operator::select;
  node->type = std::max(if_true.type(), if_false.type());
  node->choice = condition.node();
  node->left = if_true.node();
  node->right = if_false.node();
  node->owner = common_owner({&node->choice, &node->left, &node->right});
  return Expression(std::move(node));
}

Expression cast_u8(const Expression& a) {
  return make(Operator::cast, Type::u8, a);
}
Expression cast_u16(const Expression& a) {
  return make(Operator::cast, Type::u16, a);
}
Expression cast_u32(const Expression& a) {
  return make(Operator::cast, Type::u32, a);
}
Expression cast_signed_u16(const Expression& a) {
  return make(Operator::cast_signed, Type::u16, a);
}
Expression cast_signed_u32(const Expression& a) {
  return make(Operator::cast_signed, Type::u32, a);
}

Place Array::operator[](const Expression& index) const {
  auto node = std::make_shared<ExpressionNode>();
  node->op = Operator::element;
  node->type = type_;
  node->index = index_;
  node->left = index.node();
  node->owner = owner_;
  if (index.node()->owner && index.node()->owner != owner_) {
    throw RoutineError("array indexed by an expression of another routine");
  }
  return Place(std::move(node));
}

Counts& Counts::operator+=(const Counts& other) {
  if (statements.empty() && sites.empty()) {
    statements.resize(other.statements.size());
    sites.resize(other.sites.size());
  }
  if (statements.size() != other.statements.size() || sites.size() != other.sites.size()) {
    throw RoutineError("counts of two different routines cannot be added");
  }
  events += other.events;
  runs += other.runs;
  for (std::size_t i = 0; i < statements.size(); ++i) statements[i] += other.statements[i];
  for (std::size_t i = 0; i < sites.size(); ++i) sites[i] += other.sites[i];
  return *this;
}

}  // namespace portweigh::firmware

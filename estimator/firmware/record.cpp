#include <algorithm>
#include <limits>

#include <fmt/core.h>

#include "firmware/routine.hpp"

// The Routine builder: turns declarations and statements into a Program.
namespace portweigh::firmware {

namespace {

void require_new_name(const Program& program, const std::string& name) {
  const auto taken = [&](const auto& list) {
    return std::any_of(list.begin(), list.end(), [&](const auto& entry) { return entry.name == name; });
  };
  if (name.empty() || taken(program.variables) || taken(program.arrays)) {
    throw RoutineError(fmt::format("{}: name '{}' is empty or already taken", program.name, name));
  }
}

std::size_t add_variable(Program& program, VariableInfo info) {
  require_new_name(program, info.name);
  program.variables.push_back(std::move(info));
  return program.variables.size() - 1;
}

std::size_t add_array(Program& program, ArrayInfo info) {
  require_new_name(program, info.name);
  if (info.length == 0) throw RoutineError(fmt::format("{}: array '{}' is empty", program.name, info.name));
  program.arrays.push_back(std::move(info));
  return program.arrays.size() - 1;
}

bool needs_site(const ExpressionNode& node) {
  switch (node.op) {
    case Operator::logical_and:
    case Operator::logical_or:
    case Operator::select:
      return true;
    case Operator::shift_left:
    case Operator::shift_right:
    case Operator::shift_right_signed:
      return node.right->op != Operator::constant;
    default:
      return false;
  }
}

Place place_of(const Program& program, std::size_t index) {
  auto node = std::make_shared<ExpressionNode>();
  node->op = Operator::variable;
  node->type = program.variables[index].type;
  node->index = index;
  node->owner = &program;
  return Place(std::move(node));
}

Place make_field(Program& program, std::size_t structure, const std::string& name, Type type) {
  return place_of(
      program,
      add_variable(program, {.name = name, .type = type, .storage = Storage::field, .structure = structure}));
}

Array make_field_array(Program& program, std::size_t structure, const std::string& name, Type type,
                       std::size_t length) {
  const auto index = add_array(program, {.name = name,
                                         .type = type,
                                         .length = length,
                                         .storage = Storage::field,
                                         .structure = structure,
                                         .values = {}});
  return Array(&program, index, type, length);
}

}  // namespace

Place Structure::field_u8(const std::string& name) const {
  return make_field(*program_, index_, name, Type::u8);
}
Place Structure::field_u16(const std::string& name) const {
  return make_field(*program_, index_, name, Type::u16);
}
Place Structure::field_u32(const std::string& name) const {
  return make_field(*program_, index_, name, Type::u32);
}
Array Structure::array_u8(const std::string& name, std::size_t length) const {
  return make_field_array(*program_, index_, name, Type::u8, length);
}
Array Structure::array_u16(const std::string& name, std::size_t length) const {
  return make_field_array(*program_, index_, name, Type::u16, length);
}
Array Structure::array_u32(const std::string& name, std::size_t length) const {
  return make_field_array(*program_, index_, name, Type::u32, length);
}

Routine::Routine(const std::string& name) : program_(std::make_unique<Program>()) {
  program_->name = name;
  program_->functions.push_back({.name = name, .parameters = {}, .result = {}, .body = {}});
  open_blocks_.emplace_back();
  open_functions_.push_back(0);
}

Place Routine::variable(const std::string& name, Type type, Storage storage) {
  const auto function = open_functions_.back();
  if (storage == Storage::parameter && function != 0) {
    throw RoutineError(fmt::format("{}: parameter '{}' declared inside a subroutine", program_->name, name));
  }
  const auto index = add_variable(
      *program_, {.name = name, .type = type, .storage = storage, .structure = 0, .function = function});
  if (storage == Storage::parameter) program_->functions[0].parameters.push_back(index);
  return place_of(*program_, index);
}

Array Routine::array(const std::string& name, Type type, std::size_t length) {
  const auto index = add_array(*program_, {.name = name,
                                           .type = type,
                                           .length = length,
                                           .storage = Storage::state,
                                           .structure = 0,
                                           .values = {}});
  return Array(program_.get(), index, type, length);
}

Array Routine::table(const std::string& name, Type type, std::vector<std::uint32_t> values) {
  for (const auto value : values) {
    if (value > mask_of(type)) {
      throw RoutineError(fmt::format("{}: table '{}' of {}-bit values holds {}", program_->name, name,
                                     bits_of(type), value));
    }
  }
  const auto length = values.size();
  const auto index = add_array(*program_, {.name = name,
                                           .type = type,
                                           .length = length,
                                           .storage = Storage::flash,
                                           .structure = 0,
                                           .values = std::move(values)});
  return Array(program_.get(), index, type, length);
}

Place Routine::parameter_u8(const std::string& n) {
  return variable(n, Type::u8, Storage::parameter);
}
Place Routine::parameter_u16(const std::string& n) {
  return variable(n, Type::u16, Storage::parameter);
}
Place Routine::parameter_u32(const std::string& n) {
  return variable(n, Type::u32, Storage::parameter);
}
Place Routine::local_u8(const std::string& n) {
  return variable(n, Type::u8, Storage::local);
}
Place Routine::local_u16(const std::string& n) {
  return variable(n, Type::u16, Storage::local);
}
Place Routine::local_u32(const std::string& n) {
  return variable(n, Type::u32, Storage::local);
}
Place Routine::state_u8(const std::string& n) {
  return variable(n, Type::u8, Storage::state);
}
Place Routine::state_u16(const std::string& n) {
  return variable(n, Type::u16, Storage::state);
}
Place Routine::state_u32(const std::string& n) {
  return variable(n, Type::u32, Storage::state);
}
Place Routine::port_u8(const std::string& n) {
  return variable(n, Type::u8, Storage::port);
}
Place Routine::port_u16(const std::string& n) {
  return variable(n, Type::u16, Storage::port);
}
Place Routine::port_u32(const std::string& n) {
  return variable(n, Type::u32, Storage::port);
}
Array Routine::array_u8(const std::string& n, std::size_t length) {
  return array(n, Type::u8, length);
}
Array Routine::array_u16(const std::string& n, std::size_t length) {
  return array(n, Type::u16, length);
}
Array Routine::array_u32(const std::string& n, std::size_t length) {
  return array(n, Type::u32, length);
}
Array Routine::table_u8(const std::string& n, std::vector<std::uint32_t> values) {
  return table(n, Type::u8, std::move(values));
}
Array Routine::table_u16(const std::string& n, std::vector<std::uint32_t> values) {
  return table(n, Type::u16, std::move(values));
}
Array Routine::table_u32(const std::string& n, std::vector<std::uint32_t> values) {
  return table(n, Type::u32, std::move(values));
}

Structure Routine::parameter_structure(const std::string& name) {
  program_->structures.push_back(name);
  return Structure(program_.get(), program_->structures.size() - 1);
}

NodeId Routine::record(const Expression& expression) {
  return record(*expression.node());
}

NodeId Routine::record(const ExpressionNode& node) {
  if (node.owner && node.owner != program_.get()) {
    throw RoutineError(fmt::format("{}: statement uses a variable of another routine", program_->name));
  }
  Node copy{
      .op = node.op, .type = node.type, .value = node.value, .index = static_cast<std::uint32_t>(node.index)};
  if (node.choice) copy.choice = record(*node.choice);
  if (node.left) copy.left = record(*node.left);
  if (node.right) copy.right = record(*node.right);
  if (needs_site(node)) copy.site = program_->sites++;
  program_->nodes.push_back(copy);
  return static_cast<NodeId>(program_->nodes.size() - 1);
}

StatementId Routine::append(Statement statement) {
  program_->statements.push_back(std::move(statement));
  const auto id = static_cast<StatementId>(program_->statements.size() - 1);
  open_blocks_.back().push_back(id);
  if (open_functions_.back() == 0 && open_blocks_.size() == 1) program_->functions[0].body.push_back(id);
  return id;
}

Block Routine::record_block(const Body& body) {
  open_blocks_.emplace_back();
  if (body) body();
  Block block = std::move(open_blocks_.back());
  open_blocks_.pop_back();
  return block;
}

void Routine::set(const Place& place, const Expression& value) {
  const auto& node = *place.node();
  if (node.op == Operator::element && node.owner == program_.get() &&
      program_->arrays[node.index].storage == Storage::flash) {
    throw RoutineError(
        fmt::format("{}: table '{}' cannot be written", program_->name, program_->arrays[node.index].name));
  }
  Statement statement;
  statement.kind = StatementKind::assign;
  statement.value = record(value);
  statement.target = record(place);
  append(std::move(statement));
}

void Routine::if_(const Expression& condition, const Body& then) {
  if_else(condition, then, {});
}

void Routine::if_else(const Expression& condition, const Body& then, const Body& otherwise) {
  Statement statement;
  statement.kind = StatementKind::branch;
  statement.value = record(condition);
  statement.site = program_->sites++;
  statement.first = record_block(then);
  statement.second = record_block(otherwise);
  append(std::move(statement));
}

void Routine::while_(const Expression& condition, const Body& body) {
  Statement statement;
  statement.kind = StatementKind::loop;
  statement.value = record(condition);
  statement.site = program_->sites++;
  statement.first = record_block(body);
  append(std::move(statement));
}

void Routine::do_while(const Body& body, const Expression& condition) {
  Statement statement;
  statement.kind = StatementKind::loop_post;
  statement.value = record(condition);
  statement.site = program_->sites++;
  statement.first = record_block(body);
  append(std::move(statement));
}

void Routine::for_count(const Place& counter, const Expression& bound, const Body& body) {
  if (counter.node()->op != Operator::variable) {
    throw RoutineError(fmt::format("{}: for_count needs a variable", program_->name));
  }
  Statement statement;
  statement.kind = StatementKind::count;
  statement.value = record(bound);
  statement.target = record(counter);
  statement.site = program_->sites++;
  statement.first = record_block(body);
  append(std::move(statement));
}

void Routine::switch_(const Expression& value, const std::vector<SwitchCase>& cases) {
  switch_(value, cases, {});
}

void Routine::switch_(const Expression& value, const std::vector<SwitchCase>& cases, const Body& otherwise) {
  Statement statement;
  statement.kind = StatementKind::choose;
  statement.value = record(value);
  for (const auto& one : cases) {
    const auto same = [&](const Case& earlier) { return earlier.value == one.value; };
    if (std::any_of(statement.cases.begin(), statement.cases.end(), same)) {
      throw RoutineError(fmt::format("{}: switch has case {} twice", program_->name, one.value));
    }
    const auto site = program_->sites++;
    statement.cases.push_back({.value = one.value, .body = record_block(one.body), .site = site});
  }
  statement.second = record_block(otherwise);
  append(std::move(statement));
}

void Routine::break_() {
  Statement statement;
  statement.kind = StatementKind::stop;
  append(std::move(statement));
}

void Routine::continue_() {
  Statement statement;
  statement.kind = StatementKind::next;
  append(std::move(statement));
}

void Routine::return_() {
  Statement statement;
  statement.kind = StatementKind::leave;
  append(std::move(statement));
}

void Routine::return_(const Expression& value) {
  Statement statement;
  statement.kind = StatementKind::leave;
  statement.value = record(value);
  auto& result = program_->functions[open_functions_.back()].result;
  result = std::max(result.value_or(Type::u8), value.type());
  append(std::move(statement));
}

Subroutine Routine::subroutine(const std::string& name, const std::vector<Type>& parameters,
                               const std::function<void(const std::vector<Place>&)>& body) {
  const auto index = program_->functions.size();
  program_->functions.push_back({.name = name, .parameters = {}, .result = {}, .body = {}});
  open_functions_.push_back(index);
  std::vector<Place> places;
  for (std::size_t i = 0; i < parameters.size(); ++i) {
    const auto variable = add_variable(*program_, {.name = fmt::format("{}.{}", name, i),
                                                   .type = parameters[i],
                                                   .storage = Storage::parameter,
                                                   .structure = 0,
                                                   .function = index});
    program_->functions[index].parameters.push_back(variable);
    places.push_back(place_of(*program_, variable));
  }
  auto block = record_block([&] { body(places); });
  program_->functions[index].body = std::move(block);
  open_functions_.pop_back();
  return {index};
}

void Routine::call(const Subroutine& function, const std::vector<Expression>& arguments) {
  Statement statement;
  statement.kind = StatementKind::call;
  statement.function = function.index;
  const auto& called = program_->functions.at(function.index);
  if (function.index == 0 || called.parameters.size() != arguments.size()) {
    throw RoutineError(fmt::format("{}: '{}' takes {} arguments, {} given", program_->name, called.name,
                                   called.parameters.size(), arguments.size()));
  }
  for (const auto& argument : arguments) statement.arguments.push_back(record(argument));
  append(std::move(statement));
}

void Routine::set_call(const Place& place, const Subroutine& function,
                       const std::vector<Expression>& arguments) {
  call(function, arguments);
  auto& statement = program_->statements.back();
  if (!program_->functions[function.index].result) {
    throw RoutineError(
        fmt::format("{}: '{}' returns no value", program_->name, program_->functions[function.index].name));
  }
  statement.target = record(place);
}

}  // namespace portweigh::firmware

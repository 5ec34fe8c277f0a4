#include "firmware/execute.hpp"

#include <algorithm>

#include <fmt/core.h>

namespace portweigh::firmware {

namespace {

std::uint32_t sign_extended(std::uint32_t value, Type type) {
  const auto bits = bits_of(type);
  const std::uint32_t sign = 1U << (bits - 1U);
  return ((value & mask_of(type)) ^ sign) - sign;
}

// a < b as two's complement of 32 bits: flipping the sign bits makes it unsigned.
bool is_less_signed(std::uint32_t a, std::uint32_t b) {
  return (a ^ 0x80000000U) < (b ^ 0x80000000U);
}

std::uint32_t shifted_right_signed(std::uint32_t value, Type type, std::uint32_t count) {
  const auto wide = sign_extended(value, type);
  const bool negative = (wide >> 31U) != 0;
  if (count >= bits_of(type)) return negative ? mask_of(type) : 0U;
  const auto filled = negative ? ~(~wide >> count) : wide >> count;
  return filled & mask_of(type);
}

std::uint32_t combine(const Node& node, std::uint32_t a, std::uint32_t b, Type wider) {
  switch (node.op) {
    case Operator::add:
      return a + b;
    case Operator::subtract:
      return a - b;
    case Operator::multiply:
      return a * b;
    case Operator::bit_and:
      return a & b;
    case Operator::bit_or:
      return a | b;
    case Operator::bit_xor:
      return a ^ b;
    case Operator::shift_left:
      return b >= bits_of(node.type) ? 0U : a << b;
    case Operator::shift_right:
      return b >= bits_of(node.type) ? 0U : a >> b;
    case Operator::shift_right_signed:
      return shifted_right_signed(a, node.type, b);
    case Operator::equal:
      return a == b ? 1U : 0U;
    case Operator::not_equal:
      return a != b ? 1U : 0U;
    case Operator::less:
      return a < b ? 1U : 0U;
    case Operator::less_equal:
      return a <= b ? 1U : 0U;
    case Operator::less_signed:
      return is_less_signed(sign_extended(a, wider), sign_extended(b, wider)) ? 1U : 0U;
    case Operator::less_equal_signed:
      return is_less_signed(sign_extended(b, wider), sign_extended(a, wider)) ? 0U : 1U;
    default:
      throw ExecutionError("operator with two operands expected");
  }
}

}  // namespace

Machine::Machine(const Routine& routine)
    : program_(&routine.program()),
      variables_(program_->variables.size()),
      readers_(program_->variables.size()),
      writers_(program_->variables.size()) {
  for (std::size_t i = 0; i < program_->variables.size(); ++i) {
    variable_names_[program_->variables[i].name] = i;
  }
  for (std::size_t i = 0; i < program_->arrays.size(); ++i) {
    const auto& array = program_->arrays[i];
    array_names_[array.name] = i;
    arrays_.push_back(array.storage == Storage::flash ? array.values
                                                      : std::vector<std::uint32_t>(array.length));
  }
  clear_counts();
}

void Machine::clear_counts() {
  counts_.events = 0;
  counts_.runs = 0;
  counts_.statements.assign(program_->statements.size(), 0);
  counts_.sites.assign(program_->sites, 0);
}

std::size_t Machine::variable_index(std::string_view name) const {
  const auto found = variable_names_.find(name);
  if (found == variable_names_.end()) {
    throw ExecutionError(fmt::format("{}: no variable '{}'", program_->name, name));
  }
  return found->second;
}

std::size_t Machine::array_index(std::string_view name) const {
  const auto found = array_names_.find(name);
  if (found == array_names_.end()) {
    throw ExecutionError(fmt::format("{}: no array '{}'", program_->name, name));
  }
  return found->second;
}

void Machine::set(std::string_view variable, std::uint32_t value) {
  const auto index = variable_index(variable);
  variables_[index] = value & mask_of(program_->variables[index].type);
}

std::uint32_t Machine::get(std::string_view variable) const {
  return variables_[variable_index(variable)];
}

void Machine::fill(std::string_view array, std::span<const std::uint32_t> values) {
  for (std::size_t i = 0; i < values.size(); ++i) set_element(array, i, values[i]);
}

void Machine::set_element(std::string_view array, std::size_t index, std::uint32_t value) {
  const auto which = array_index(array);
  if (index >= arrays_[which].size()) {
    throw ExecutionError(fmt::format("{}: array '{}' has {} elements, {} written", program_->name, array,
                                     arrays_[which].size(), index));
  }
  arrays_[which][index] = value & mask_of(program_->arrays[which].type);
}

std::uint32_t Machine::element(std::string_view array, std::size_t index) const {
  return arrays_[array_index(array)].at(index);
}

const std::vector<std::uint32_t>& Machine::elements(std::string_view array) const {
  return arrays_[array_index(array)];
}

void Machine::on_read(std::string_view port, std::function<std::uint32_t()> source) {
  readers_[variable_index(port)] = std::move(source);
}

void Machine::on_write(std::string_view port, std::function<void(std::uint32_t)> sink) {
  writers_[variable_index(port)] = std::move(sink);
}

std::uint32_t Machine::run(std::initializer_list<std::uint32_t> arguments) {
  return run(std::span<const std::uint32_t>(arguments.begin(), arguments.size()));
}

std::uint32_t Machine::run(std::span<const std::uint32_t> arguments) {
  const auto& parameters = program_->functions[0].parameters;
  if (arguments.size() != parameters.size()) {
    throw ExecutionError(
        fmt::format("{}: takes {} arguments, {} given", program_->name, parameters.size(), arguments.size()));
  }
  for (std::size_t i = 0; i < arguments.size(); ++i) {
    variables_[parameters[i]] = arguments[i] & mask_of(program_->variables[parameters[i]].type);
  }
  result_ = 0;
  budget_ = statement_limit;
  ++counts_.events;
  ++counts_.runs;
  run_block(program_->functions[0].body);
  return result_;
}

std::size_t Machine::checked_index(const Node& node) {
  const std::size_t index = evaluate(node.left);
  if (index >= arrays_[node.index].size()) {
    throw ExecutionError(fmt::format("{}: index {} outside '{}' of {} elements", program_->name, index,
                                     program_->arrays[node.index].name, arrays_[node.index].size()));
  }
  return index;
}

std::uint32_t Machine::evaluate(NodeId id) {
  const Node& node = program_->nodes[id];
  switch (node.op) {
    case Operator::constant:
      return node.value;
    case Operator::variable:
      if (program_->variables[node.index].storage == Storage::port && readers_[node.index]) {
        variables_[node.index] = readers_[node.index]() & mask_of(node.type);
      }
      return variables_[node.index];
    case Operator::element:
      return arrays_[node.index][checked_index(node)];
    case Operator::cast:
      return evaluate(node.left) & mask_of(node.type);
    case Operator::cast_signed:
      return sign_extended(evaluate(node.left), program_->nodes[node.left].type) & mask_of(node.type);
    case Operator::complement:
      return ~evaluate(node.left) & mask_of(node.type);
    case Operator::logical_and:
      if (evaluate(node.left) == 0) return 0;
      ++counts_.sites[node.site];
      return evaluate(node.right) != 0 ? 1U : 0U;
    case Operator::logical_or:
      if (evaluate(node.left) != 0) return 1;
      ++counts_.sites[node.site];
      return evaluate(node.right) != 0 ? 1U : 0U;
    case Operator::select:
      if (evaluate(node.choice) == 0) return evaluate(node.right);
      ++counts_.sites[node.site];
      return evaluate(node.left);
    default:
      return evaluate_binary(node);
  }
}

std::uint32_t Machine::evaluate_binary(const Node& node) {
  const auto a = evaluate(node.left);
  const auto b = evaluate(node.right);
  if (node.site != none) counts_.sites[node.site] += std::min(b, bits_of(node.type));
  const auto wider = std::max(program_->nodes[node.left].type, program_->nodes[node.right].type);
  return combine(node, a, b, wider) & mask_of(node.type);
}

void Machine::assign(const Node& target, std::uint32_t value) {
  value &= mask_of(target.type);
  if (target.op == Operator::element) {
    arrays_[target.index][checked_index(target)] = value;
    return;
  }
  variables_[target.index] = value;
  if (program_->variables[target.index].storage == Storage::port && writers_[target.index]) {
    writers_[target.index](value);
  }
}

Machine::Flow Machine::run_block(const Block& block) {
  for (const auto id : block) {
    const auto flow = run_statement(id);
    if (flow != Flow::normal) return flow;
  }
  return Flow::normal;
}

Machine::Flow Machine::run_statement(StatementId id) {
  const Statement& statement = program_->statements[id];
  ++counts_.statements[id];
  if (budget_-- == 0) throw ExecutionError(fmt::format("{}: event does not end", program_->name));
  switch (statement.kind) {
    case StatementKind::assign:
      assign(program_->nodes[statement.target], evaluate(statement.value));
      return Flow::normal;
    case StatementKind::branch:
      if (evaluate(statement.value) == 0) return run_block(statement.second);
      ++counts_.sites[statement.site];
      return run_block(statement.first);
    case StatementKind::loop:
    case StatementKind::loop_post:
      return run_loop(statement);
    case StatementKind::count:
      return run_count(statement);
    case StatementKind::choose:
      return run_switch(statement);
    case StatementKind::call:
      run_call(statement);
      return Flow::normal;
    case StatementKind::leave:
      result_ = statement.value == none ? 0U : evaluate(statement.value);
      return Flow::leave;
    case StatementKind::stop:
      return Flow::stop;
    case StatementKind::next:
      return Flow::next;
  }
  return Flow::normal;
}

Machine::Flow Machine::run_loop(const Statement& statement) {
  bool is_tested = statement.kind == StatementKind::loop;
  for (;;) {
    if (is_tested) {
      if (evaluate(statement.value) == 0) return Flow::normal;
      ++counts_.sites[statement.site];
    }
    is_tested = true;
    if (budget_-- == 0) throw ExecutionError(fmt::format("{}: event does not end", program_->name));
    const auto flow = run_block(statement.first);
    if (flow == Flow::stop) return Flow::normal;
    if (flow == Flow::leave) return flow;
  }
}

Machine::Flow Machine::run_count(const Statement& statement) {
  const Node& counter = program_->nodes[statement.target];
  const auto bound = evaluate(statement.value);
  for (std::uint32_t i = 0; i < bound; ++i) {
    if (i > mask_of(counter.type)) {
      throw ExecutionError(fmt::format("{}: counter '{}' cannot reach {}", program_->name,
                                       program_->variables[counter.index].name, bound));
    }
    variables_[counter.index] = i;
    ++counts_.sites[statement.site];
    const auto flow = run_block(statement.first);
    if (flow == Flow::stop) return Flow::normal;
    if (flow == Flow::leave) return flow;
  }
  variables_[counter.index] = bound & mask_of(counter.type);
  return Flow::normal;
}

Machine::Flow Machine::run_switch(const Statement& statement) {
  const auto value = evaluate(statement.value);
  const Block* chosen = &statement.second;
  for (const auto& one : statement.cases) {
    if (one.value != value) continue;
    ++counts_.sites[one.site];
    chosen = &one.body;
    break;
  }
  const auto flow = run_block(*chosen);
  return flow == Flow::stop ? Flow::normal : flow;
}

void Machine::run_call(const Statement& statement) {
  const auto& function = program_->functions[statement.function];
  std::vector<std::uint32_t> values;
  values.reserve(statement.arguments.size());
  for (const auto argument : statement.arguments) values.push_back(evaluate(argument));
  for (std::size_t i = 0; i < values.size(); ++i) {
    const auto variable = function.parameters[i];
    variables_[variable] = values[i] & mask_of(program_->variables[variable].type);
  }
  const auto outer_result = result_;
  result_ = 0;
  run_block(function.body);
  const auto value = result_;
  result_ = outer_result;
  if (statement.target != none) assign(program_->nodes[statement.target], value);
}

}  // namespace portweigh::firmware

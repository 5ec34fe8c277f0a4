// The recorded text of a routine: plain data that the interpreter (execute.hpp) runs and the code
// generator model (cost.hpp) reads. Block authors write routines with the builder of routine.hpp and
// need this header only to inspect one.
//
// Numbers are unsigned, 8, 16 or 32 bits wide, and wrap around. An operation is as wide as its wider
// operand; a constant counts as the narrowest type that holds it; a shift is as wide as its left operand;
// a comparison or logical operation gives a u8 of 0 or 1. (C would compute narrow operands in `int`; where
// a sum of bytes must keep its carry, say so with a cast, as one would on an 8-bit core.)
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace portweigh::firmware {

enum class Type : std::uint8_t { u8, u16, u32 };

// Width in bits: 8, 16 or 32.
constexpr unsigned bits_of(Type type) {
  return 8U << static_cast<unsigned>(type);
}
// Width in bytes: 1, 2 or 4.
constexpr unsigned bytes_of(Type type) {
  return bits_of(type) / 8U;
}
// All ones of that width.
constexpr std::uint32_t mask_of(Type type) {
  return type == Type::u32 ? 0xFFFFFFFFU : (1U << bits_of(type)) - 1U;
}
// The narrowest type that holds `value`.
constexpr Type narrowest_type(std::uint32_t value) {
  return value <= 0xFFU ? Type::u8 : value <= 0xFFFFU ? Type::u16 : Type::u32;
}

// Where a variable or array lives, which decides what reading and writing it costs.
enum class Storage : std::uint8_t {
  local,      // a register if one is left, else the stack
  parameter,  // argument of the event or subroutine: arrives in a register
  state,      // static RAM, keeps its value between events
  field,      // reached through a pointer the caller passed: a member of a structure, a caller's array
  flash,      // constant table in program memory (arrays only)
  port,       // register of a peripheral: every read and write really happens (variables only)
};

struct VariableInfo {
  std::string name;
  Type type = Type::u8;
  Storage storage = Storage::local;
  std::size_t structure = 0;  // for fields: which pointer they are reached through
  std::size_t function = 0;   // for locals and parameters: index of the owning function
};

struct ArrayInfo {
  std::string name;
  Type type = Type::u8;
  std::size_t length = 0;  // elements
  Storage storage = Storage::state;
  std::size_t structure = 0;          // for fields: which pointer they are reached through
  std::vector<std::uint32_t> values;  // contents of a flash table; empty otherwise
};

enum class Operator : std::uint8_t {
  constant,
  variable,
  element,  // array[left]
  cast,     // left, truncated or zero-extended to the node's type
  cast_signed,
  complement,
  add,
  subtract,
  multiply,
  bit_and,
  bit_or,
  bit_xor,
  shift_left,
  shift_right,
  shift_right_signed,
  equal,
  not_equal,
  less,
  less_equal,
  less_signed,
  less_equal_signed,
  logical_and,
  logical_or,
  select,  // condition ? left : right
};

struct Program;

// Expression tree as the builder makes it; copied node by node into Program::nodes when a statement uses it.
struct ExpressionNode {
  Operator op = Operator::constant;
  Type type = Type::u8;
  std::uint32_t value = 0;                       // constant
  std::size_t index = 0;                         // variable or array
  std::shared_ptr<const ExpressionNode> left;    // operand, or element index
  std::shared_ptr<const ExpressionNode> right;   // second operand
  std::shared_ptr<const ExpressionNode> choice;  // condition of a select
  const Program* owner = nullptr;                // routine whose variables it names; null for constants
};

using NodeId = std::uint32_t;
using StatementId = std::uint32_t;
using SiteId = std::uint32_t;
inline constexpr std::uint32_t none = 0xFFFFFFFFU;

// One use of an operation in one statement. Each use has its own node, so executions can be counted.
struct Node {
  Operator op = Operator::constant;
  Type type = Type::u8;
  std::uint32_t value = 0;
  std::uint32_t index = 0;
  NodeId left = none;
  NodeId right = none;
  NodeId choice = none;
  // logical_and/or: how often the right side ran; select: how often the left was taken;
  // shift by a variable count: sum of the counts
  SiteId site = none;
};

enum class StatementKind : std::uint8_t {
  assign,     // target = value
  branch,     // if value: first, else second
  loop,       // while value: first
  loop_post,  // do first while value
  count,      // for variable 0 .. value-1: first
  choose,     // switch value
  call,       // [target =] function(arguments)
  leave,      // return [value]
  stop,       // break
  next,       // continue
};

using Block = std::vector<StatementId>;

struct Case {
  std::uint32_t value = 0;
  Block body;
  SiteId site = none;  // how often this case ran
};

struct Statement {
  StatementKind kind = StatementKind::assign;
  NodeId target = none;  // variable or element node
  NodeId value = none;   // right-hand side, condition, bound, selector or result
  Block first;
  Block second;
  std::vector<Case> cases;        // choose; `second` is the default
  std::vector<NodeId> arguments;  // call
  std::size_t function = 0;       // call
  SiteId site = none;             // branch, loops: how often the condition held (count: bodies started)
};

struct Function {
  std::string name;
  std::vector<std::size_t> parameters;  // variables
  std::optional<Type> result;
  Block body;
};

// Function 0 is the event itself; the others are subroutines it calls.
struct Program {
  std::string name;
  std::vector<VariableInfo> variables;
  std::vector<ArrayInfo> arrays;
  std::vector<std::string> structures;  // pointers the caller passes
  std::vector<Node> nodes;
  std::vector<Statement> statements;
  std::vector<Function> functions;
  std::uint32_t sites = 0;
};

// How often each statement and each branch direction ran, summed over `runs` runs of the routine. A run is
// one event unless it serves several (a batch, a message): then `events` is larger, and shares what a run
// costs.
struct Counts {
  std::uint64_t events = 0;
  std::uint64_t runs = 0;
  std::vector<std::uint64_t> statements;  // by StatementId: times reached
  std::vector<std::uint64_t> sites;       // by SiteId: times the branch went the counted way

  // Adds the runs of `other`, of the same routine.
  Counts& operator+=(const Counts& other);
};

}  // namespace portweigh::firmware

// A firmware routine, written once in a small language that reads like C, then executed on real data
// (execute.hpp: right answers, counts of what ran) and costed for a core class (cost.hpp: cycles, bytes).
//
// Example, one byte of a reflected CRC-32 by a byte table:
//
//   Routine r("crc");
//   const auto crc = r.state_u32("crc");                   // static RAM: survives between events
//   const auto table = r.table_u32("table", values);       // flash
//   const auto byte = r.parameter_u8("byte");              // argument of the event
//   const auto index = r.local_u8("index");
//   r.set(index, cast_u8(crc) ^ byte);
//   r.set(crc, (crc >> 8) ^ table[index]);
//
//   Machine machine(r);
//   machine.set("crc", 0xFFFFFFFF);
//   for (const char c : std::string_view("123456789")) machine.run({std::uint8_t(c)});
//   ~machine.get("crc") == 0xCBF43926
//
// Rules of the language: unsigned types that wrap around, an operation is as wide as its wider operand (see
// program.hpp), reading a port or writing one really happens each time. A value used in several
// statements or twice in one should be put in a local, as a compiler would do by itself.
// Throws RoutineError for misuse while building (type of a table, undeclared names, foreign variables).
// Tested by routine_test.cpp.
#pragma once

#include <concepts>
#include <cstdint>
#include <functional>
#include <memory>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "firmware/program.hpp"

namespace portweigh::firmware {

class RoutineError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// A value computed by the routine. Constants convert by themselves and must not be negative.
class Expression {
 public:
  template <std::integral T>
  Expression(T constant) : Expression(make_constant(constant)) {}  // NOLINT(google-explicit-constructor)
  explicit Expression(std::shared_ptr<const ExpressionNode> node) : node_(std::move(node)) {}

  Type type() const { return node_->type; }
  const std::shared_ptr<const ExpressionNode>& node() const { return node_; }

 private:
  template <std::integral T>
  static Expression make_constant(T constant) {
    if (!std::in_range<std::uint32_t>(constant)) throw RoutineError("constants are 0 to 4294967295");
    return constant_expression(static_cast<std::uint32_t>(constant));
  }
  static Expression constant_expression(std::uint32_t value);

  std::shared_ptr<const ExpressionNode> node_;
};

Expression operator+(const Expression& a, const Expression& b);
Expression operator-(const Expression& a, const Expression& b);
// As wide as the wider operand; for a 8 x 8 = 16 product write cast_u16(a) * cast_u16(b) (costed as such).
Expression operator*(const Expression& a, const Expression& b);
Expression operator&(const Expression& a, const Expression& b);
Expression operator|(const Expression& a, const Expression& b);
Expression operator^(const Expression& a, const Expression& b);
Expression operator~(const Expression& a);
// Shifts are as wide as `a`; shifting by the width or more gives 0.
Expression operator<<(const Expression& a, const Expression& count);
Expression operator>>(const Expression& a, const Expression& count);
Expression shift_right_signed(const Expression& a, const Expression& count);
// Comparisons are unsigned and give 0 or 1.
Expression operator==(const Expression& a, const Expression& b);
Expression operator!=(const Expression& a, const Expression& b);
Expression operator<(const Expression& a, const Expression& b);
Expression operator<=(const Expression& a, const Expression& b);
Expression operator>(const Expression& a, const Expression& b);
Expression operator>=(const Expression& a, const Expression& b);
// The same on two's complement, at the width of the wider operand.
Expression less_signed(const Expression& a, const Expression& b);
Expression less_equal_signed(const Expression& a, const Expression& b);
// Short circuit, as in C: the right side runs only if it matters. `!a` is a == 0.
Expression operator&&(const Expression& a, const Expression& b);
Expression operator||(const Expression& a, const Expression& b);
Expression operator!(const Expression& a);
// condition ? if_true : if_false; only the chosen side runs.
Expression select(const Expression& condition, const Expression& if_true, const Expression& if_false);

// Truncation or zero extension.
Expression cast_u8(const Expression& a);
Expression cast_u16(const Expression& a);
Expression cast_u32(const Expression& a);
// Sign extension (truncation if narrower).
Expression cast_signed_u16(const Expression& a);
Expression cast_signed_u32(const Expression& a);

// Something that can be assigned: a variable, an array element, a structure member, a port.
class Place : public Expression {
 public:
  using Expression::Expression;
};

// An array in RAM or a table in flash; `array[index]` reads it, `r.set(array[index], value)` writes it.
class Array {
 public:
  Array(const Program* owner, std::size_t index, Type type, std::size_t length)
      : owner_(owner), index_(index), type_(type), length_(length) {}
  Place operator[](const Expression& index) const;
  Type type() const { return type_; }
  std::size_t length() const { return length_; }

 private:
  const Program* owner_;
  std::size_t index_;
  Type type_;
  std::size_t length_;
};

class Routine;

// Data the caller points at: its RAM is not this routine's, and access goes through a pointer.
class Structure {
 public:
  Place field_u8(const std::string& name) const;
  Place field_u16(const std::string& name) const;
  Place field_u32(const std::string& name) const;
  Array array_u8(const std::string& name, std::size_t length) const;
  Array array_u16(const std::string& name, std::size_t length) const;
  Array array_u32(const std::string& name, std::size_t length) const;

 private:
  friend class Routine;
  Structure(Program* program, std::size_t index) : program_(program), index_(index) {}
  Program* program_;
  std::size_t index_;
};

// A subroutine of this routine; calls cost call, return and argument moves. (For inlined code write a C++
// function that emits the statements.)
struct Subroutine {
  std::size_t index = 0;
};

class Routine {
 public:
  using Body = std::function<void()>;
  struct SwitchCase {
    std::uint32_t value;
    Body body;
  };

  explicit Routine(const std::string& name);

  // Declarations. Names are unique in the routine; RoutineError otherwise.
  Place parameter_u8(const std::string& name);
  Place parameter_u16(const std::string& name);
  Place parameter_u32(const std::string& name);
  Place local_u8(const std::string& name);
  Place local_u16(const std::string& name);
  Place local_u32(const std::string& name);
  Place state_u8(const std::string& name);
  Place state_u16(const std::string& name);
  Place state_u32(const std::string& name);
  Array array_u8(const std::string& name, std::size_t length);
  Array array_u16(const std::string& name, std::size_t length);
  Array array_u32(const std::string& name, std::size_t length);
  Array table_u8(const std::string& name, std::vector<std::uint32_t> values);
  Array table_u16(const std::string& name, std::vector<std::uint32_t> values);
  Array table_u32(const std::string& name, std::vector<std::uint32_t> values);
  // Peripheral registers; in a Machine, connect them with on_read and on_write.
  Place port_u8(const std::string& name);
  Place port_u16(const std::string& name);
  Place port_u32(const std::string& name);
  // A pointer argument.
  Structure parameter_structure(const std::string& name);

  // Statements, appended to the block being written.
  void set(const Place& place, const Expression& value);
  void if_(const Expression& condition, const Body& then);
  void if_else(const Expression& condition, const Body& then, const Body& otherwise);
  void while_(const Expression& condition, const Body& body);
  void do_while(const Body& body, const Expression& condition);
  // for (variable = 0; variable < bound; ++variable); the body must not write `variable` or `bound`.
  void for_count(const Place& variable, const Expression& bound, const Body& body);
  void switch_(const Expression& value, const std::vector<SwitchCase>& cases);
  void switch_(const Expression& value, const std::vector<SwitchCase>& cases, const Body& otherwise);
  // Leaves the innermost loop or switch, as in C; cases of a switch do not fall through and need none.
  void break_();
  void continue_();
  void return_();
  void return_(const Expression& value);

  // Subroutines: `body` receives the parameters and writes statements with this same routine.
  Subroutine subroutine(const std::string& name, const std::vector<Type>& parameters,
                        const std::function<void(const std::vector<Place>&)>& body);
  void call(const Subroutine& function, const std::vector<Expression>& arguments = {});
  // place = function(arguments)
  void set_call(const Place& place, const Subroutine& function,
                const std::vector<Expression>& arguments = {});

  const std::string& name() const { return program_->name; }
  const Program& program() const { return *program_; }

 private:
  Place variable(const std::string& name, Type type, Storage storage);
  Array array(const std::string& name, Type type, std::size_t length);
  Array table(const std::string& name, Type type, std::vector<std::uint32_t> values);
  NodeId record(const Expression& expression);
  NodeId record(const ExpressionNode& node);
  StatementId append(Statement statement);
  Block record_block(const Body& body);

  std::unique_ptr<Program> program_;
  std::vector<Block> open_blocks_;
  std::vector<std::size_t> open_functions_;
};

}  // namespace portweigh::firmware

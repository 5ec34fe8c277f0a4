#include "firmware/core.hpp"

#include <cmath>
#include <stdexcept>

#include <fmt/core.h>

namespace portweigh::firmware {

namespace {

struct OperationText {
  std::string_view name;
  std::string_view text;
};

constexpr std::array<OperationText, operation_count> operation_texts = {{
    {"move", "copy one word between registers, or between the accumulator and a variable"},
    {"logic", "add, subtract, and, or, exclusive-or of one word with a register"},
    {"logic_constant", "and, or of one word with a constant that fits the instruction"},
    {"xor_constant", "exclusive-or of one word with a constant that fits the instruction"},
    {"add_constant", "add or subtract a constant that fits the instruction"},
    {"constant", "load a constant that fits the instruction"},
    {"constant_large", "load a constant that does not fit one instruction"},
    {"extend_byte", "zero-extend 8 bits in a wider word"},
    {"extend_half", "zero-extend 16 bits in a 32-bit word"},
    {"shift_base", "shift instruction on one word, apart from the bits"},
    {"shift_bit", "each bit shifted of one word"},
    {"swap_halves", "exchange the halves of a word"},
    {"shift_loop", "one turn of a shift loop, apart from the shifting"},
    {"compare", "compare one word with a register, or with zero"},
    {"compare_constant", "compare one word with a constant"},
    {"branch_taken", "conditional branch that is taken"},
    {"branch_not_taken", "conditional branch that is not taken"},
    {"jump", "unconditional jump"},
    {"dispatch", "jump through a table of addresses, bounds not included"},
    {"dispatch_size", "the same in code built for size (a support routine is called if it takes longer)"},
    {"bit_branch", "test of one bit before a branch"},
    {"call", "call of a subroutine"},
    {"give_back", "return from a subroutine"},
    {"frame", "entry and exit of a function that saves registers, apart from the registers"},
    {"push", "save one register on the stack"},
    {"pop", "restore one register from the stack"},
    {"load_static", "load one word from a fixed address in RAM"},
    {"store_static", "store one word at a fixed address in RAM"},
    {"load_indirect", "load one word through a pointer, with or without displacement"},
    {"store_indirect", "store one word through a pointer, with or without displacement"},
    {"load_table", "load one word of a table in program memory through a pointer"},
    {"address", "bring the address of a static object into a pointer"},
    {"index", "add an index to a pointer"},
    {"foreign_pointer", "added for each access through a pointer the caller passed"},
    {"port_read", "read one word from a peripheral register"},
    {"port_write", "write one word to a peripheral register"},
    {"port_bit", "set or clear one bit of a peripheral register"},
    {"multiply_8", "multiply 8 by 8 bits, everything included"},
    {"multiply_16", "multiply 16 by 16 bits, everything included"},
    {"multiply_32", "multiply 32 by 32 bits, everything included"},
    {"scale", "double an index to make a byte offset"},
}};

using NumberMember = double Core::*;

CoreField number(std::string key, std::string unit, double lower, double upper, std::string text,
                 NumberMember member) {
  return {std::move(key), std::move(unit), lower, upper, std::move(text), member};
}

void add_operation_fields(std::vector<CoreField>& fields) {
  for (std::size_t i = 0; i < operation_count; ++i) {
    const auto operation = static_cast<Operation>(i);
    const std::string key = fmt::format("operation.{}", name_of(operation));
    fields.push_back({key + ".cycles", "cycle", 0, 2000, fmt::format("{}: cycles", text_of(operation)),
                      CoreField::OperationMember{operation, &OperationCost::cycles}});
    fields.push_back({key + ".bytes", "byte", 0, 64, fmt::format("{}: code bytes", text_of(operation)),
                      CoreField::OperationMember{operation, &OperationCost::bytes}});
  }
}

void add_factor_fields(std::vector<CoreField>& fields, const std::string& table, const std::string& text,
                       FactorRange Core::*range) {
  const auto add = [&](const std::string& name, const std::string& what, double FactorRange::*member) {
    fields.push_back({table + "." + name, "1", 0.1, 10, fmt::format("{}: {}", text, what),
                      CoreField::FactorMember{range, member}});
  };
  add("low", "one in fifty compiled routines is below", &FactorRange::low);
  add("typical", "middle of compiled routines", &FactorRange::typical);
  add("high", "one in fifty compiled routines is above", &FactorRange::high);
}

std::vector<CoreField> make_fields() {
  std::vector<CoreField> fields = {
      number("processor.word_bits", "bit", 8, 32, "register width: 8, 16 or 32", &Core::word_bits),
      number("processor.registers", "1", 1, 128, "words in which a compiler can hold variables",
             &Core::registers),
      number("processor.free_registers", "1", 1, 128, "of these, words used without saving them",
             &Core::free_registers),
      number("processor.pointer_bits", "bit", 8, 32, "width of an address", &Core::pointer_bits),
      number("processor.shift_straight", "1", 0, 64,
             "shifts of n words by single bits stay straight code up to n + this many instructions",
             &Core::shift_straight),
      number("processor.shift_group", "bit", 1, 32, "bits a sequential shifter moves at once",
             &Core::shift_group),
      number("processor.constant_bits", "bit", 1, 32, "constants of up to this many bits fit an instruction",
             &Core::constant_bits),
      number("processor.dispatch_cases", "1", 2, 256,
             "a switch of so many cases or more jumps through a table of addresses", &Core::dispatch_cases),
      number("processor.dispatch_span", "1", 1, 16, "most entries of such a table for each case",
             &Core::dispatch_span),
      number("processor.static_reach", "1", 1, 65535,
             "elements beyond its base that an access to static data reaches directly", &Core::static_reach),
      number("processor.unroll_operations", "1", 0, 10000,
             "built for speed, loops of a constant number of turns are unrolled up to this many turns times "
             "operations; 0 for never",
             &Core::unroll_operations),
  };
  add_operation_fields(fields);
  const std::vector<CoreField> rest = {
      number("helper.multiply_bytes", "byte", 0, 1000, "library code of a multiplication that is a call",
             &Core::multiply_helper_bytes),
      number("helper.shift_bytes", "byte", 0, 1000, "library code of shifts that are calls",
             &Core::shift_helper_bytes),
      number("interrupt.entry_cycles", "cycle", 0, 1000, "from the request to the handler",
             &Core::interrupt_entry_cycles),
      number("interrupt.exit_cycles", "cycle", 0, 1000, "return from the handler",
             &Core::interrupt_exit_cycles),
      number("interrupt.frame_cycles", "cycle", 0, 1000, "registers saved and restored around a handler",
             &Core::interrupt_frame_cycles),
      number("interrupt.frame_bytes", "byte", 0, 1000, "code of that saving and restoring",
             &Core::interrupt_frame_bytes),
      number("interrupt.stack_bytes", "byte", 0, 1000, "stack taken by an interrupt and its frame",
             &Core::interrupt_stack_bytes),
      number("interrupt.wake_up", "s", 0, 1, "from light sleep to the first instruction", &Core::wake_up_s),
      number("flash.zero_wait_clock", "Hz", 1e3, 1e13,
             "highest clock at which instructions come without waits", &Core::zero_wait_clock_hz),
      number("flash.wait_penalty", "1", 0, 10, "part of a cycle lost in each cycle for each wait state",
             &Core::wait_penalty),
  };
  fields.insert(fields.end(), rest.begin(), rest.end());
  add_factor_fields(fields, "compiler.cycles", "cycles of compiled code by model cycles",
                    &Core::compiler_cycles);
  add_factor_fields(fields, "compiler.bytes", "code bytes of compiled code by model bytes",
                    &Core::compiler_bytes);
  return fields;
}

template <class... Visitors>
struct Overloaded : Visitors... {
  using Visitors::operator()...;
};

}  // namespace

std::string_view name_of(Operation operation) {
  return operation_texts.at(static_cast<std::size_t>(operation)).name;
}

std::string_view text_of(Operation operation) {
  return operation_texts.at(static_cast<std::size_t>(operation)).text;
}

double& CoreField::value(Core& core) const {
  return std::visit(
      Overloaded{[&](double Core::*const simple) -> double& { return core.*simple; },
                 [&](const OperationMember& part) -> double& { return core[part.operation].*part.member; },
                 [&](const FactorMember& part) -> double& { return core.*part.range.*part.member; }},
      member);
}

double CoreField::value(const Core& core) const {
  Core copy = core;
  return value(copy);
}

void CoreChoice::assign(Core& core, std::size_t which) const {
  if (which >= names.size()) throw std::out_of_range("choice of a core outside its list");
  std::visit(
      [&](const auto chosen_member) {
        using Kind = std::remove_reference_t<decltype(core.*chosen_member)>;
        core.*chosen_member = static_cast<Kind>(which);
      },
      member);
}

std::size_t CoreChoice::chosen(const Core& core) const {
  return std::visit([&](const auto chosen_member) { return static_cast<std::size_t>(core.*chosen_member); },
                    member);
}

const std::vector<CoreField>& core_fields() {
  static const std::vector<CoreField> fields = make_fields();
  return fields;
}

const std::vector<CoreChoice>& core_choices() {
  static const std::vector<CoreChoice> choices = {
      {"processor.shifter",
       {"one-bit", "sequential", "barrel"},
       "how shifts by several bits are done",
       &Core::shifter},
      {"processor.operands",
       {"two-address", "mixed", "three-address", "memory", "accumulator"},
       "where operands come from and results go",
       &Core::operands},
      {"processor.static_access",
       {"direct", "base"},
       "whether instructions hold the address of a static variable",
       &Core::static_access},
      {"processor.wide_shift",
       {"by-words", "whole"},
       "how compilers shift 32 bits on narrow one-bit shifters",
       &Core::wide_shift},
  };
  return choices;
}

Core built_for(Core core, Goal goal) {
  core.goal = goal;
  return core;
}

double wait_state_stretch(const Core& core, double clock_hz) {
  if (!(clock_hz > 0)) throw std::invalid_argument("clock must be positive");
  const double waits = std::max(0.0, std::ceil(clock_hz / core.zero_wait_clock_hz * (1 - 1e-12)) - 1.0);
  return 1.0 + waits * core.wait_penalty;
}

}  // namespace portweigh::firmware

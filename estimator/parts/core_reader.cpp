#include "parts/core_reader.hpp"

#include <fmt/core.h>

namespace portweigh::parts {
namespace {

using namespace reading;
using firmware::Core;
using firmware::FactorRange;
using firmware::OperationCost;
namespace dims = figures::dimensions;

// A number written plainly, counted in `unit`.
template <class Record>
Field<Record> plain(std::string key, const char* unit, double lower, double upper, const std::string& meaning,
                    double Record::*member) {
  return number(std::move(key), member, lower, upper, fmt::format("{}; {}", meaning, unit));
}

Field<Core> processor() {
  using firmware::Operands;
  using firmware::Shifter;
  using firmware::StaticAccess;
  using firmware::WideShift;
  return section<Core>(
      "processor",
      {choice(
           "shifter", &Core::shifter,
           {{"one-bit", Shifter::one_bit}, {"sequential", Shifter::sequential}, {"barrel", Shifter::barrel}},
           "how shifts by several bits are done"),
       choice("operands", &Core::operands,
              {{"two-address", Operands::two_address},
               {"mixed", Operands::mixed},
               {"three-address", Operands::three_address},
               {"memory", Operands::memory},
               {"accumulator", Operands::accumulator}},
              "where operands come from and results go"),
       choice("static_access", &Core::static_access,
              {{"direct", StaticAccess::direct}, {"base", StaticAccess::base}},
              "whether instructions hold the address of a static variable"),
       choice("wide_shift", &Core::wide_shift,
              {{"by-words", WideShift::by_words}, {"whole", WideShift::whole}},
              "how compilers shift 32 bits on narrow one-bit shifters"),
       plain("word_bits", "bit", 8, 32, "register width: 8, 16 or 32", &Core::word_bits),
       plain("registers", "1", 1, 128, "words in which a compiler can hold variables", &Core::registers),
       plain("free_registers", "1", 1, 128, "of these, words used without saving them",
             &Core::free_registers),
       plain("pointer_bits", "bit", 8, 32, "width of an address", &Core::pointer_bits),
       plain("shift_straight", "1", 0, 64,
             "shifts of n words by single bits stay straight code up to n + this many instructions",
             &Core::shift_straight),
       plain("shift_group", "bit", 1, 32, "bits a sequential shifter moves at once", &Core::shift_group),
       plain("constant_bits", "bit", 1, 32, "constants of up to this many bits fit an instruction",
             &Core::constant_bits),
       plain("dispatch_cases", "1", 2, 256,
             "a switch of so many cases or more jumps through a table of addresses", &Core::dispatch_cases),
       plain("dispatch_span", "1", 1, 16, "most entries of such a table for each case", &Core::dispatch_span),
       plain("static_reach", "1", 1, 65535,
             "elements beyond its base that an access to static data reaches directly", &Core::static_reach),
       plain("unroll_operations", "1", 0, 10000,
             "built for speed, loops of a constant number of turns are unrolled up to this many turns times "
             "operations; 0 for never",
             &Core::unroll_operations)},
      "registers, and what instructions can do with them");
}

Field<Core> operation_field(firmware::Operation operation) {
  const auto meaning = std::string(text_of(operation));
  const Fields<OperationCost> costs = {
      plain("cycles", "cycle", 0, 2000, meaning + ": cycles", &OperationCost::cycles),
      plain("bytes", "byte", 0, 64, meaning + ": code bytes", &OperationCost::bytes)};
  const std::string name(name_of(operation));
  auto read = [name, costs, operation](TableReader& reader, Core& core) {
    auto inner = reader.required_table(name);
    read_record(inner, costs, core[operation]);
  };
  return {{name, meaning, Presence::required, Multiplicity::one, TableShape{infos_of(costs)}},
          std::move(read)};
}

Field<Core> operations() {
  Fields<Core> all;
  for (std::size_t i = 0; i < firmware::operation_count; ++i) {
    all.push_back(operation_field(static_cast<firmware::Operation>(i)));
  }
  return section("operation", std::move(all), "cost of the operations that a routine is translated into");
}

Field<Core> factor(std::string key, FactorRange Core::*member, const std::string& meaning) {
  const Fields<FactorRange> ends = {
      plain("low", "1", 0.1, 10, meaning + ": one in fifty compiled routines is below", &FactorRange::low),
      plain("typical", "1", 0.1, 10, meaning + ": middle of compiled routines", &FactorRange::typical),
      plain("high", "1", 0.1, 10, meaning + ": one in fifty compiled routines is above", &FactorRange::high)};
  FieldInfo info{key, meaning, Presence::required, Multiplicity::one, TableShape{infos_of(ends)}};
  auto read = [key = std::move(key), ends, member](TableReader& reader, Core& core) {
    auto inner = reader.required_table(key);
    read_record(inner, ends, core.*member);
  };
  return {std::move(info), std::move(read)};
}

Fields<Core> list_core_fields() {
  return {
      text("name", &Core::name, "generic class, the same as the file's name"),
      text("text", &Core::text, "one line for people"),
      processor(),
      operations(),
      section<Core>("helper",
                    {plain("multiply_bytes", "byte", 0, 1000,
                           "library code of a multiplication that is a call", &Core::multiply_helper_bytes),
                     plain("shift_bytes", "byte", 0, 1000, "library code of shifts that are calls",
                           &Core::shift_helper_bytes)},
                    "library code, counted once"),
      section<Core>(
          "interrupt",
          {plain("entry_cycles", "cycle", 0, 1000, "from the request to the handler",
                 &Core::interrupt_entry_cycles),
           plain("exit_cycles", "cycle", 0, 1000, "return from the handler", &Core::interrupt_exit_cycles),
           plain("frame_cycles", "cycle", 0, 1000, "registers saved and restored around a handler",
                 &Core::interrupt_frame_cycles),
           plain("frame_bytes", "byte", 0, 1000, "code of that saving and restoring",
                 &Core::interrupt_frame_bytes),
           plain("stack_bytes", "byte", 0, 1000, "stack taken by an interrupt and its frame",
                 &Core::interrupt_stack_bytes),
           quantity("wake_up", &Core::wake_up_s, QuantityRule(dims::time).between(0, 1), "s",
                    "from light sleep to the first instruction; s")},
          "what an interrupt costs beside its routine"),
      section<Core>(
          "flash",
          {quantity("zero_wait_clock", &Core::zero_wait_clock_hz,
                    QuantityRule(dims::frequency).between(1e3, 1e13), "Hz",
                    "highest clock at which instructions come without waits; Hz"),
           plain("wait_penalty", "1", 0, 10, "part of a cycle lost in each cycle for each wait state",
                 &Core::wait_penalty),
           flag("runs_from_ram", &Core::runs_from_ram,
                "instructions can be fetched from RAM, without waits; absent: false", Presence::optional)},
          "program memory"),
      section<Core>("compiler",
                    {factor("cycles", &Core::compiler_cycles, "cycles of compiled code by model cycles"),
                     factor("bytes", &Core::compiler_bytes, "code bytes of compiled code by model bytes")},
                    "compiled code by the translation model")};
}

}  // namespace

const Fields<Core>& core_fields() {
  static const Fields<Core> fields = list_core_fields();
  return fields;
}

Core read_core(TableReader& reader, const std::string& expected_name) {
  Core core;
  read_record(reader, core_fields(), core);
  if (!core.name.empty() && core.name != expected_name) {
    reader.report("name", fmt::format("name \"{}\" differs from the file's name, expected \"{}\"", core.name,
                                      expected_name));
  }
  return core;
}

}  // namespace portweigh::parts

#include "firmware/cost.hpp"

#include <fmt/core.h>
#include <catch2/catch.hpp>

#include "core_fixture.hpp"
#include "firmware/execute.hpp"

using namespace portweigh::firmware;

namespace {

// A core on which every operation takes one cycle and two bytes.
Core plain_core(double word_bits) {
  Core core;
  core.word_bits = word_bits;
  core.registers = 30;
  core.free_registers = 30;
  core.pointer_bits = word_bits;
  core.constant_bits = word_bits;
  core.operands = Operands::three_address;
  for (auto& operation : core.operations) operation = {1, 2};
  return core;
}

double cycles(const Routine& routine, const Core& core, std::initializer_list<std::uint32_t> arguments) {
  Machine machine(routine);
  machine.run(arguments);
  return Translation(routine, core).model_cycles(machine.counts());
}

}  // namespace

TEST_CASE("wide operations cost one operation a word") {
  Routine r("wide");
  const auto a = r.parameter_u32("a");
  const auto b = r.parameter_u32("b");
  const auto c = r.local_u32("c");
  r.set(c, a + b);
  CHECK(cycles(r, plain_core(32), {1, 2}) == 1);
  CHECK(cycles(r, plain_core(16), {1, 2}) == 2);
  CHECK(cycles(r, plain_core(8), {1, 2}) == 4);
}

TEST_CASE("bytes nobody needs and bytes known to be zero cost nothing") {
  Routine r("narrow");
  const auto a = r.parameter_u32("a");
  const auto c = r.local_u8("c");
  r.set(c, cast_u8(a >> 8) & 0x0F);
  const auto core = plain_core(8);
  CHECK(cycles(r, core, {1}) == 1);  // only the mask: byte 1 is at hand
  Routine clear("clear");
  const auto x = clear.parameter_u32("x");
  clear.set(x, x & 0xFF0000FFU);
  CHECK(cycles(clear, core, {1}) == 2);  // two bytes cleared, two left alone
}

TEST_CASE("two-address cores copy a variable that lives on") {
  Routine r("copies");
  const auto a = r.parameter_u8("a");
  const auto b = r.parameter_u8("b");
  const auto c = r.local_u8("c");
  r.set(c, a + b);
  auto core = plain_core(8);
  CHECK(cycles(r, core, {1, 2}) == 1);
  core.operands = Operands::two_address;
  CHECK(cycles(r, core, {1, 2}) == 2);
  Routine in_place("in-place");
  const auto x = in_place.parameter_u8("x");
  const auto y = in_place.parameter_u8("y");
  in_place.set(x, x + y);
  CHECK(cycles(in_place, core, {1, 2}) == 1);
}

TEST_CASE("branches are counted by direction") {
  Routine r("branches");
  const auto a = r.parameter_u8("a");
  const auto hits = r.local_u8("hits");
  r.if_(a == 7, [&] { r.set(hits, 5); });
  auto core = plain_core(8);
  core[Operation::branch_taken].cycles = 10;
  core[Operation::branch_not_taken].cycles = 100;
  CHECK(cycles(r, core, {7}) == 1 + 100 + 1);
  CHECK(cycles(r, core, {8}) == 1 + 10);
}

TEST_CASE("static variables are loaded once and stored each time") {
  Routine r("static");
  const auto s = r.state_u8("s");
  const auto a = r.local_u8("a");
  r.set(a, s + s);
  r.set(s, a);
  r.set(a, s);
  auto core = plain_core(8);
  core[Operation::load_static].cycles = 100;
  core[Operation::store_static].cycles = 1000;
  CHECK(cycles(r, core, {}) == 100 + 1000 + 1 + 1);  // add, move
}

TEST_CASE("shift counts are those that ran") {
  Routine r("shifts");
  const auto a = r.parameter_u8("a");
  const auto n = r.parameter_u8("n");
  r.set(a, a << n);
  auto core = plain_core(8);
  core.shifter = Shifter::one_bit;
  core.operands = Operands::two_address;
  core[Operation::shift_bit].cycles = 100;
  const double once = cycles(r, core, {1, 1});
  CHECK(cycles(r, core, {1, 5}) - once == 4 * 101);
  core.shifter = Shifter::barrel;
  CHECK(cycles(r, core, {1, 5}) == cycles(r, core, {1, 1}));
}

TEST_CASE("memory and constants are those declared") {
  Routine r("memory");
  r.state_u16("a");
  r.state_u32("b");
  r.array_u16("list", 10);
  r.table_u32("table", std::vector<std::uint32_t>(16, 7));
  const auto x = r.parameter_u8("x");
  r.return_(x);
  Machine machine(r);
  machine.run({1});
  const auto result = cost(r, read_core("32-bit-two-stage"), machine.counts());
  CHECK(result.ram_bytes == 2 + 4 + 20);
  CHECK(result.constant_bytes == 64);
  CHECK(result.cycles.low <= result.cycles.typical);
  CHECK(result.cycles.typical <= result.cycles.high);
}

TEST_CASE("counts of another routine are refused") {
  Routine a("a");
  a.return_(1);
  Routine b("b");
  const auto x = b.local_u8("x");
  b.set(x, 1);
  b.set(x, 2);
  Machine machine(b);
  const auto core = plain_core(8);
  CHECK_THROWS_AS(Translation(a, core).cost(machine.counts()), std::invalid_argument);
  CHECK_THROWS_AS(Translation(b, core).cost(machine.counts()), std::invalid_argument);
}

TEST_CASE("variables that do not fit the registers are spilled") {
  Routine r("pressure");
  std::vector<Place> all;
  for (int i = 0; i < 12; ++i) all.push_back(r.local_u32(fmt::format("v{}", i)));
  const auto port = r.port_u32("port");
  for (const auto& v : all) r.set(v, port);
  for (const auto& v : all) r.set(port, v);
  auto core = plain_core(32);
  const double roomy = cycles(r, core, {});
  core.registers = 8;
  CHECK(cycles(r, core, {}) > roomy);
}

TEST_CASE("Events that share a run share all of its cost") {
  Routine r("shared");
  const auto data = r.array_u8("data", 8);
  const auto sum = r.state_u8("sum");
  const auto i = r.local_u8("i");
  r.for_count(i, 8, [&] { r.set(sum, sum + data[i]); });
  Machine machine(r);
  machine.run();
  const Translation translation(r, read_core("8-bit-two-stage"));
  auto counts = machine.counts();
  const double one_run = translation.model_cycles(counts);
  counts.events = 8;
  CHECK(translation.model_cycles(counts) == Approx(one_run / 8));
}

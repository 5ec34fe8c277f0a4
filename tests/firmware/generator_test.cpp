#include "firmware/generator.hpp"

#include <catch2/catch.hpp>

#include "core_fixture.hpp"
#include "firmware/cost.hpp"
#include "firmware/execute.hpp"
#include "firmware/routine.hpp"

using namespace portweigh::firmware;

namespace {

// Operations of one class over the given run, and standing in the code.
struct Tally {
  double ran = 0;
  double stands = 0;
};

Tally tally(const Routine& r, const Core& core, Operation operation,
            std::initializer_list<std::uint32_t> args) {
  Machine machine(r);
  machine.run(args);
  Tally sum;
  for (const auto& instruction : translate(r.program(), core).code) {
    if (instruction.operation != operation) continue;
    sum.ran += instruction.amount * instruction.frequency.evaluate(machine.counts());
    sum.stands += instruction.copies;
  }
  return sum;
}

Routine shift_by_ten() {
  Routine r("shift");
  const auto x = r.parameter_u32("x");
  r.set(x, x >> 10);
  r.return_(x);
  return r;
}

}  // namespace

TEST_CASE("shifts of 32 bits: in a loop over all words, or whole words first") {
  auto core = read_core("8-bit-two-stage");
  const auto r = shift_by_ten();
  core.wide_shift = WideShift::whole;
  CHECK(tally(r, core, Operation::shift_bit, {1}).ran == 40);
  CHECK(tally(r, core, Operation::shift_loop, {1}).ran == 10);
  core.wide_shift = WideShift::by_words;
  CHECK(tally(r, core, Operation::shift_bit, {1}).ran == 6);  // two bits of three bytes
  CHECK(tally(r, read_core("32-bit-two-stage"), Operation::shift_base, {1}).ran == 1);
}

TEST_CASE("a sequential shifter moves groups of bits, then single bits") {
  const auto core = read_core("32-bit-sequential");
  CHECK(tally(shift_by_ten(), core, Operation::shift_bit, {1}).ran == 2 + 2);
}

TEST_CASE("blocks that end alike share their code") {
  Routine r("ends");
  const auto a = r.parameter_u8("a");
  const auto state = r.state_u8("state");
  const auto timer = r.state_u16("timer");
  const auto go = [&](std::uint32_t to, std::uint32_t ticks) {
    r.set(state, to);
    r.set(timer, ticks);
  };
  r.if_else(
      a == 1, [&] { go(3, 40); }, [&] { go(4, 300); });
  const auto stores = tally(r, read_core("8-bit-two-stage"), Operation::store_static, {1});
  CHECK(stores.ran == 3);     // one byte and two, on either way
  CHECK(stores.stands == 3);  // in the code once
}

TEST_CASE("static variables live in registers during a loop") {
  Routine r("promoted");
  const auto sum = r.state_u8("sum");
  const auto i = r.local_u8("i");
  r.for_count(i, 100, [&] { r.set(sum, sum + i); });
  const auto core = read_core("8-bit-two-stage");
  CHECK(tally(r, core, Operation::load_static, {}).ran == 1);
  CHECK(tally(r, core, Operation::store_static, {}).ran == 1);
  Routine called("called");
  const auto total = called.state_u8("total");
  const auto k = called.local_u8("k");
  const auto port = called.port_u8("port");
  const auto send = called.subroutine("send", {}, [&](const auto&) { called.set(port, total); });
  called.for_count(k, 100, [&] {
    called.set(total, total + k);
    called.call(send);
  });
  CHECK(tally(called, core, Operation::store_static, {}).ran == 100);
}

TEST_CASE("a single bit is tested without bringing it down") {
  Routine r("bit");
  const auto x = r.parameter_u32("x");
  const auto hits = r.local_u8("hits");
  r.if_((x & 0x00100000) != 0, [&] { r.set(hits, 1); });
  r.if_(((x >> 20) & 1) != 0, [&] { r.set(hits, 2); });
  const auto core = read_core("8-bit-two-stage");
  CHECK(tally(r, core, Operation::bit_branch, {0x100000}).ran == 2);
  CHECK(tally(r, core, Operation::shift_bit, {0x100000}).ran == 0);
  CHECK(tally(r, core, Operation::logic_constant, {0x100000}).ran == 0);
}

TEST_CASE("the widths of the factors decide how a product is made") {
  const auto product = [](std::uint32_t mask) {
    Routine r("product");
    const auto x = r.parameter_u32("x");
    const auto y = r.parameter_u32("y");
    r.set(x, (x & mask) * (y & mask));
    return r;
  };
  const auto core = read_core("8-bit-two-stage");
  CHECK(tally(product(0xFF), core, Operation::multiply_8, {1, 1}).ran == 1);
  CHECK(tally(product(0xFFFFFF), core, Operation::multiply_32, {1, 1}).ran == 1);
  Routine twice("by-eight");
  const auto z = twice.parameter_u32("z");
  twice.set(z, z * 8);
  CHECK(tally(twice, read_core("32-bit-two-stage"), Operation::multiply_32, {1}).ran == 0);
}

TEST_CASE("loops of few constant turns are unrolled for speed") {
  Routine r("loop");
  const auto x = r.parameter_u16("x");
  const auto turn = r.local_u8("turn");
  r.for_count(turn, 8, [&] { r.set(x, x + x); });
  r.return_(x);
  const auto core = read_core("16-bit-register");
  const auto size = tally(r, built_for(core, Goal::size), Operation::branch_taken, {1});
  CHECK(size.ran == 7);
  CHECK(size.stands == 1);
  CHECK(tally(r, built_for(core, Goal::speed), Operation::branch_taken, {1}).ran == 0);
  const auto unrolled = tally(r, built_for(core, Goal::speed), Operation::logic, {1});
  CHECK(unrolled.ran == 8);
  CHECK(unrolled.stands == 8);
  // A compiler of another class doesn't.
  CHECK(tally(r, built_for(read_core("8-bit-two-stage"), Goal::speed), Operation::branch_taken, {1}).ran ==
        7);
}

TEST_CASE("the middle is the mean of size and speed, its range spans both") {
  Routine r("loop");
  const auto x = r.parameter_u16("x");
  const auto turn = r.local_u8("turn");
  r.for_count(turn, 8, [&] { r.set(x, x + x); });
  r.return_(x);
  Machine machine(r);
  machine.run({1});
  const auto core = read_core("16-bit-register");
  const auto size = cost(r, built_for(core, Goal::size), machine.counts());
  const auto speed = cost(r, built_for(core, Goal::speed), machine.counts());
  const auto middle = cost(r, core, machine.counts());
  CHECK(speed.cycles.typical < size.cycles.typical);
  CHECK(speed.code_bytes.typical > size.code_bytes.typical);
  CHECK(middle.cycles.typical == Approx((size.cycles.typical + speed.cycles.typical) / 2));
  CHECK(middle.code_bytes.typical == Approx((size.code_bytes.typical + speed.code_bytes.typical) / 2));
  CHECK(middle.cycles.low == Approx(speed.cycles.low));
  CHECK(middle.cycles.high == Approx(size.cycles.high));
}

TEST_CASE("a switch built for size calls a support routine where the class has one") {
  Routine r("switch");
  const auto x = r.parameter_u8("x");
  const auto y = r.state_u8("y");
  const auto z = r.state_u8("z");
  std::vector<Routine::SwitchCase> cases;
  for (std::uint32_t i = 0; i < 8; ++i)
    cases.push_back({i, [&r, &y, &z, i] { r.set(i % 2 == 0 ? y : z, i + 1); }});
  r.switch_(x, cases);
  const auto core = read_core("32-bit-two-stage");
  CHECK(tally(r, built_for(core, Goal::size), Operation::dispatch_size, {3}).ran == 1);
  CHECK(tally(r, built_for(core, Goal::size), Operation::push, {3}).ran == 1);  // the return address
  CHECK(tally(r, built_for(core, Goal::speed), Operation::dispatch, {3}).ran == 1);
  CHECK(tally(r, built_for(core, Goal::speed), Operation::push, {3}).ran == 0);
}

TEST_CASE("a product by a constant is made of shifts for speed and called for size") {
  Routine r("product");
  const auto x = r.parameter_u16("x");
  r.return_(cast_u32(x) * 3300);
  const auto core = read_core("32-bit-sequential");
  CHECK(tally(r, built_for(core, Goal::size), Operation::multiply_16, {1}).ran == 1);
  CHECK(tally(r, built_for(core, Goal::speed), Operation::multiply_16, {1}).ran == 0);
}

TEST_CASE("the accumulator keeps in memory what several assignments reach") {
  const auto build = [](std::string_view kind) {
    Routine r("crc");
    const auto x = r.parameter_u8("x");
    const auto y = r.local_u8("y");
    r.set(y, x ^ 5);
    if (kind == "merged") r.if_(x != 0, [&] { r.set(y, y + 1); });
    r.return_(y);
    return r;
  };
  const auto core = read_core("8-bit-accumulator");
  const double once = tally(build("once"), core, Operation::store_static, {0}).ran;
  CHECK(once == 1);  // the parameter
  CHECK(tally(build("merged"), core, Operation::store_static, {0}).ran == 2);
}

TEST_CASE("elements of small tables are tested by their index on memory-operand cores") {
  const auto build = [](std::vector<std::uint32_t> values) {
    Routine r("test");
    const auto x = r.parameter_u8("x");
    const auto table = r.table_u8("table", std::move(values));
    const auto element = r.local_u8("element");
    r.set(element, table[x]);
    r.if_(element != 0, [&] { r.return_(element); });
    r.return_(1);
    return r;
  };
  const auto core = read_core("16-bit-register");
  const auto one = build({0, 0, 7, 0, 0, 0, 0, 0});
  const auto many = build({0, 1, 7, 0, 0, 3, 0, 2});
  CHECK(tally(one, core, Operation::shift_loop, {2}).ran == 0);
  CHECK(tally(many, core, Operation::shift_loop, {2}).ran == 3.5);  // the middle index
  CHECK(tally(many, read_core("32-bit-two-stage"), Operation::shift_loop, {2}).ran == 0);
}

TEST_CASE("static data out of reach of the base take an offset first") {
  const auto build = [](std::size_t length) {
    Routine r("far");
    const auto queue = r.array_u8("queue", length);
    const auto x = r.parameter_u8("x");
    const auto head = r.state_u8("head");
    r.set(queue[0], x);
    r.set(head, x);
    return r;
  };
  const auto core = built_for(read_core("32-bit-two-stage"), Goal::speed);
  CHECK(tally(build(8), core, Operation::constant, {2}).ran == 0);
  CHECK(tally(build(64), core, Operation::constant, {2}).ran == 1);
}

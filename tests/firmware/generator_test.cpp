#include "firmware/generator.hpp"

#include <catch2/catch.hpp>

#include "core_fixture.hpp"
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

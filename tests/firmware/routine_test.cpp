#include "firmware/routine.hpp"

#include <catch2/catch.hpp>

using namespace portweigh::firmware;

TEST_CASE("operations are as wide as their wider operand") {
  Routine r("widths");
  const auto a = r.local_u8("a");
  const auto b = r.local_u16("b");
  const auto c = r.local_u32("c");
  CHECK((a + a).type() == Type::u8);
  CHECK((a + b).type() == Type::u16);
  CHECK((b ^ c).type() == Type::u32);
  CHECK((a + 300).type() == Type::u16);
  CHECK((a << 12).type() == Type::u8);
  CHECK((c == a).type() == Type::u8);
  CHECK(cast_u32(a).type() == Type::u32);
  CHECK(select(a == 1, b, a).type() == Type::u16);
}

TEST_CASE("misuse is refused while building") {
  Routine r("misuse");
  const auto a = r.local_u8("a");
  CHECK_THROWS_AS(r.local_u8("a"), RoutineError);
  CHECK_THROWS_AS(r.table_u8("t", {256}), RoutineError);
  CHECK_THROWS_AS(r.array_u8("empty", 0), RoutineError);
  CHECK_THROWS_AS(a + -1, RoutineError);
  Routine other("other");
  const auto foreign = other.local_u8("x");
  CHECK_THROWS_AS(a + foreign, RoutineError);
  CHECK_THROWS_AS(r.set(a, foreign), RoutineError);
  const auto table = r.table_u8("table", {1, 2});
  CHECK_THROWS_AS(r.set(table[0], 1), RoutineError);
  const auto twice = r.subroutine("twice", {Type::u8}, [&](const auto& p) { r.set(p[0], p[0] + p[0]); });
  CHECK_THROWS_AS(r.call(twice, {}), RoutineError);
  CHECK_THROWS_AS(r.set_call(a, twice, {a}), RoutineError);
  CHECK_THROWS_AS(r.switch_(a, {{1, {}}, {1, {}}}), RoutineError);
}

TEST_CASE("blocks nest as written") {
  Routine r("nest");
  const auto i = r.local_u8("i");
  r.for_count(i, 4, [&] {
    r.if_else(
        i == 2, [&] { r.break_(); }, [&] { r.continue_(); });
  });
  r.return_(i);
  const auto& program = r.program();
  REQUIRE(program.functions[0].body.size() == 2);
  const auto& loop = program.statements[program.functions[0].body[0]];
  CHECK(loop.kind == StatementKind::count);
  REQUIRE(loop.first.size() == 1);
  const auto& branch = program.statements[loop.first[0]];
  CHECK(branch.first.size() == 1);
  CHECK(branch.second.size() == 1);
}

#include "firmware/reaching.hpp"

#include <catch2/catch.hpp>

#include "firmware/routine.hpp"

using namespace portweigh::firmware;

namespace {

std::size_t index_of(const Program& program, const std::string& name) {
  for (std::size_t i = 0; i < program.variables.size(); ++i) {
    if (program.variables[i].name == name) return i;
  }
  throw RoutineError("no such variable");
}

bool is_merged(const Routine& r, const std::string& name) {
  return find_reaching(r.program()).merged[index_of(r.program(), name)];
}

}  // namespace

TEST_CASE("a use behind a branch that assigns is reached by two assignments") {
  Routine r("branch");
  const auto x = r.parameter_u8("x");
  const auto a = r.local_u8("a");
  const auto b = r.local_u8("b");
  const auto c = r.local_u8("c");
  r.set(a, 1);
  r.set(b, 1);
  r.if_(x != 0, [&] { r.set(a, 2); });
  r.if_(x != 1, [&] {
    r.set(b, 2);
    r.return_(b);
  });
  r.set(c, a + b);
  r.set(c, c + 1);  // one after the other is not two at once
  r.return_(c);
  CHECK(is_merged(r, "a"));
  CHECK_FALSE(is_merged(r, "b"));  // the other assignment leaves
  CHECK_FALSE(is_merged(r, "c"));
}

TEST_CASE("a loop brings its own assignments round, its counter aside") {
  Routine r("loop");
  const auto sum = r.local_u8("sum");
  const auto turn = r.local_u8("turn");
  const auto fresh = r.local_u8("fresh");
  r.set(sum, 0);
  r.for_count(turn, 4, [&] {
    r.set(fresh, turn + 1);
    r.set(sum, sum + fresh);
  });
  r.return_(sum);
  CHECK(is_merged(r, "sum"));
  CHECK_FALSE(is_merged(r, "turn"));
  CHECK_FALSE(is_merged(r, "fresh"));
}

TEST_CASE("elements of one table count as one assignment round a loop") {
  Routine r("walk");
  const auto at = r.parameter_u8("at");
  const auto table = r.table_u8("table", {1, 2, 0});
  const auto code = r.local_u8("code");
  r.set(code, table[at]);
  r.while_(code != 0, [&] {
    r.set(at, at + 1);
    r.set(code, table[at]);
  });
  r.return_(at);
  CHECK_FALSE(is_merged(r, "code"));
  CHECK(is_merged(r, "at"));
}

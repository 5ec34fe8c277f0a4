#include "firmware/execute.hpp"

#include <array>
#include <random>
#include <string_view>

#include <catch2/catch.hpp>

using namespace portweigh::firmware;

namespace {

std::vector<std::uint32_t> reflected_table() {
  std::vector<std::uint32_t> table;
  for (std::uint32_t i = 0; i < 256; ++i) {
    std::uint32_t c = i;
    for (int k = 0; k < 8; ++k) c = (c & 1U) ? (c >> 1U) ^ 0xEDB88320U : c >> 1U;
    table.push_back(c);
  }
  return table;
}

}  // namespace

// Check value of CRC-32 over "123456789": catalogue of parametrised CRC algorithms, G. Cook [C].
TEST_CASE("CRC-32 by byte table gives its published check value") {
  Routine r("crc");
  const auto crc = r.state_u32("crc");
  const auto table = r.table_u32("table", reflected_table());
  const auto byte = r.parameter_u8("byte");
  const auto index = r.local_u8("index");
  r.set(index, cast_u8(crc) ^ byte);
  r.set(crc, (crc >> 8) ^ table[index]);
  Machine machine(r);
  machine.set("crc", 0xFFFFFFFFU);
  for (const char c : std::string_view("123456789")) machine.run({static_cast<std::uint8_t>(c)});
  CHECK(~machine.get("crc") == 0xCBF43926U);
  CHECK(machine.counts().events == 9);
  CHECK(machine.counts().statements == std::vector<std::uint64_t>{9, 9});
}

TEST_CASE("CRC-32 bit by bit counts its branches") {
  Routine r("crc-bitwise");
  const auto crc = r.state_u32("crc");
  const auto byte = r.parameter_u8("byte");
  const auto i = r.local_u8("i");
  r.set(crc, crc ^ byte);
  r.for_count(i, 8, [&] {
    r.if_else((crc & 1) != 0, [&] { r.set(crc, (crc >> 1) ^ 0xEDB88320U); }, [&] { r.set(crc, crc >> 1); });
  });
  Machine machine(r);
  machine.set("crc", 0xFFFFFFFFU);
  for (const char c : std::string_view("123456789")) machine.run({static_cast<std::uint8_t>(c)});
  CHECK(~machine.get("crc") == 0xCBF43926U);
  const auto& counts = machine.counts();
  const auto& program = r.program();
  const auto loop_id = program.functions[0].body[1];
  const auto& loop = program.statements[loop_id];
  const auto branch_id = loop.first[0];
  const auto& branch = program.statements[branch_id];
  CHECK(counts.statements[loop_id] == 9);
  CHECK(counts.sites[loop.site] == 72);
  CHECK(counts.statements[branch_id] == 72);
  CHECK(counts.statements[branch.first[0]] == counts.sites[branch.site]);
  CHECK(counts.statements[branch.first[0]] + counts.statements[branch.second[0]] == 72);
}

TEST_CASE("every operator agrees with the machine's own arithmetic") {
  std::mt19937 random(7);
  const auto types = std::array{Type::u8, Type::u16, Type::u32};
  for (const auto type_a : types) {
    for (const auto type_b : types) {
      Routine r("operators");
      const auto declare = [&](const char* name, Type type) {
        return type == Type::u8    ? r.parameter_u8(name)
               : type == Type::u16 ? r.parameter_u16(name)
                                   : r.parameter_u32(name);
      };
      const auto a = declare("a", type_a);
      const auto b = declare("b", type_b);
      const auto out = r.array_u32("out", 20);
      const std::vector<Expression> all = {a + b,
                                           a - b,
                                           a * b,
                                           a & b,
                                           a | b,
                                           a ^ b,
                                           ~a,
                                           a << (b & 7),
                                           a >> (b & 7),
                                           a == b,
                                           a != b,
                                           a<b, a <= b, a>
                                               b,
                                           a >= b,
                                           less_signed(a, b),
                                           shift_right_signed(a, b & 7),
                                           cast_signed_u32(a),
                                           a << 40,
                                           select(a < b, a, b)};
      for (std::size_t i = 0; i < all.size(); ++i) r.set(out[i], all[i]);
      Machine machine(r);
      for (int trial = 0; trial < 200; ++trial) {
        const std::uint32_t x = static_cast<std::uint32_t>(random()) & mask_of(type_a);
        const std::uint32_t y =
            trial % 5 == 0 ? x & mask_of(type_b) : static_cast<std::uint32_t>(random()) & mask_of(type_b);
        machine.run({x, y});
        const auto width = mask_of(std::max(type_a, type_b));
        const auto sign = [](std::uint32_t v, Type t) {
          return t == Type::u8    ? std::int32_t{static_cast<std::int8_t>(v)}
                 : t == Type::u16 ? std::int32_t{static_cast<std::int16_t>(v)}
                                  : static_cast<std::int32_t>(v);
        };
        const auto wider = std::max(type_a, type_b);
        const std::vector<std::uint32_t> expected = {
            (x + y) & width,
            (x - y) & width,
            (x * y) & width,
            x & y,
            x | y,
            x ^ y,
            ~x & mask_of(type_a),
            (x << (y & 7U)) & mask_of(type_a),
            x >> (y & 7U),
            x == y,
            x != y,
            x<y, x <= y, x>
                y,
            x >= y,
            sign(x, wider) < sign(y, wider),
            static_cast<std::uint32_t>(sign(x, type_a) >> (y & 7U)) & mask_of(type_a),
            static_cast<std::uint32_t>(sign(x, type_a)),
            0U,
            x < y ? x : y};
        REQUIRE(machine.elements("out") == expected);
      }
    }
  }
}

TEST_CASE("short circuit runs the right side only if it matters") {
  Routine r("short");
  const auto a = r.parameter_u8("a");
  const auto port = r.port_u8("port");
  const auto hits = r.state_u8("hits");
  r.if_((a == 1) && (port == 7), [&] { r.set(hits, hits + 1); });
  r.if_((a == 1) || (port == 7), [&] { r.set(hits, hits + 16); });
  Machine machine(r);
  int reads = 0;
  machine.on_read("port", [&] {
    ++reads;
    return 7U;
  });
  machine.run({0});
  CHECK(reads == 1);
  CHECK(machine.get("hits") == 16);
  machine.run({1});
  CHECK(reads == 2);
  CHECK(machine.get("hits") == 33);
}

TEST_CASE("loops, switch, calls and ports") {
  Routine r("flow");
  const auto n = r.parameter_u8("n");
  const auto pin = r.port_u8("pin");
  const auto sum = r.local_u16("sum");
  const auto i = r.local_u8("i");
  const auto add_square = r.subroutine("add_square", {Type::u16, Type::u8}, [&](const auto& p) {
    r.return_(p[0] + cast_u16(p[1]) * cast_u16(p[1]));
  });
  r.set(sum, 0);
  r.set(i, 0);
  r.while_(1, [&] {
    r.if_(i == n, [&] { r.break_(); });
    r.set(i, i + 1);
    r.switch_(i & 3, {{0, [&] { r.continue_(); }}, {3, [&] { r.set(pin, i); }}}, [&] {
      r.set_call(sum, add_square, {sum, i});
    });
  });
  r.do_while([&] { r.set(i, i - 1); }, i > 2);
  r.return_(sum + i);
  Machine machine(r);
  std::vector<std::uint32_t> written;
  machine.on_write("pin", [&](std::uint32_t v) { written.push_back(v); });
  // 1, 2, 5, 6, 9, 10 are neither 0 nor 3 modulo 4.
  CHECK(machine.run({10}) == 1 + 4 + 25 + 36 + 81 + 100 + 2);
  CHECK(written == std::vector<std::uint32_t>{3, 7});
}

TEST_CASE("mistakes at run time are reported") {
  Routine r("limits");
  const auto i = r.parameter_u8("i");
  const auto list = r.array_u8("list", 4);
  r.set(list[i], 1);
  Machine machine(r);
  CHECK_NOTHROW(machine.run({3}));
  CHECK_THROWS_AS(machine.run({4}), ExecutionError);
  CHECK_THROWS_AS(machine.run({}), ExecutionError);
  CHECK_THROWS_AS(machine.get("lisst"), ExecutionError);
  Routine endless("endless");
  endless.while_(1, [] {});
  Machine stuck(endless);
  CHECK_THROWS_AS(stuck.run({}), ExecutionError);
}

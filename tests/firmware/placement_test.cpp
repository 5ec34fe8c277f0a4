#include "firmware/placement.hpp"

#include <fmt/core.h>
#include <catch2/catch.hpp>

#include "firmware/routine.hpp"

using namespace portweigh::firmware;

namespace {

// Node of the value of the first statement.
NodeId first_value(const Routine& r) {
  return r.program().statements.front().value;
}

}  // namespace

TEST_CASE("bounds of significant bits") {
  const auto bound = [](const auto& make) {
    Routine r("bound");
    const auto x = r.parameter_u32("x");
    const auto out = r.local_u32("out");
    r.set(out, make(x));
    return bit_bound(r.program(), first_value(r));
  };
  CHECK(bound([](const Place& x) { return x & 0x1F; }) == 5);
  CHECK(bound([](const Place& x) { return (x & 0x1F) + 1; }) == 6);
  CHECK(bound([](const Place& x) { return x >> 27; }) == 5);
  CHECK(bound([](const Place& x) { return (x & 0xFF) * (x & 0xF); }) == 12);
  CHECK(bound([](const Place& x) { return x - 1; }) == 33);
  CHECK(bound([](const Place& x) { return x < 3; }) == 1);
  CHECK(bound([](const Place& x) { return cast_u8(x) ^ 0x100; }) == 9);
}

TEST_CASE("words known to be zero") {
  const auto zero = [](const auto& make, unsigned word_bits) {
    Routine r("zero");
    const auto x = r.parameter_u32("x");
    const auto out = r.local_u32("out");
    r.set(out, make(x));
    return zero_words(r.program(), first_value(r), word_bits);
  };
  CHECK(zero([](const Place& x) { return x & 0xFF00; }, 8) == 0b1101);
  CHECK(zero([](const Place& x) { return x << 16; }, 8) == 0b0011);
  CHECK(zero([](const Place& x) { return x >> 24; }, 8) == 0b1110);
  CHECK(zero([](const Place& x) { return x & 0xFF00; }, 16) == 0b10);
  CHECK(zero([](const Place& x) { return cast_u32(cast_u8(x)) | 0x10000; }, 8) == 0b1010);
  CHECK(zero([](const Place& x) { return x; }, 32) == 0);
}

TEST_CASE("registers go to the variables of inner loops") {
  Routine r("loops");
  std::vector<Place> idle;
  for (int i = 0; i < 4; ++i) idle.push_back(r.local_u32(fmt::format("idle{}", i)));
  const auto busy = r.local_u32("busy");
  const auto i = r.local_u32("i");
  const auto port = r.port_u32("port");
  for (const auto& v : idle) r.set(v, port);
  r.set(busy, 0);
  r.for_count(i, 10, [&] { r.set(busy, busy + 3); });
  for (const auto& v : idle) r.set(port, v);
  r.set(port, busy);
  Core core;
  core.word_bits = 32;
  core.registers = 5;
  core.free_registers = 5;
  const auto placement = place_variables(r.program(), core);
  const auto held = [&](const std::string& name) {
    for (std::size_t k = 0; k < r.program().variables.size(); ++k) {
      if (r.program().variables[k].name == name) return static_cast<bool>(placement.in_register[k]);
    }
    return false;
  };
  CHECK(held("busy"));
  CHECK(held("i"));
  CHECK_FALSE((held("idle0") && held("idle1")));
  CHECK(placement.functions[0].spilled_bytes >= 12);
}

TEST_CASE("what lives across a call is saved") {
  const auto saved = [](bool is_used_after) {
    Routine r("calls");
    const auto a = r.parameter_u32("a");
    const auto port = r.port_u32("port");
    const auto send = r.subroutine("send", {Type::u32}, [&](const auto& p) { r.set(port, p[0]); });
    r.call(send, {a});
    if (is_used_after) r.set(port, a);
    Core core;
    core.word_bits = 32;
    core.registers = 8;
    core.free_registers = 8;
    return place_variables(r.program(), core).functions[0].saved_registers;
  };
  CHECK(saved(false) == 0);
  CHECK(saved(true) == 1);
}

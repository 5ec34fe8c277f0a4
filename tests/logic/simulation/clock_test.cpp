#include "logic/simulation/clock.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <stdexcept>

using namespace portweigh::logic;

namespace {

Timing example() {
  return {.clock_to_output_s = {0.4e-9, 0.5e-9, 0.7e-9},
          .lut_s = {0.3e-9, 0.4e-9, 0.5e-9},
          .routing_s = {0.5e-9, 0.9e-9, 1.4e-9},
          .setup_s = {0.2e-9, 0.3e-9, 0.4e-9},
          .carry_per_bit_s = {0.02e-9, 0.03e-9, 0.05e-9}};
}

}  // namespace

TEST_CASE("path delay is the sum of its parts") {
  // 0.5 + 4 (0.4 + 0.9) + 0.3 ns.
  const Spread delay = path_delay_s(example(), {.levels = 4});
  CHECK(delay.typical == Approx(6.0e-9));
  CHECK(delay.low == Approx(0.4e-9 + 4 * 0.8e-9 + 0.2e-9));
  CHECK(delay.high == Approx(0.7e-9 + 4 * 1.9e-9 + 0.4e-9));
  CHECK(path_delay_s(example(), {.levels = 4, .carry_bits = 10}).typical == Approx(6.3e-9));
  const Spread clock = attainable_clock_hz(delay);
  CHECK(clock.typical == Approx(166.667e6).epsilon(1e-4));
  CHECK(clock.low == Approx(1 / delay.high));
  CHECK(clock.low < clock.typical);
}

TEST_CASE("a register that feeds a register has one connection") {
  CHECK(path_delay_s(example(), {.levels = 0}).typical == Approx(0.5e-9 + 0.9e-9 + 0.3e-9));
}

TEST_CASE("fill and fan-out lengthen the routing only") {
  Timing timing = example();
  timing.fill_slope = 0.5;
  timing.fanout_slope = 0.2;
  const double empty = path_delay_s(timing, {.levels = 3}).typical;
  CHECK(path_delay_s(timing, {.levels = 3, .fill = 1}).typical - empty == Approx(3 * 0.9e-9 * 0.5));
  CHECK(path_delay_s(timing, {.levels = 3, .fanout = 8}).typical - empty == Approx(3 * 0.9e-9 * 0.6));
}

TEST_CASE("slack is what the period leaves") {
  CHECK(required_clock_hz(300e3, 8) == Approx(2.4e6));
  const Spread slack = slack_s({5e-9, 6e-9, 9e-9}, 125e6);
  CHECK(slack.typical == Approx(2e-9));
  CHECK(slack.low == Approx(-1e-9));
}

TEST_CASE("values without meaning are refused") {
  CHECK_THROWS_AS(path_delay_s(example(), {.fill = 1.5}), std::logic_error);
  CHECK_THROWS_AS(path_delay_s(example(), {.fanout = 0}), std::logic_error);
  Timing timing = example();
  timing.lut_s.high = std::nan("");
  CHECK_THROWS_AS(path_delay_s(timing, {.levels = 1}), std::logic_error);
  CHECK_THROWS_AS(attainable_clock_hz({0, 0, 0}), std::logic_error);
}

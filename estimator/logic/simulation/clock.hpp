// Clock estimate of a covered block before placement.
//
//   t = clock_to_output + levels * lut + hops * routing * (1 + fill_slope * fill)
//         * (1 + fanout_slope * log2(fanout)) + carry_bits * carry_per_bit + setup
// with hops = max(levels, 1): even a shift register has one connection between its cells. All times in
// seconds; fill is the used share of the device's cells, 0 to 1; fanout the readers of a typical signal on
// the path, 1 or more. Attainable clock: 1 / t, where the slowest time gives the lowest clock. Example: 0.5
// ns + 4 levels of 0.4 ns LUT and 0.9 ns routing (fill and fan-out slopes 0) + 0.3 ns = 6.0 ns, 166.7 MHz.
//
// Tested by tests/logic/simulation/clock_test.cpp.
#pragma once

namespace portweigh::logic {

// Low, typical and high value of one quantity.
struct Spread {
  double low = 0;
  double typical = 0;
  double high = 0;
};

struct Timing {
  Spread clock_to_output_s = {};
  Spread lut_s = {};
  Spread routing_s = {};  // in an empty device, to one reader
  Spread setup_s = {};
  Spread carry_per_bit_s = {};
  double fill_slope = 0;    // routing at fill 1 is (1 + fill_slope) times that at fill 0
  double fanout_slope = 0;  // more routing for each doubling of the readers
};

struct PathShape {
  unsigned levels = 0;
  unsigned carry_bits = 0;
  double fill = 0;
  double fanout = 1;
};

// Throws std::logic_error for a fill outside 0..1, a fan-out below 1, or negative or non-finite times.
Spread path_delay_s(const Timing& timing, const PathShape& path);
// Low is the clock at the high delay. Throws std::logic_error where the delay isn't positive.
Spread attainable_clock_hz(const Spread& delay_s);
// Least clock for a line at `bit_rate_hz` that is sampled `oversampling` times in a bit.
double required_clock_hz(double bit_rate_hz, double oversampling);
// Time left of one period of `clock_hz`; negative where the path is too slow. Low is the slack at the high
// delay.
Spread slack_s(const Spread& delay_s, double clock_hz);

}  // namespace portweigh::logic

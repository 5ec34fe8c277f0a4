// Line codes in logic: decoders on wires with rate error, jitter, glitches and silence; encoders against the
// levels written out; encoder to decoder.
#include "blocks/line/line_code.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "blocks/line/line_source.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

const std::vector<LineCode> all_codes{LineCode::biphase_mark, LineCode::manchester, LineCode::nrzi,
                                      LineCode::nrz};

std::string random_bits(std::size_t count, std::uint64_t seed, std::size_t longest_run) {
  std::mt19937_64 random(seed);
  std::string bits;
  for (std::size_t i = 0; i < 32; ++i) bits += "01";
  while (bits.size() < count) {
    bits += random() % 2 != 0 ? '1' : '0';
    const bool ends_in_run = bits.ends_with(std::string(longest_run, bits.back()));
    if (ends_in_run) bits += bits.back() == '1' ? '0' : '1';
  }
  return bits;
}

// Levels of the two halves of every bit, by the definitions of the codes.
std::vector<bool> halves_of(LineCode code, const std::string& bits) {
  std::vector<bool> halves;
  bool level = false;
  for (const char bit : bits) {
    const bool one = bit == '1';
    switch (code) {
      case LineCode::biphase_mark:
        halves.push_back(!level);
        halves.push_back(one ? level : !level);
        break;
      case LineCode::manchester:
        halves.push_back(!one);
        halves.push_back(one);
        break;
      case LineCode::nrzi:
        halves.insert(halves.end(), 2, one ? level : !level);
        break;
      case LineCode::nrz:
        halves.insert(halves.end(), 2, one);
        break;
    }
    level = halves.back();
  }
  return halves;
}

struct Wire {
  double samples_per_half = 4;
  double jitter = 0;  // each transition moved by up to this many samples either way
  double phase = 0;   // of the first transition against the sampling clock
};

// Samples of the wire: `quiet` samples of silence around the levels.
std::vector<bool> samples_of(const std::vector<bool>& halves, const Wire& wire, std::size_t quiet,
                             std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::uniform_real_distribution<double> move(-wire.jitter, wire.jitter);
  std::vector<bool> samples(quiet, false);
  bool level = false;
  for (std::size_t i = 0; i < halves.size(); ++i) {
    const double end_of_half =
        static_cast<double>(quiet) + wire.phase + static_cast<double>(i + 1) * wire.samples_per_half;
    const bool has_transition = i + 1 == halves.size() || halves[i + 1] != halves[i];
    level = halves[i];
    const auto end = static_cast<std::size_t>(std::ceil(end_of_half + (has_transition ? move(random) : 0)));
    while (samples.size() < end) samples.push_back(level);
  }
  samples.insert(samples.end(), quiet, level);
  return samples;
}

struct Received {
  std::string bits;
  unsigned violations = 0;
  bool has_carrier_at_end = false;
};

Received decode(LineCode code, unsigned oversampling, const std::vector<bool>& samples) {
  const auto network = line_decoder(code, oversampling);
  const bool has_violation = half_cells(code) == 2;
  logic::Simulator simulator(network, logic::ToggleCounting::off);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  simulator.set("enable", 1);
  Received received;
  for (const bool sample : samples) {
    simulator.set("line", sample);
    simulator.clock();
    if (simulator.value("bit_valid") != 0) received.bits += simulator.value("bit") != 0 ? '1' : '0';
    if (has_violation && simulator.value("violation") != 0) ++received.violations;
  }
  received.has_carrier_at_end = simulator.value("carrier") != 0;
  return received;
}

// Everything but what the receiver may lose of the preamble while it locks.
bool has_payload(const Received& received, const std::string& bits) {
  return received.bits.find(bits.substr(8)) != std::string::npos;
}

void check_wire(LineCode code, unsigned oversampling, const Wire& wire, std::uint64_t seed) {
  const std::size_t longest_run = half_cells(code) == 2 ? 400 : 6;
  // One more bit, whose transitions end the last one.
  const std::string bits = random_bits(429, seed, longest_run);
  const auto halves = halves_of(code, bits + "01");
  const auto received =
      decode(code, oversampling, samples_of(halves, wire, std::size_t{20} * oversampling, seed));
  CAPTURE(oversampling, wire.samples_per_half, wire.jitter, wire.phase, seed);
  CHECK(has_payload(received, bits));
  CHECK(received.violations <= 1);  // while locking to the preamble
  CHECK_FALSE(received.has_carrier_at_end);
}

}  // namespace

// 270..330 kb/s at a clock of 8 x 300 kHz (bit rates of IEC 62680-1-2, from memory [M]), each transition
// moved by up to 0.2 samples: what a quarter of a half cell leaves after quantisation to samples.
TEST_CASE("biphase-mark and manchester at 8 samples a bit bear ten percent of rate error and jitter") {
  for (const LineCode code : {LineCode::biphase_mark, LineCode::manchester}) {
    for (const double rate : {270e3, 285e3, 300e3, 315e3, 330e3}) {
      for (const double phase : {0.0, 0.3, 0.7}) {
        const Wire wire{4.0 * 300e3 / rate, 0.2, phase};
        check_wire(code, 8, wire, static_cast<std::uint64_t>(rate + 10 * phase));
      }
    }
  }
}

TEST_CASE("every code at every kind of oversampling") {
  for (const LineCode code : all_codes) {
    for (const unsigned oversampling : {4U, 5U, 7U, 8U, 10U, 16U, 32U, 64U}) {
      const double half = oversampling / 2.0;
      const bool is_coarse = oversampling < 8;
      check_wire(code, oversampling, {half, 0, 0.5}, oversampling);
      if (!is_coarse) check_wire(code, oversampling, {half * 1.01, half * 0.05, 0.2}, oversampling + 1);
      if (!is_coarse) check_wire(code, oversampling, {half * 0.99, half * 0.05, 0.2}, oversampling + 2);
    }
  }
}

// Six bits of two percent are a tenth of a bit: far from the sampling point in mid-bit.
TEST_CASE("the digital phase lock follows two percent of rate error") {
  for (const LineCode code : {LineCode::nrzi, LineCode::nrz}) {
    for (const double error : {-0.02, 0.02}) check_wire(code, 8, {4 * (1 + error), 0.5, 0.1}, 77);
  }
}

TEST_CASE("glitches of one sample are filtered, lost half cells are violations") {
  const std::string bits = random_bits(300, 9, 300);
  const auto halves = halves_of(LineCode::biphase_mark, bits + "01");
  auto samples = samples_of(halves, {8, 0, 0}, 200, 1);
  for (std::size_t at = 205; at + 200 < samples.size(); at += 48) samples[at] = !samples[at];
  const auto received = decode(LineCode::biphase_mark, 16, samples);
  CHECK(has_payload(received, bits));
  CHECK(received.violations <= 1);

  // 1 1 with one middle transition missing: a half cell, then a whole one.
  auto broken = halves_of(LineCode::biphase_mark, "010101010101011010101");
  broken[2 * 13 + 1] = !broken[2 * 13 + 1];
  CHECK(decode(LineCode::biphase_mark, 8, samples_of(broken, {4, 0, 0}, 100, 1)).violations >= 1);
  // A bit without its mid-bit transition.
  auto missing = halves_of(LineCode::manchester, "010101010101010101010");
  missing[2 * 12] = missing[2 * 12 + 1];
  CHECK(decode(LineCode::manchester, 8, samples_of(missing, {4, 0, 0}, 100, 1)).violations >= 1);
}

TEST_CASE("nothing comes from a silent or disabled decoder") {
  for (const LineCode code : all_codes) {
    const auto quiet = decode(code, 8, std::vector<bool>(1000, false));
    CHECK(quiet.bits.empty());
    CHECK(quiet.violations == 0);
    CHECK_FALSE(quiet.has_carrier_at_end);
  }
}

namespace {

// Levels after each tick while the line is driven, as the encoder gives them.
std::string encode(LineCode code, const std::string& bits) {
  const auto network = line_encoder(code);
  logic::Simulator simulator(network);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  std::string levels;
  std::size_t at = 0;
  for (std::size_t tick = 0; tick < 2 * bits.size() + 12; ++tick) {
    simulator.set("enable", 0);
    simulator.clock();
    simulator.set("enable", 1);
    simulator.set("transmit", at < bits.size());
    simulator.set("data", at < bits.size() && bits[at] == '1');
    if (simulator.value("ready") != 0 && at < bits.size()) ++at;
    simulator.clock();
    if (simulator.value("line_enable") != 0) {
      levels += simulator.value("line") != 0 ? '1' : '0';
    } else {
      REQUIRE(simulator.value("line") == 0);
    }
  }
  CHECK(simulator.value("line_enable") == 0);
  return levels;
}

}  // namespace

TEST_CASE("encoders put out the levels of their code") {
  for (const LineCode code : all_codes) {
    const std::string bits = random_bits(200, 4, 200);
    std::string expected;
    const auto halves = halves_of(code, bits);
    for (std::size_t i = 0; i < halves.size(); i += 3 - half_cells(code)) expected += halves[i] ? '1' : '0';
    // Biphase-mark: the closing transition, then low until the driver lets go.
    if (code == LineCode::biphase_mark) expected += halves.back() ? "00" : "10";
    CHECK(encode(code, bits) == expected);
  }
}

TEST_CASE("the traffic of a decoder carries the bits it says it does") {
  for (const LineCode code : all_codes) {
    LineSource source(code, 3);
    std::vector<bool> samples(100, false);
    for (unsigned half = 0; half < 2000; ++half) samples.insert(samples.end(), 4, source.next_half());
    std::string bits;
    for (const bool bit : source.bits()) bits += bit ? '1' : '0';
    const auto received = decode(code, 8, samples);
    CHECK(received.bits.size() > 980);
    CHECK(received.bits.find(bits.substr(8, 970)) != std::string::npos);
    CHECK(received.violations == 0);
  }
}

TEST_CASE("traffic of every code keeps its decoder busy without a violation") {
  const Kind kind = line_code_kind();
  for (const char* code : {"biphase-mark", "manchester", "nrzi", "nrz"}) {
    for (const char* oversampling : {"5", "8", "16"}) {
      CAPTURE(code, oversampling);
      auto settings = Settings::standard(kind.settings);
      settings.set("code", code);
      settings.set("oversampling", oversampling);
      const auto network = kind.network(settings);
      logic::Simulator simulator(network);
      const Drive drive = kind.traffic(settings, TrafficState::active, 5);
      const std::uint64_t clocks = 500 * settings.integer("oversampling");
      const bool has_violation = half_cells(line_code(settings)) == 2;
      unsigned bits = 0;
      unsigned violations = 0;
      for (std::uint64_t clock = 0; clock < clocks; ++clock) {
        drive(simulator, clock);
        simulator.clock();
        bits += simulator.value("bit_valid", 17) != 0 ? 1U : 0U;
        if (has_violation) violations += simulator.value("violation", 17) != 0 ? 1U : 0U;
      }
      CHECK(bits > 490);
      CHECK(bits <= 500);
      CHECK(violations == 0);
    }
  }
}

}  // namespace portweigh::blocks

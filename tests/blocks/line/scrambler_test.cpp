// Scrambler: network and routine against a plain recurrence over a list of bits, and against each other.
#include "blocks/line/scrambler.hpp"

#include <fmt/core.h>

#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <vector>

#include "firmware/execute.hpp"
#include "logic/cover/cover.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

struct Case {
  unsigned width;
  std::uint64_t polynomial;
  unsigned bits_per_clock;
  std::string style;
  std::string direction;
};

const std::vector<Case>& cases() {
  static const std::vector<Case> all{{2, 0x3, 1, "additive", "encode"},
                                     {7, 0x11, 8, "additive", "encode"},
                                     {7, 0x11, 128, "additive", "encode"},
                                     {7, 0x11, 8, "self-synchronising", "encode"},
                                     {7, 0x11, 8, "self-synchronising", "decode"},
                                     {9, 0x21, 8, "additive", "encode"},
                                     {16, 0x39, 1, "additive", "encode"},
                                     {16, 0x39, 32, "additive", "encode"},
                                     {23, 0x21, 16, "self-synchronising", "encode"},
                                     {31, 0x10000001, 8, "additive", "encode"},
                                     {32, 0x80000057, 8, "additive", "encode"},
                                     {33, 0x2001, 8, "self-synchronising", "encode"},
                                     {39, 0x11, 8, "additive", "encode"},
                                     {58, 0x8000000001, 64, "self-synchronising", "encode"},
                                     {58, 0x8000000001, 64, "self-synchronising", "decode"},
                                     {64, 0xD800000000000001, 128, "additive", "encode"},
                                     {64, 0xFFFFFFFFFFFFFFFF, 3, "additive", "encode"}};
  return all;
}

Settings settings_of(const Case& c) {
  auto settings = Settings::standard(scrambler_kind().settings);
  settings.set("width", fmt::format("{}", c.width));
  settings.set("polynomial", fmt::format("{:#x}", c.polynomial));
  settings.set("bits_per_clock", fmt::format("{}", c.bits_per_clock));
  settings.set("style", c.style);
  settings.set("direction", c.direction);
  return settings;
}

// The recurrence written over the whole history, oldest first; `width` ones precede it.
std::vector<bool> reference(const Case& c, const std::vector<bool>& data) {
  std::vector<bool> history(c.width, true);
  std::vector<bool> output;
  for (const bool bit : data) {
    bool sum = history[history.size() - c.width];
    for (unsigned i = 1; i < c.width; ++i) {
      if ((c.polynomial >> i & 1U) != 0) sum = sum != history[history.size() - i];
    }
    output.push_back(bit != sum);
    const bool fed = c.style == "additive" ? sum : c.direction == "encode" ? bit != sum : bit;
    history.push_back(fed);
  }
  return output;
}

std::vector<bool> random_bits(std::size_t count, std::uint64_t seed) {
  std::mt19937_64 generator(seed);
  std::vector<bool> bits(count);
  for (std::size_t i = 0; i < count; ++i) bits[i] = (generator() & 1U) != 0;
  return bits;
}

std::vector<bool> through_network(const Case& c, const std::vector<bool>& data) {
  const auto network = scrambler_kind().network(settings_of(c));
  logic::Simulator simulator(network);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  std::vector<bool> output;
  for (std::size_t at = 0; at + c.bits_per_clock <= data.size(); at += c.bits_per_clock) {
    for (unsigned i = 0; i < c.bits_per_clock; ++i) simulator.set(fmt::format("data[{}]", i), data[at + i]);
    simulator.set("enable", 0);
    simulator.clock();  // a clock without enable changes nothing
    simulator.set("enable", 1);
    for (unsigned i = 0; i < c.bits_per_clock; ++i) {
      output.push_back(simulator.value(fmt::format("output[{}]", i)) != 0);
    }
    simulator.clock();
  }
  return output;
}

std::vector<bool> through_routine(const Case& c, std::string_view method, const std::vector<bool>& data) {
  const auto routine = scrambler_routine(scrambler_code(settings_of(c)), method);
  firmware::Machine machine(routine);
  const std::uint64_t ones = ~std::uint64_t{0} >> (64 - c.width);
  machine.set("register_low", static_cast<std::uint32_t>(ones));
  if (c.width > 32) machine.set("register_high", static_cast<std::uint32_t>(ones >> 32));
  std::vector<bool> output;
  for (std::size_t at = 0; at + 8 <= data.size(); at += 8) {
    std::uint32_t byte = 0;
    for (unsigned i = 0; i < 8; ++i) byte |= static_cast<std::uint32_t>(data[at + i]) << i;
    const std::uint32_t result = machine.run({byte});
    for (unsigned i = 0; i < 8; ++i) output.push_back((result >> i & 1U) != 0);
  }
  return output;
}

std::size_t luts(const Case& c, unsigned lut_inputs) {
  return logic::cover(scrambler_kind().network(settings_of(c)), {.lut_inputs = lut_inputs}).luts.size();
}

}  // namespace

TEST_CASE("network and routine scramble as the recurrence does") {
  for (const Case& c : cases()) {
    DYNAMIC_SECTION(c.width << " " << c.polynomial << " " << c.bits_per_clock << " " << c.style << " "
                            << c.direction) {
      const auto data = random_bits(768, c.width);
      const auto expected = reference(c, data);
      const auto from_network = through_network(c, data);
      CHECK(from_network ==
            std::vector<bool>(expected.begin(),
                              expected.begin() + static_cast<std::ptrdiff_t>(from_network.size())));
      CHECK(through_routine(c, "bitwise", data) == expected);
      CHECK(through_routine(c, "parallel", data) == expected);
    }
  }
}

// IEEE 802.11 clause 17.3.5.5: the 127-bit sequence of x^7 + x^4 + 1 from all ones begins so [M].
TEST_CASE("the wireless scrambler's sequence begins as published") {
  const Case c{7, 0x11, 8, "additive", "encode"};
  const std::string published = "000011101111001011001001000000100010011000101110";
  const std::vector<bool> zeros(published.size(), false);
  std::string sequence;
  for (const bool bit : through_network(c, zeros)) sequence += bit ? '1' : '0';
  CHECK(sequence == published);
}

TEST_CASE("a self-synchronising decoder recovers what its encoder scrambled, from any state") {
  const Case encode{58, 0x8000000001, 64, "self-synchronising", "encode"};
  const Case decode{58, 0x8000000001, 64, "self-synchronising", "decode"};
  const auto data = random_bits(640, 5);
  auto scrambled = through_network(encode, data);
  CHECK(through_network(decode, scrambled) == data);
  // 64 lost bits leave the decoder with a wrong register for one register length only.
  scrambled.erase(scrambled.begin(), scrambled.begin() + 64);
  const auto recovered = through_network(decode, scrambled);
  CHECK(std::equal(recovered.begin() + 58, recovered.end(), data.begin() + 64 + 58));
}

// One sum for each feedback bit and one for each output bit, whatever the LUT size.
TEST_CASE("a trinomial with long taps costs two LUTs a bit") {
  for (const unsigned lut_inputs : {4U, 6U}) {
    CHECK(luts({31, 0x10000001, 1, "additive", "encode"}, lut_inputs) == 2);
    CHECK(luts({31, 0x10000001, 8, "additive", "encode"}, lut_inputs) == 16);
    CHECK(luts({31, 0x10000001, 16, "additive", "encode"}, lut_inputs) == 32);
    CHECK(luts({9, 0x21, 8, "additive", "encode"}, lut_inputs) == 16);
  }
}

TEST_CASE("outputs can be inverted and registered") {
  auto settings = settings_of({9, 0x21, 8, "additive", "encode"});
  settings.set("inverted", "true");
  settings.set("registered_output", "true");
  const auto network = scrambler_kind().network(settings);
  CHECK(network.registers().size() == 9 + 8);
  logic::Simulator simulator(network);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  simulator.set("enable", 1);
  simulator.clock();
  const auto expected = reference({9, 0x21, 8, "additive", "encode"}, std::vector<bool>(8, false));
  for (unsigned i = 0; i < 8; ++i) {
    CHECK((simulator.value(fmt::format("output[{}]", i)) == 0) == expected[i]);
  }
}

// With an even number of terms the complements cancel, with an odd number they do not: both are tried.
TEST_CASE("a descrambler undoes an inverted stream") {
  for (const std::uint64_t polynomial : {std::uint64_t{0x21}, std::uint64_t{0x31}, std::uint64_t{0x35}}) {
    auto sending = settings_of({9, polynomial, 1, "self-synchronising", "encode"});
    auto receiving = settings_of({9, polynomial, 1, "self-synchronising", "decode"});
    for (Settings* const settings : {&sending, &receiving}) settings->set("inverted", "true");
    const auto scrambler = scrambler_kind().network(sending);
    const auto descrambler = scrambler_kind().network(receiving);
    logic::Simulator sender(scrambler);
    logic::Simulator receiver(descrambler);
    for (logic::Simulator* const simulator : {&sender, &receiver}) {
      simulator->set("reset", 1);
      simulator->clock();
      simulator->set("reset", 0);
      simulator->set("enable", 1);
    }
    std::mt19937_64 random(7);
    for (int i = 0; i < 200; ++i) {
      const std::uint64_t bit = random() & 1U;
      sender.set("data[0]", bit);
      sender.evaluate();
      receiver.set("data[0]", sender.value("output[0]"));
      receiver.evaluate();
      CHECK(receiver.value("output[0]") == bit);
      sender.clock();
      receiver.clock();
    }
  }
}

TEST_CASE("a polynomial that does not fit is refused") {
  CHECK_THROWS_AS(scrambler_code(settings_of({7, 0x91, 1, "additive", "encode"})), SettingError);
  CHECK_THROWS_AS(scrambler_code(settings_of({7, 0x10, 1, "additive", "encode"})), SettingError);
}

}  // namespace portweigh::blocks

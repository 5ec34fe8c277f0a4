#include "options/firmware/event_rules.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;

namespace {

using blocks::Event;

const study::PortFunction& function() {
  return tests::demo().study.function;
}

// The demo's function with other codes.
study::PortFunction function_with(const std::string& line_code, const std::string& symbol_code) {
  study::PortFunction changed = function();
  std::erase_if(changed.blocks,
                [&](const auto& block) { return block.kind->symbols && symbol_code.empty(); });
  for (study::FunctionBlock& block : changed.blocks) {
    if (block.kind->line) block.settings.set("code", line_code);
    if (block.kind->name == "symbol-code") block.settings.set("code", symbol_code);
  }
  changed.stream = study::stream_of(changed.blocks);
  return changed;
}

const study::FunctionBlock& named(const study::PortFunction& function, const std::string& name) {
  return *std::find_if(function.blocks.begin(), function.blocks.end(),
                       [&](const auto& block) { return block.name == name; });
}

}  // namespace

TEST_CASE("Edges come as biphase-mark makes them at the highest bit rate") {
  // Bit rate 270..330 kb/s, nominal 300: IEC 62680-1-2, from memory [M]. 1 edge for a 0, 2 for a 1:
  // definition of biphase mark; counted on random data by tests/blocks/line/line_code_test.cpp.
  // With 4b5b data 129/80 edges a bit: exact, computed from its table [C].
  const EventRule rule = rule_for(function(), named(function(), "line-decode"), Event::edge);
  CHECK(rule.deadline_s == Approx(1 / 660e3));
  CHECK(rule.period_s == Approx(1 / 594e3));
  CHECK(rule.period_s - rule.jitter_s == Approx(rule.deadline_s));
  CHECK(rule.mean_rate_hz == Approx(300e3 * 129 / 80).epsilon(0.002));
  CHECK(rule.direction == Direction::receive);
  CHECK(rule.is_interrupt);
}

TEST_CASE("What works on one half of the traffic has half of its bytes") {
  // 4b5b makes ten bits of a byte; half of the messages go each way.
  auto block = named(function(), "crc-receive");
  CHECK(rule_for(function(), block, Event::byte).direction == Direction::receive);
  const double one_way = busy_rate(function(), block, Event::byte).per_bit;
  CHECK(one_way == Approx(0.05));
  block.direction = Direction::both;
  CHECK(busy_rate(function(), block, Event::byte).per_bit == Approx(2 * one_way));
}

TEST_CASE("Each code has edges and cells of its own") {
  // Highest bit rate 330 kb/s, nominal 300. An NRZI line has an edge for each 0, of which 4b5b data has 31 in
  // 80; a cell is a bit. Most: 4b5b has three zeros in five at the most, 8b10b six ones in ten; without a code all zeros.
  const auto nrzi = function_with("nrzi", "4b5b");
  const EventRule received = rule_for(nrzi, named(nrzi, "line-decode"), Event::edge);
  CHECK(received.deadline_s == Approx(1 / 330e3));
  CHECK(received.period_s == Approx(1 / (0.6 * 330e3)));
  CHECK(received.mean_rate_hz == Approx(300e3 * 31 / 80).epsilon(0.004));
  const EventRule sent = rule_for(nrzi, named(nrzi, "line-encode"), Event::half_cell);
  CHECK(sent.period_s == Approx(1 / 330e3));
  CHECK(sent.mean_rate_hz == Approx(300e3));
  // An edge in each middle, and one between equal bits; of 4b5b data .5875 of the bits differ from the one before:
  // counted from its table by a script of its own [C].
  const auto manchester = function_with("manchester", "4b5b");
  const EventRule middle = rule_for(manchester, named(manchester, "line-decode"), Event::edge);
  CHECK(middle.period_s == Approx(1 / 660e3));
  CHECK(middle.mean_rate_hz == Approx(300e3 * (2 - 0.5875)).epsilon(0.002));
  const auto long_symbols = function_with("biphase-mark", "8b10b");
  CHECK(rule_for(long_symbols, named(long_symbols, "line-decode"), Event::edge).period_s ==
        Approx(1 / (1.6 * 330e3)));
}

TEST_CASE("A byte takes the wire bits of the function's symbol code") {
  const auto coded = function_with("biphase-mark", "4b5b");
  CHECK(rule_for(coded, named(coded, "crc-receive"), Event::byte).mean_rate_hz == Approx(30e3));
  const auto plain = function_with("biphase-mark", "");
  CHECK(rule_for(plain, named(plain, "crc-receive"), Event::byte).mean_rate_hz == Approx(37.5e3));
}

TEST_CASE("The message layer answers within the turn-round, policy within the response time") {
  const EventRule message = rule_for(function(), named(function(), "message-receive"), Event::step);
  CHECK(message.deadline_s == Approx(195e-6));
  const EventRule policy = rule_for(function(), named(function(), "policy"), Event::step);
  CHECK(policy.deadline_s == Approx(15e-3));
}

TEST_CASE("An event without a rule is a defect") {
  CHECK_THROWS_AS(rule_for(function(), named(function(), "policy"), Event::given), std::logic_error);
}

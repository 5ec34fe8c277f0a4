#include "options/firmware/event_rules.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;

namespace {

const study::FunctionBlock& block_named(const std::string& name) {
  const auto& blocks = tests::demo().study.function.blocks;
  return *std::find_if(blocks.begin(), blocks.end(), [&](const auto& block) { return block.name == name; });
}

const study::Timing& timing() {
  return tests::demo().study.function.timing;
}

}  // namespace

TEST_CASE("Edges come as biphase-mark makes them at the highest bit rate") {
  // Bit rate 270..330 kb/s, nominal 300: IEC 62680-1-2, from memory [M]. 1 edge for a 0, 2 for a 1:
  // definition of biphase mark; counted on random data by tests/blocks/line/line_code_test.cpp.
  const EventRule rule = rule_for(block_named("line-decode"), "edge", timing());
  CHECK(rule.deadline_s == Approx(1 / 660e3));
  CHECK(rule.period_s == Approx(1 / 594e3));
  CHECK(rule.period_s - rule.jitter_s == Approx(rule.deadline_s));
  CHECK(rule.mean_rate_hz == Approx(450e3));
  CHECK(rule.direction == Direction::receive);
  CHECK(rule.is_interrupt);
}

TEST_CASE("The message layer answers within the turn-round, policy within the response time") {
  const EventRule message = rule_for(block_named("message-receive"), "step", timing());
  CHECK(message.deadline_s == Approx(195e-6));
  const EventRule policy = rule_for(block_named("policy"), "step", timing());
  CHECK(policy.deadline_s == Approx(15e-3));
}

TEST_CASE("An event without a rule is a defect") {
  CHECK_THROWS_AS(rule_for(block_named("policy"), "sample", timing()), std::logic_error);
}

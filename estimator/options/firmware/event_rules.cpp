#include "options/firmware/event_rules.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>

namespace portweigh::options {
namespace {

Direction direction_of(const study::FunctionBlock& block) {
  for (const auto& [name, value] : block.settings.values()) {
    if (name != "direction") continue;
    const auto* text = std::get_if<std::string>(&value);
    if (text != nullptr && *text == "decode") return Direction::receive;
    if (text != nullptr && *text == "encode") return Direction::transmit;
  }
  return Direction::both;
}

double named_deadline_s(const study::FunctionBlock& block, const study::Timing& timing, double standard_s) {
  if (block.deadline == "turn-round") return timing.turn_round.value_si;
  if (block.deadline == "response") return timing.response.value_si;
  if (block.deadline == "tick") return timing.tick.value_si;
  if (block.deadline == "inter-frame-gap") return timing.inter_frame_gap.value_si;
  return standard_s;
}

double message_rate_hz(const study::Timing& timing, double bit_rate_hz) {
  return 1.0 / (timing.message_bits.range.typical / bit_rate_hz + timing.turn_round.value_si);
}

EventRule line_rule(const study::Timing& timing, std::string_view event) {
  const double fast_hz = timing.bit_rate.range.high;
  const double typical_hz = timing.bit_rate.range.typical;
  EventRule rule;
  rule.is_interrupt = true;
  rule.deadline_s = 1 / (2 * fast_hz);
  if (event == "edge") {
    rule.direction = Direction::receive;
    rule.period_s = 1 / (1.8 * fast_hz);
    rule.mean_rate_hz = 1.5 * typical_hz;
  } else {
    rule.direction = Direction::transmit;
    rule.period_s = 1 / (2 * fast_hz);
    rule.mean_rate_hz = 2 * typical_hz;
  }
  rule.jitter_s = rule.period_s - rule.deadline_s;
  return rule;
}

EventRule byte_rule(const study::FunctionBlock& block, const study::Timing& timing) {
  EventRule rule;
  rule.direction = direction_of(block);
  if (block.layer == study::Layer::host) {
    rule.period_s = host_bus_byte_s;
    rule.deadline_s = timing.tick.value_si;  // the bus can be held
    rule.mean_rate_hz = message_rate_hz(timing, timing.bit_rate.range.typical);
    rule.is_interrupt = true;
    return rule;
  }
  rule.period_s = wire_bits_per_byte / timing.bit_rate.range.high;
  rule.deadline_s = named_deadline_s(block, timing, rule.period_s);
  rule.mean_rate_hz = timing.bit_rate.range.typical / wire_bits_per_byte;
  return rule;
}

EventRule step_rule(const study::FunctionBlock& block, const study::Timing& timing,
                    double events_per_message) {
  EventRule rule;
  rule.direction = Direction::both;
  const double standard_s =
      block.layer == study::Layer::message ? timing.turn_round.value_si : timing.response.value_si;
  rule.deadline_s = named_deadline_s(block, timing, standard_s);
  rule.mean_rate_hz = events_per_message * message_rate_hz(timing, timing.bit_rate.range.typical);
  rule.answers_message = rule.deadline_s <= timing.turn_round.value_si;
  rule.period_s = std::max(1 / (events_per_message * message_rate_hz(timing, timing.bit_rate.range.high)),
                           rule.deadline_s / events_per_message);
  return rule;
}

EventRule rule_of_event(const study::FunctionBlock& block, std::string_view event,
                        const study::Timing& timing) {
  if (event == "edge" || event == "half-cell") return line_rule(timing, event);
  if (event == "byte") return byte_rule(block, timing);
  if (event == "message") {
    return block.layer == study::Layer::physical ? byte_rule(block, timing) : step_rule(block, timing, 1);
  }
  if (event == "step") return step_rule(block, timing, steps_per_message);
  if (event == "tick") {
    EventRule rule;
    rule.period_s = timing.tick.value_si;
    rule.deadline_s = timing.tick.value_si;
    rule.attached_rate_hz = 1 / timing.tick.value_si;
    return rule;
  }
  throw std::logic_error(fmt::format("block {} has an event {} that no rule knows", block.name, event));
}

}  // namespace

EventRule rule_for(const study::FunctionBlock& block, std::string_view event, const study::Timing& timing) {
  EventRule rule = rule_of_event(block, event, timing);
  rule.message_period_s =
      timing.message_bits.range.low / timing.bit_rate.range.high + timing.inter_frame_gap.value_si;
  rule.turn_round_s = timing.turn_round.value_si;
  return rule;
}

}  // namespace portweigh::options

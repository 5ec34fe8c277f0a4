#include "options/firmware/event_rules.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <stdexcept>

#include "blocks/registry.hpp"

namespace portweigh::options {
namespace {

using blocks::Event;

// Of what stands behind a host bus: the default one.
blocks::BusFacts usual_bus() {
  const blocks::Kind& kind = blocks::host_interface();
  return kind.bus(blocks::Settings::standard(kind.settings));
}

Direction direction_of(const study::FunctionBlock& block) {
  for (const auto& [name, value] : block.settings.values()) {
    if (name != "direction") continue;
    const auto* text = std::get_if<std::string>(&value);
    if (text != nullptr && *text == "decode") return Direction::receive;
    if (text != nullptr && *text == "encode") return Direction::transmit;
  }
  return block.direction;
}

double named_deadline_s(const study::FunctionBlock& block, const study::Timing& timing, double standard_s) {
  if (block.deadline == "turn-round") return timing.turn_round.value_si;
  if (block.deadline == "response") return timing.response.value_si;
  if (block.deadline == "tick") return timing.tick.value_si;
  if (block.deadline == "inter-frame-gap") return timing.inter_frame_gap.value_si;
  return standard_s;
}

EventRule line_rule(const study::PortFunction& function, const study::FunctionBlock& block, Event event) {
  const double fast_hz = function.timing.bit_rate.range.high;
  const blocks::LineFacts line = block.kind->line(block.settings);
  EventRule rule;
  rule.is_interrupt = true;
  rule.deadline_s = 1 / (line.cells * fast_hz);
  if (event == Event::edge) {
    rule.direction = Direction::receive;
    rule.period_s = 1 / (most_edges(line, symbols_of(function)) * fast_hz);
    rule.per_bit = blocks::mean_edges(line, function.stream);
  } else {
    rule.direction = Direction::transmit;
    rule.period_s = rule.deadline_s;
    rule.per_bit = line.cells;
  }
  rule.jitter_s = rule.period_s - rule.deadline_s;
  return rule;
}

EventRule byte_rule(const study::PortFunction& function, const study::FunctionBlock& block) {
  const study::Timing& timing = function.timing;
  EventRule rule;
  rule.direction = direction_of(block);
  if (block.layer == study::Layer::host) {
    const blocks::BusFacts bus = block.kind->bus ? block.kind->bus(block.settings) : usual_bus();
    rule.period_s = bus.byte_s();
    rule.deadline_s = named_deadline_s(block, timing, timing.tick.value_si);  // the bus can be held
    rule.per_message = 1;
    rule.is_interrupt = true;
    return rule;
  }
  const double wire_bits = symbols_of(function).wire_bits_per_byte;
  rule.period_s = wire_bits / timing.bit_rate.range.high;
  rule.deadline_s = named_deadline_s(block, timing, rule.period_s);
  rule.per_bit = 1 / wire_bits;
  return rule;
}

EventRule step_rule(const study::FunctionBlock& block, const study::Timing& timing,
                    double events_per_message) {
  EventRule rule;
  rule.direction = Direction::both;
  const double standard_s =
      block.layer == study::Layer::message ? timing.turn_round.value_si : timing.response.value_si;
  rule.deadline_s = named_deadline_s(block, timing, standard_s);
  rule.per_message = events_per_message;
  rule.answers_message = rule.deadline_s <= timing.turn_round.value_si;
  // Messages without pause are followed by steps without pause: a later deadline lets them wait, not stay away.
  rule.period_s = 1 / (events_per_message * message_rate_hz(timing, timing.bit_rate.range.high));
  return rule;
}

EventRule rule_of_event(const study::PortFunction& function, const study::FunctionBlock& block, Event event) {
  const study::Timing& timing = function.timing;
  switch (event) {
    case Event::edge:
    case Event::half_cell:
      return line_rule(function, block, event);
    case Event::bit:
      return {.period_s = 1 / timing.bit_rate.range.high,
              .deadline_s = 1 / timing.bit_rate.range.high,
              .per_bit = 1,
              .direction = direction_of(block)};
    case Event::byte:
      return byte_rule(function, block);
    case Event::message:
      return block.kind->message_bits ? byte_rule(function, block) : step_rule(block, timing, 1);
    case Event::step:
      return step_rule(block, timing, steps_per_message);
    case Event::tick:
      return {.period_s = timing.tick.value_si,
              .deadline_s = named_deadline_s(block, timing, timing.tick.value_si),
              .attached_rate_hz = 1 / timing.tick.value_si};
    case Event::clock:
    case Event::given:
      break;
  }
  throw std::logic_error(
      fmt::format("block {} has an event {} that no rule knows", block.name, name_of(event)));
}

}  // namespace

double message_rate_hz(const study::Timing& timing, double bit_rate_hz) {
  return 1.0 / (timing.message_bits.range.typical / bit_rate_hz + timing.turn_round.value_si);
}

blocks::SymbolFacts symbols_of(const study::PortFunction& function) {
  for (const study::FunctionBlock& block : function.blocks) {
    if (block.kind->symbols) return block.kind->symbols(block.settings);
  }
  return {};
}

double mean_edges(const study::PortFunction& function) {
  for (const study::FunctionBlock& block : function.blocks) {
    if (block.kind->line) return blocks::mean_edges(block.kind->line(block.settings), function.stream);
  }
  return 0;
}

EventRule rule_for(const study::PortFunction& function, const study::FunctionBlock& block, Event event) {
  const study::Timing& timing = function.timing;
  EventRule rule = rule_of_event(function, block, event);
  rule.message_period_s =
      timing.message_bits.range.low / timing.bit_rate.range.high + timing.inter_frame_gap.value_si;
  rule.turn_round_s = timing.turn_round.value_si;
  const double bit_rate_hz = timing.bit_rate.range.typical;
  rule.mean_rate_hz = rule.per_bit * bit_rate_hz + rule.per_message * message_rate_hz(timing, bit_rate_hz);
  return rule;
}

BusyRate busy_rate(const study::PortFunction& function, const study::FunctionBlock& block,
                   blocks::Event event) {
  const EventRule rule = rule_for(function, block, event);
  const double share = rule.direction == Direction::both ? 1.0 : 0.5;
  return {share * rule.per_bit, share * rule.per_message, rule.attached_rate_hz};
}

}  // namespace portweigh::options

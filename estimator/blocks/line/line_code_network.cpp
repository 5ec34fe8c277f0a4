// Line codes as logic: decoders. Encoders stand in line_code_encoder.cpp.
//
// Decoders share a front: two synchronising flip-flops, a majority of three samples against glitches, and an
// edge detector. `carrier` rises with the first edge and falls when the line is silent; the first edge only
// starts the measurement.
// Tested by tests/blocks/line/line_code_test.cpp.
#include <bit>

#include "blocks/line/line_code.hpp"
#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

struct Front {
  Bit reset;
  Bit enable;
  Bit level;    // filtered
  Bit is_edge;  // level differs from the sample before
};

Front add_front(Network& net) {
  const Bit reset = logic::add_input(net, "reset");
  const Bit enable = logic::add_input(net, "enable");
  const logic::RegisterControl control{.enable = enable, .reset = reset};
  const Bit first = logic::registered("synchroniser_0", logic::add_input(net, "line"), control);
  const Bit second = logic::registered("synchroniser_1", first, control);
  const Bit third = logic::registered("sample_1", second, control);
  const Bit fourth = logic::registered("sample_2", third, control);
  const Bit majority = (second & third) | (fourth & (second | third));
  const Bit level = logic::registered("level", majority, control);
  const Bit previous = logic::registered("previous_level", level, control);
  return {reset, enable, level, level ^ previous};
}

// Samples since the last restart, wide enough for `limit`, stopping at all ones.
Word add_interval_counter(Network& net, unsigned limit) {
  return logic::add_registers(net, "interval", static_cast<std::size_t>(std::bit_width(limit)));
}

void connect_interval_counter(const Front& front, const Word& count, Bit restarts) {
  logic::connect(
      count, count + 1U,
      {.enable = front.enable & !logic::all(count), .reset = front.reset | (front.enable & restarts)});
}

// The counter holds the interval less one at the edge that ends it.
Bit is_at_least(const Word& count, unsigned interval) {
  return count >= std::uint64_t{interval - 1};
}

void add_bit_outputs(const Front& front, Bit bit, Bit is_valid) {
  logic::add_output(
      logic::registered("bit_register", bit, {.enable = front.enable & is_valid, .reset = front.reset}),
      "bit");
  logic::add_output(logic::registered("bit_valid_register", front.enable & is_valid, {.reset = front.reset}),
                    "bit_valid");
}

void add_violation_output(const Front& front, Bit is_violation) {
  logic::add_output(
      logic::registered("violation_register", front.enable & is_violation, {.reset = front.reset}),
      "violation");
}

Bit add_carrier(const Front& front, Bit is_silent) {
  const Bit carrier = logic::add_register(front.level.network(), "carrier_register");
  logic::connect(carrier, front.is_edge,
                 {.enable = front.enable & (front.is_edge | is_silent), .reset = front.reset});
  logic::add_output(carrier, "carrier");
  return carrier;
}

Network biphase_mark_decoder(unsigned oversampling) {
  Network net;
  const Front front = add_front(net);
  const Word count = add_interval_counter(net, 4 * oversampling - 1);
  connect_interval_counter(front, count, front.is_edge);
  const Bit carrier = add_carrier(front, logic::all(count));
  const IntervalLimits limits = interval_limits(LineCode::biphase_mark, oversampling);
  const Bit is_whole = is_at_least(count, limits.three_quarters);
  const Bit is_long = is_at_least(count, limits.longest + 1);

  // One half cell seen, its partner missing.
  const Bit pending = logic::add_register(net, "pending");
  logic::connect(pending, carrier & ~(is_whole | pending),
                 {.enable = front.enable & front.is_edge, .reset = front.reset});
  const Bit ends_cell = front.is_edge & carrier;
  add_bit_outputs(front, !is_whole, ends_cell & logic::select(is_whole, !is_long, pending));
  add_violation_output(front, ends_cell & is_whole & (is_long | pending));
  return net;
}

// Only edges at least three quarters of a bit after the last mid-bit edge are mid-bit edges. The first edge
// after silence may be a boundary, so the one after it is taken in any case. Locked to boundaries, the next
// change of data leaves one and a half bits without an edge: a violation, and the lock is right afterwards.
Network manchester_decoder(unsigned oversampling) {
  Network net;
  const Front front = add_front(net);
  const Word count = add_interval_counter(net, 3 * oversampling);
  const Bit carrier = add_carrier(front, logic::all(count));
  const IntervalLimits limits = interval_limits(LineCode::manchester, oversampling);
  const Bit is_first = logic::add_register(net, "is_first");
  logic::connect(is_first, !carrier, {.enable = front.enable & front.is_edge, .reset = front.reset});

  const Bit is_middle = front.is_edge & (is_at_least(count, limits.three_quarters) | is_first | ~carrier);
  connect_interval_counter(front, count, is_middle);
  const Bit is_long = is_at_least(count, limits.longest + 1);
  add_bit_outputs(front, front.level, is_middle & carrier & !is_long);
  add_violation_output(front, is_middle & carrier & is_long);
  return net;
}

// A bit timer restarted by every transition; the level is sampled in mid-bit.
Network sampling_decoder(LineCode code, unsigned oversampling) {
  Network net;
  const Front front = add_front(net);
  const Word timer =
      logic::add_registers(net, "bit_timer", static_cast<std::size_t>(std::bit_width(oversampling - 1)));
  const Bit wraps = timer == std::uint64_t{oversampling - 1};
  logic::connect(timer, timer + 1U,
                 {.enable = front.enable, .reset = front.reset | (front.enable & (front.is_edge | wraps))});
  const Bit samples = timer == std::uint64_t{oversampling / 2 - 1};

  const auto quiet_width = static_cast<std::size_t>(std::bit_width(silent_bits));
  const Word quiet = logic::add_registers(net, "quiet", quiet_width);
  const Bit is_silent = logic::all(quiet);
  logic::connect(quiet, logic::gate(!front.is_edge, quiet + 1U),
                 {.enable = front.enable & (front.is_edge | (samples & !is_silent)),
                  .reset = front.reset,
                  .reset_value = silent_bits});
  logic::add_output(!is_silent, "carrier");

  const Bit is_valid = samples & !is_silent;
  if (code == LineCode::nrz) {
    add_bit_outputs(front, front.level, is_valid);
    return net;
  }
  const Bit last =
      logic::registered("last_sample", front.level, {.enable = front.enable & samples, .reset = front.reset});
  add_bit_outputs(front, !(front.level ^ last), is_valid);
  return net;
}

}  // namespace

IntervalLimits interval_limits(LineCode code, unsigned resolution) {
  // A manchester lock on bit boundaries shows as one and a half bits: that must be a violation.
  const unsigned longest = code == LineCode::manchester ? resolution * 5 / 4 : resolution * 3 / 2;
  return {(3 * resolution + 3) / 4, longest};
}

Network line_decoder(LineCode code, unsigned oversampling) {
  switch (code) {
    case LineCode::biphase_mark:
      return biphase_mark_decoder(oversampling);
    case LineCode::manchester:
      return manchester_decoder(oversampling);
    case LineCode::nrzi:
    case LineCode::nrz:
      break;
  }
  return sampling_decoder(code, oversampling);
}

}  // namespace portweigh::blocks

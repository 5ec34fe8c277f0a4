#include "exploration/structure.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

namespace portweigh::exploration {
namespace {

// Low and high keep their proportion to the typical value.
void move_range(reading::SourcedRange& range, double typical) {
  const double factor = range.range.typical == 0 ? 0 : typical / range.range.typical;
  range.range = range.range.typical == 0
                    ? figures::exactly(typical)
                    : figures::Range{range.range.low * factor, typical, range.range.high * factor};
}

std::uint64_t whole(std::string_view input, double value, double lower, double upper) {
  if (value != std::round(value) || value < lower || value > upper) {
    throw AxisError(fmt::format("{}: {} is no whole number from {} to {}", input, value, lower, upper));
  }
  return static_cast<std::uint64_t>(value);
}

bool has_setting(const blocks::Settings& settings, std::string_view name) {
  const auto& values = settings.values();
  return std::any_of(values.begin(), values.end(), [&](const auto& entry) { return entry.first == name; });
}

void set_oversampling(study::PortFunction& function, double value) {
  const std::uint64_t samples = whole("function.oversampling", value, 4, 64);
  function.timing.oversampling = static_cast<unsigned>(samples);
  for (study::FunctionBlock& block : function.blocks) {
    if (has_setting(block.settings, "oversampling"))
      block.settings.set("oversampling", std::to_string(samples));
  }
}

}  // namespace

const std::vector<KnownInput>& structural_inputs() {
  static const std::vector<KnownInput> inputs = {{"function.oversampling", figures::parse_unit("1")},
                                                 {"function.bit_rate", figures::parse_unit("kHz")},
                                                 {"function.message_bits", figures::parse_unit("1")},
                                                 {"function.turn_round", figures::parse_unit("us")},
                                                 {"study.capacity_reserve", figures::parse_unit("1")},
                                                 {"study.extra_pins", figures::parse_unit("1")}};
  return inputs;
}

bool is_structural(std::string_view input) {
  const auto& all = structural_inputs();
  return std::any_of(all.begin(), all.end(), [&](const auto& known) { return known.key == input; });
}

study::Study with_structure(const study::Study& study, std::string_view input, double value) {
  study::Study moved = study;
  if (input == "function.oversampling") set_oversampling(moved.function, value);
  if (input == "function.bit_rate") move_range(moved.function.timing.bit_rate, value);
  if (input == "function.message_bits") move_range(moved.function.timing.message_bits, value);
  if (input == "function.turn_round") moved.function.timing.turn_round.value_si = value;
  if (input == "study.capacity_reserve") move_range(moved.capacity_reserve, value);
  if (input == "study.extra_pins") moved.extra_pins = static_cast<unsigned>(whole(input, value, 0, 200));
  return moved;
}

}  // namespace portweigh::exploration

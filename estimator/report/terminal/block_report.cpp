#include "report/terminal/block_report.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "blocks/kind.hpp"
#include "figures/units/format_quantity.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::report {
namespace {

using nlohmann::ordered_json;

ordered_json setting_json(const blocks::SettingValue& value) {
  return std::visit([](const auto& held) { return ordered_json(held); }, value);
}

double rounded(double value, double step) {
  return std::round(value / step) * step;
}

void replace(std::string& text, const std::string& old_words, const std::string& new_words) {
  if (const auto at = text.find(old_words); at != std::string::npos)
    text.replace(at, old_words.size(), new_words);
}

// Frequencies as people write them, and patterns that are cut to the width as they are used.
std::string settings_text(const blocks::Settings& settings) {
  std::string text = settings.to_string();
  std::uint64_t mask = ~std::uint64_t{0};
  for (const auto& [name, value] : settings.values()) {
    const auto* width = std::get_if<std::uint64_t>(&value);
    constexpr unsigned all_bits = 64;
    if (name == "width" && width != nullptr && *width < all_bits) mask = (std::uint64_t{1} << *width) - 1;
  }
  for (const auto& [name, value] : settings.values()) {
    if (const auto* hertz = std::get_if<double>(&value)) {
      replace(text, fmt::format("{}={}Hz", name, *hertz),
              fmt::format("{}={}", name, figures::format_quantity(*hertz, figures::dimensions::frequency)));
    }
    if (name != "initial" && name != "final") continue;
    if (const auto* pattern = std::get_if<std::uint64_t>(&value)) {
      replace(text, fmt::format("{}={:#x}", name, *pattern), fmt::format("{}={:#x}", name, *pattern & mask));
    }
  }
  return text;
}

ordered_json cycles_json(const firmware::CostRange& range) {
  return {{"low", rounded(range.low, 0.01)},
          {"typical", rounded(range.typical, 0.01)},
          {"high", rounded(range.high, 0.01)}};
}

std::uint64_t scaled(std::uint32_t count, double factor) {
  return static_cast<std::uint64_t>(std::llround(count * factor));
}

ordered_json logic_json(const BlockFigures& figures) {
  const logic::FabricCount& count = figures.logic->count;
  const auto ends = [&](double factor) {
    return ordered_json{{"luts", scaled(count.luts, factor)},
                        {"registers", scaled(count.registers, factor)},
                        {"cells", scaled(count.cells, factor)}};
  };
  return {{"lut_inputs", figures.traits.lut_inputs},
          {"carry_chain", figures.traits.has_carry_chain},
          {"plain_registers", !figures.traits.has_register_control},
          {"luts", count.luts},
          {"registers", count.registers},
          {"cells", count.cells},
          {"carry_bits", count.carry_bits},
          {"levels", count.levels},
          {"ram_bits", count.ram_bits},
          {"control_sets", count.control_sets},
          {"event", blocks::name_of(figures.switching->event)},
          {"toggles_per_event", rounded(figures.switching->event_toggles, 0.001)},
          {"quiet_toggles_per_clock", rounded(figures.switching->quiet_toggles, 0.001)},
          {"low", ends(figures.spread.low_factor)},
          {"high", ends(figures.spread.high_factor)}};
}

ordered_json firmware_json(const BlockFigures& figures) {
  const firmware::RoutineCost& cost = figures.firmware->cost;
  return {{"core", figures.core},
          {"event", blocks::name_of(figures.firmware->event)},
          {"method", figures.firmware->method},
          {"peripherals", figures.firmware->peripherals},
          {"cycles", cycles_json(cost.cycles)},
          {"worst_cycles", cycles_json(figures.firmware->worst_cycles)},
          {"code_bytes", std::llround(cost.code_bytes.typical)},
          {"code_bytes_range", cycles_json(cost.code_bytes)},
          {"constant_bytes", std::llround(cost.constant_bytes)},
          {"ram_bytes", std::llround(cost.ram_bytes)},
          {"stack_bytes", std::llround(cost.stack_bytes)}};
}

}  // namespace

ordered_json block_json(const BlockFigures& figures) {
  ordered_json settings = ordered_json::object();
  for (const auto& [name, value] : figures.use.settings.values()) settings[name] = setting_json(value);
  ordered_json json = {{"block", figures.use.kind->name}, {"settings", std::move(settings)}};
  if (figures.logic != nullptr) json["logic"] = logic_json(figures);
  if (figures.firmware != nullptr) json["firmware"] = firmware_json(figures);
  return json;
}

std::string block_text(const BlockFigures& figures) {
  std::string text = wrap(fmt::format("{}: {}", figures.use.kind->name, figures.use.kind->summary), 80, "  ");
  text += wrap("  " + settings_text(figures.use.settings), 80, "  ");
  if (figures.logic != nullptr) {
    const logic::FabricCount& count = figures.logic->count;
    text += fmt::format("\nLogic, {}-input LUTs, {} carry chains, registers {} enable and reset\n",
                        figures.traits.lut_inputs, figures.traits.has_carry_chain ? "with" : "without",
                        figures.traits.has_register_control ? "with" : "without");
    TextTable rows({{"  count", Align::left}, {"estimate"}, {"nine in ten", Align::left}});
    const auto add = [&](std::string_view name, std::uint32_t value) {
      rows.add_row({fmt::format("  {}", name), fmt::format("{}", value),
                    fmt::format("{}..{}", scaled(value, figures.spread.low_factor),
                                scaled(value, figures.spread.high_factor))});
    };
    add("LUTs", count.luts);
    add("registers", count.registers);
    add("cells", count.cells);
    rows.add_row({"  levels", fmt::format("{}", count.levels), ""});
    rows.add_row({"  RAM bits", fmt::format("{}", count.ram_bits), ""});
    rows.add_row(
        {"  toggles a clock, line quiet", fmt::format("{:.2f}", figures.switching->quiet_toggles), ""});
    rows.add_row({fmt::format("  more for each {}", blocks::name_of(figures.switching->event)),
                  fmt::format("{:.2f}", figures.switching->event_toggles), ""});
    text += rows.to_text();
  }
  if (figures.firmware != nullptr) {
    const firmware::RoutineCost& cost = figures.firmware->cost;
    text += fmt::format("\nFirmware on {}, for each {}, method {}\n", figures.core,
                        blocks::name_of(figures.firmware->event), figures.firmware->method);
    TextTable rows({{"  count", Align::left}, {"estimate"}, {"nine in ten", Align::left}});
    const auto add = [&](std::string_view name, const firmware::CostRange& range) {
      rows.add_row({fmt::format("  {}", name), fmt::format("{:.0f}", range.typical),
                    fmt::format("{:.0f}..{:.0f}", range.low, range.high)});
    };
    add("cycles", cost.cycles);
    add("cycles, longest event", figures.firmware->worst_cycles);
    add("code bytes", cost.code_bytes);
    rows.add_row({"  constant bytes", fmt::format("{:.0f}", cost.constant_bytes), ""});
    rows.add_row({"  RAM bytes", fmt::format("{:.0f}", cost.ram_bytes), ""});
    text += rows.to_text();
    if (!figures.other_methods.empty()) {
      text += wrap(fmt::format("  other methods: {}", fmt::join(figures.other_methods, ", ")), 80, "    ");
    }
  }
  return text;
}

}  // namespace portweigh::report

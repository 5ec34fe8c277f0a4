#include "report/terminal/block_list.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "figures/units/format_quantity.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::report {
namespace {

struct Described {
  std::string standard;
  std::string range;
};

std::string hertz(double value_hz) {
  return figures::format_quantity(value_hz, figures::dimensions::frequency);
}

Described describe(const blocks::IntegerDomain& domain) {
  return {fmt::format("{}", domain.standard), fmt::format("{}..{}", domain.lower, domain.upper)};
}
Described describe(const blocks::ChoiceDomain& domain) {
  return {domain.standard, fmt::format("{}", fmt::join(domain.options, "|"))};
}
Described describe(const blocks::FlagDomain& domain) {
  return {domain.standard ? "true" : "false", "true|false"};
}
Described describe(const blocks::FrequencyDomain& domain) {
  return {hertz(domain.standard_hz), fmt::format("{}..{}", hertz(domain.lower_hz), hertz(domain.upper_hz))};
}
Described describe(const blocks::TextDomain& domain) {
  return {domain.standard, "path"};
}

std::string short_range(const std::string& range) {
  constexpr std::string_view all_ones = "18446744073709551615";
  if (!range.ends_with(all_ones)) return range;
  return range.substr(0, range.size() - all_ones.size()) + "2^64-1";
}

Described describe(const blocks::Setting& setting) {
  return std::visit([](const auto& domain) { return describe(domain); }, setting.domain);
}

}  // namespace

std::string block_list_text(std::span<const blocks::Kind> kinds) {
  std::string text;
  for (const blocks::Kind& kind : kinds) {
    text += wrap(fmt::format("{}: {}", kind.name, kind.summary), 80, "  ");
    TextTable rows({{"  setting", Align::left},
                    {"default", Align::left},
                    {"range", Align::left},
                    {"meaning", Align::left}});
    for (const blocks::Setting& setting : kind.settings) {
      const Described described = describe(setting);
      rows.add_row({"  " + setting.name, described.standard, short_range(described.range), setting.meaning});
    }
    if (!kind.settings.empty()) text += rows.to_text(80);
    std::vector<std::string> methods;
    for (const blocks::Method& method : kind.methods) methods.push_back(method.name);
    if (!methods.empty())
      text += wrap(fmt::format("  firmware methods: {}", fmt::join(methods, ", ")), 80, "    ");
    text += "\n";
  }
  return text;
}

nlohmann::ordered_json block_list_json(std::span<const blocks::Kind> kinds) {
  nlohmann::ordered_json all = nlohmann::ordered_json::array();
  for (const blocks::Kind& kind : kinds) {
    nlohmann::ordered_json settings = nlohmann::ordered_json::array();
    for (const blocks::Setting& setting : kind.settings) {
      const Described described = describe(setting);
      settings.push_back({{"name", setting.name},
                          {"default", described.standard},
                          {"range", described.range},
                          {"meaning", setting.meaning}});
    }
    nlohmann::ordered_json methods = nlohmann::ordered_json::array();
    for (const blocks::Method& method : kind.methods) methods.push_back(method.name);
    all.push_back({{"kind", kind.name},
                   {"summary", kind.summary},
                   {"settings", std::move(settings)},
                   {"methods", std::move(methods)}});
  }
  return {{"blocks", std::move(all)}};
}

}  // namespace portweigh::report

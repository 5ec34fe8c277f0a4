// Reads and checks values of settings against their declared domains.
//
// Every message has the form: which setting, what was given, what was expected. Integers whose domain
// reaches beyond 24 bits are bit patterns (polynomials), so they are printed in hexadecimal.
// Tested by tests/blocks/settings_test.cpp.
#include "blocks/settings.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <filesystem>
#include <iterator>
#include <optional>
#include <type_traits>

#include "figures/units/dimension.hpp"
#include "figures/units/unit.hpp"
#include "reading/suggest.hpp"

namespace portweigh::blocks {
namespace {

constexpr std::uint64_t bit_pattern_limit = 0xFFFFFF;

std::string print_integer(const IntegerDomain& domain, std::uint64_t value) {
  return domain.upper > bit_pattern_limit ? fmt::format("{:#x}", value) : fmt::format("{}", value);
}

[[noreturn]] void refuse(const Setting& setting, std::string_view given, std::string_view expected) {
  throw SettingError(
      fmt::format("setting \"{}\": \"{}\" is not accepted, expected {}", setting.name, given, expected));
}

std::string expected_integer(const IntegerDomain& domain) {
  return fmt::format("an integer from {} to {}", print_integer(domain, domain.lower),
                     print_integer(domain, domain.upper));
}

std::string expected_frequency(const FrequencyDomain& domain) {
  return fmt::format("a frequency from {} Hz to {} Hz, such as \"{} Hz\"", domain.lower_hz, domain.upper_hz,
                     domain.standard_hz);
}

std::optional<std::uint64_t> parse_integer(std::string_view text) {
  const bool is_hexadecimal = text.starts_with("0x") || text.starts_with("0X");
  if (is_hexadecimal) text.remove_prefix(2);
  std::uint64_t value = 0;
  const char* const end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value, is_hexadecimal ? 16 : 10);
  if (text.empty() || error != std::errc{} || stop != end) return std::nullopt;
  return value;
}

SettingValue checked(const Setting& setting, const IntegerDomain& domain, std::uint64_t value) {
  if (value < domain.lower || value > domain.upper) {
    refuse(setting, print_integer(domain, value), expected_integer(domain));
  }
  return value;
}

SettingValue checked(const Setting& setting, const FrequencyDomain& domain, double value_hz) {
  if (!std::isfinite(value_hz) || value_hz < domain.lower_hz || value_hz > domain.upper_hz) {
    refuse(setting, fmt::format("{} Hz", value_hz), expected_frequency(domain));
  }
  return value_hz;
}

// One overload for each domain: the value that `text` stands for.
SettingValue read(const Setting& setting, const IntegerDomain& domain, std::string_view text) {
  const auto value = parse_integer(text);
  if (!value) refuse(setting, text, expected_integer(domain));
  return checked(setting, domain, *value);
}

SettingValue read(const Setting& setting, const ChoiceDomain& domain, std::string_view text) {
  if (std::find(domain.options.begin(), domain.options.end(), text) == domain.options.end()) {
    throw SettingError(fmt::format("setting \"{}\": {}", setting.name,
                                   reading::unknown_name_message("value", text, domain.options)));
  }
  return std::string(text);
}

SettingValue read(const Setting& setting, const FlagDomain& /*domain*/, std::string_view text) {
  if (text != "true" && text != "false") refuse(setting, text, "true or false");
  return text == "true";
}

SettingValue read(const Setting& setting, const FrequencyDomain& domain, std::string_view text) {
  try {
    const auto quantity = figures::parse_quantity(text);
    if (quantity.unit.dimension != figures::dimensions::frequency) {
      refuse(setting, text, expected_frequency(domain));
    }
    return checked(setting, domain, quantity.value_si);
  } catch (const figures::UnitError& error) {
    refuse(setting, text, fmt::format("{} ({})", expected_frequency(domain), error.what()));
  }
}

SettingValue read(const Setting& setting, const TextDomain& /*domain*/, std::string_view text) {
  if (text.empty()) refuse(setting, text, "a name that is not empty");
  return std::string(text);
}

SettingValue read(const Setting& setting, std::string_view text) {
  return std::visit([&](const auto& domain) { return read(setting, domain, text); }, setting.domain);
}

SettingValue standard_value(const Setting& setting) {
  return std::visit(
      [](const auto& domain) -> SettingValue {
        using Domain = std::decay_t<decltype(domain)>;
        if constexpr (std::is_same_v<Domain, FrequencyDomain>) {
          return domain.standard_hz;
        } else {
          return domain.standard;
        }
      },
      setting.domain);
}

std::string print(const Setting& setting, const SettingValue& value) {
  if (const auto* integer = std::get_if<std::uint64_t>(&value)) {
    return print_integer(std::get<IntegerDomain>(setting.domain), *integer);
  }
  if (const auto* flag = std::get_if<bool>(&value)) return *flag ? "true" : "false";
  if (const auto* frequency = std::get_if<double>(&value)) return fmt::format("{}Hz", *frequency);
  return std::get<std::string>(value);
}

}  // namespace

Settings Settings::standard(const std::vector<Setting>& declared) {
  Settings settings;
  settings.declared_ = declared;
  for (const Setting& setting : declared) {
    settings.values_.emplace_back(setting.name, standard_value(setting));
  }
  return settings;
}

std::size_t Settings::position(std::string_view name) const {
  const auto found = std::find_if(declared_.begin(), declared_.end(),
                                  [&](const Setting& setting) { return setting.name == name; });
  if (found == declared_.end()) {
    std::vector<std::string> names;
    for (const Setting& setting : declared_) names.push_back(setting.name);
    throw SettingError(reading::unknown_name_message("setting", name, names));
  }
  return static_cast<std::size_t>(std::distance(declared_.begin(), found));
}

void Settings::set(std::string_view name, std::string_view text) {
  const std::size_t index = position(name);
  values_[index].second = read(declared_[index], text);
}

void Settings::set(std::string_view name, SettingValue value) {
  const std::size_t index = position(name);
  const Setting& setting = declared_[index];
  if (const auto* text = std::get_if<std::string>(&value)) {
    values_[index].second = read(setting, *text);
  } else if (std::holds_alternative<std::uint64_t>(value) &&
             std::holds_alternative<IntegerDomain>(setting.domain)) {
    values_[index].second =
        checked(setting, std::get<IntegerDomain>(setting.domain), std::get<std::uint64_t>(value));
  } else if (std::holds_alternative<bool>(value) && std::holds_alternative<FlagDomain>(setting.domain)) {
    values_[index].second = value;
  } else if (std::holds_alternative<double>(value) &&
             std::holds_alternative<FrequencyDomain>(setting.domain)) {
    values_[index].second =
        checked(setting, std::get<FrequencyDomain>(setting.domain), std::get<double>(value));
  } else {
    const std::string given = std::visit([](const auto& plain) { return fmt::format("{}", plain); }, value);
    // Text of the value in the setting's own domain gives the message that says what was expected.
    values_[index].second = read(setting, given);
  }
}

const SettingValue& Settings::value(std::string_view name) const {
  const auto found =
      std::find_if(values_.begin(), values_.end(), [&](const auto& entry) { return entry.first == name; });
  if (found == values_.end()) throw std::logic_error(fmt::format("setting \"{}\" is not declared", name));
  return found->second;
}

namespace {

template <typename T>
const T& typed(const SettingValue& value, std::string_view name, std::string_view wanted) {
  if (const T* held = std::get_if<T>(&value)) return *held;
  throw std::logic_error(fmt::format("setting \"{}\" is not {}", name, wanted));
}

}  // namespace

std::uint64_t Settings::integer(std::string_view name) const {
  return typed<std::uint64_t>(value(name), name, "an integer");
}

const std::string& Settings::choice(std::string_view name) const {
  return typed<std::string>(value(name), name, "a choice");
}

bool Settings::flag(std::string_view name) const {
  return typed<bool>(value(name), name, "a flag");
}

double Settings::frequency_hz(std::string_view name) const {
  return typed<double>(value(name), name, "a frequency");
}

bool Settings::was_set(std::string_view name) const {
  const SettingValue& present = value(name);
  return present != standard_value(declared_[position(name)]);
}

std::string Settings::to_string() const {
  std::string text;
  for (std::size_t i = 0; i < values_.size(); ++i) {
    text +=
        fmt::format("{}{}={}", i == 0 ? "" : " ", values_[i].first, print(declared_[i], values_[i].second));
  }
  return text;
}

std::string Settings::changes_to_string() const {
  std::string text;
  for (std::size_t i = 0; i < values_.size(); ++i) {
    const auto& [name, value] = values_[i];
    if (!was_set(name)) continue;
    // Where the file lies differs from machine to machine.
    const std::string shown = name == "file"
                                  ? std::filesystem::path(std::get<std::string>(value)).filename().string()
                                  : print(declared_[i], value);
    text += fmt::format("{}{}={}", text.empty() ? "" : " ", name, shown);
  }
  return text;
}

}  // namespace portweigh::blocks

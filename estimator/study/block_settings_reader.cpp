#include "study/block_settings_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <limits>

#include "blocks/registry.hpp"
#include "reading/suggest.hpp"

namespace portweigh::study {
namespace {

using namespace reading;
using blocks::Setting;
using blocks::SettingValue;

std::int64_t as_signed(std::uint64_t value) {
  constexpr auto largest = std::numeric_limits<std::int64_t>::max();
  return value > static_cast<std::uint64_t>(largest) ? largest : static_cast<std::int64_t>(value);
}

struct ValueReader {
  TableReader& reader;
  const std::string& key;

  SettingValue operator()(const blocks::IntegerDomain& domain) const {
    const auto lower = as_signed(domain.lower);
    return static_cast<std::uint64_t>(reader.required_integer(key, lower, as_signed(domain.upper)));
  }
  SettingValue operator()(const blocks::ChoiceDomain& domain) const {
    return domain.options[reader.required_choice(key, domain.options)];
  }
  SettingValue operator()(const blocks::FlagDomain& /*domain*/) const { return reader.required_boolean(key); }
  SettingValue operator()(const blocks::FrequencyDomain& domain) const {
    const auto rule = QuantityRule(figures::dimensions::frequency).between(domain.lower_hz, domain.upper_hz);
    return reader.required_quantity(key, rule).value_si;
  }
  SettingValue operator()(const blocks::TextDomain& /*domain*/) const { return reader.required_string(key); }
};

// Names of the files that could have been meant.
std::vector<std::string> files_in(const std::vector<std::filesystem::path>& folders,
                                  const std::filesystem::path& extension) {
  std::vector<std::string> names;
  for (const auto& folder : folders) {
    std::error_code error;
    for (const auto& entry : std::filesystem::directory_iterator(folder, error)) {
      if (entry.path().extension() == extension) names.push_back(entry.path().filename().string());
    }
  }
  std::sort(names.begin(), names.end());
  return names;
}

std::string locate(TableReader& reader, const std::string& key, const std::string& given,
                   const std::vector<std::filesystem::path>& folders) {
  for (const auto& folder : folders) {
    const auto candidate = folder / given;  // an absolute path stays as it is
    if (std::filesystem::is_regular_file(candidate)) return candidate.lexically_normal().generic_string();
  }
  const auto names = files_in(folders, std::filesystem::path(given).extension());
  reader.report(key, unknown_name_message("file", given, names));
  return given;
}

}  // namespace

blocks::Settings read_settings(TableReader& reader, const blocks::Kind& kind,
                               const std::vector<std::filesystem::path>& folders) {
  auto settings = blocks::Settings::standard(kind.settings);
  for (const Setting& setting : kind.settings) {
    reader.accept(setting.name);
    if (!reader.has(setting.name)) continue;
    SettingValue value = std::visit(ValueReader{reader, setting.name}, setting.domain);
    if (std::holds_alternative<blocks::TextDomain>(setting.domain) && setting.name == "file") {
      value = locate(reader, setting.name, std::get<std::string>(value), folders);
    }
    try {
      settings.set(setting.name, std::move(value));
    } catch (const blocks::SettingError&) {
      // The reader has told the mistake already: a refused value comes back as a default outside the domain.
    }
  }
  try {
    blocks::check_method(kind, settings);
  } catch (const blocks::SettingError& error) {
    reader.report("method", error.what());
  }
  return settings;
}

}  // namespace portweigh::study

// Settings of a block: what can be set, declared once, and a checked set of values.
//
// A `Setting` says name, domain with default, and meaning; the command line, the study reader, the schema,
// the help and the reference page all come from these declarations. `Settings` holds a value for every
// declared setting (defaults filled in) and is always inside the declared domains.
//
// Example: Settings::standard(crc_settings) then set("width", "16"); integer("width") == 16.
// Tested by tests/blocks/settings_test.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <stdexcept>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace portweigh::blocks {

struct IntegerDomain {
  std::uint64_t lower = 0;
  std::uint64_t standard = 0;  // the default
  std::uint64_t upper = 0;
};
struct ChoiceDomain {
  std::vector<std::string> options;
  std::string standard;
};
struct FlagDomain {
  bool standard = false;
};
struct FrequencyDomain {  // a string with a unit, held in Hz
  double lower_hz = 0;
  double standard_hz = 0;
  double upper_hz = 0;
};
struct TextDomain {  // a path, relative to the file that names it
  std::string standard;
};

struct Setting {
  std::string name;
  std::string meaning;
  std::variant<IntegerDomain, ChoiceDomain, FlagDomain, FrequencyDomain, TextDomain> domain;
};

using SettingValue = std::variant<std::uint64_t, std::string, bool, double>;

// Thrown for a name or a value outside the declarations; what() says what was wrong, what was expected and
// the nearest valid name. Readers turn it into a diagnostic with its place in the file.
class SettingError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

class Settings {
 public:
  // Every setting at its default.
  static Settings standard(const std::vector<Setting>& declared);

  // Reads `text` as the setting's domain asks: decimal or 0x integers, one of the options, true/false,
  // a frequency such as "300 kHz". Throws SettingError.
  void set(std::string_view name, std::string_view text);
  void set(std::string_view name, const std::string& text) { set(name, std::string_view(text)); }
  void set(std::string_view name, const char* text) { set(name, std::string_view(text)); }
  // A value that is already typed; text is read as above. Throws SettingError.
  void set(std::string_view name, SettingValue value);

  // Throw std::logic_error where the name was not declared with that domain (a defect of the block's code).
  std::uint64_t integer(std::string_view name) const;
  const std::string& choice(std::string_view name) const;  // also text
  bool flag(std::string_view name) const;
  double frequency_hz(std::string_view name) const;

  // True where the value differs from the default.
  bool was_set(std::string_view name) const;
  // Names and values in declared order.
  const std::vector<std::pair<std::string, SettingValue>>& values() const { return values_; }
  // "width=16 polynomial=0x1021 ..." for cache keys and messages, in declared order.
  std::string to_string() const;
  // The same of those that differ from their default, files by name alone; empty where none does.
  std::string changes_to_string() const;

 private:
  // Throws SettingError with the nearest valid name where `name` was not declared.
  std::size_t position(std::string_view name) const;
  const SettingValue& value(std::string_view name) const;

  std::vector<Setting> declared_;
  std::vector<std::pair<std::string, SettingValue>> values_;
};

}  // namespace portweigh::blocks

// How a verb's declarations become options of the command line's library.
#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>

#include "cli/verb.hpp"

namespace portweigh::cli {
namespace {

// A number of type unsigned, where CLI11 by itself wraps a negative one around.
std::string refuse_negative(const std::string& text) {
  return text.find('-') == std::string::npos ? "" : "\"" + text + "\", expected a whole number from 0";
}

CLI::Option* add_repeated(CLI::App& app, const std::string& name, std::vector<std::string>& values,
                          const std::string& meaning) {
  return app.add_option(name, values, meaning)
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
}

}  // namespace

void Options::required(const std::string& name, std::filesystem::path& value, const std::string& meaning) {
  app_.add_option(name, value, meaning)->required();
}

void Options::required(const std::string& name, std::string& value, const std::string& meaning) {
  app_.add_option(name, value, meaning)->required();
}

void Options::required(const std::string& name, std::vector<std::filesystem::path>& values,
                       const std::string& meaning) {
  app_.add_option(name, values, meaning)->required();
}

void Options::optional(const std::string& name, std::filesystem::path& value, const std::string& meaning) {
  app_.add_option(name, value, meaning);
}

void Options::optional(const std::string& name, std::string& value, const std::string& meaning) {
  app_.add_option(name, value, meaning);
}

void Options::flag(const std::string& name, bool& value, const std::string& meaning) {
  app_.add_flag(name, value, meaning);
}

void Options::whole(const std::string& name, unsigned& value, unsigned low, unsigned high,
                    const std::string& meaning) {
  app_.add_option(name, value, meaning)->check(CLI::Range(low, high));
}

void Options::count(const std::string& name, unsigned& value, const std::string& meaning) {
  app_.add_option(name, value, meaning)->check(refuse_negative);
}

void Options::choice(const std::string& name, std::string& value, const std::vector<std::string>& from,
                     const std::string& meaning) {
  app_.add_option(name, value, meaning)->check(CLI::IsMember(from));
}

void Options::required_choice(const std::string& name, std::string& value,
                              const std::vector<std::string>& from, const std::string& meaning) {
  app_.add_option(name, value, meaning)->required()->check(CLI::IsMember(from));
}

void Options::repeated(const std::string& name, std::vector<std::string>& values,
                       const std::string& meaning) {
  add_repeated(app_, name, values, meaning);
}

void Options::required_repeated(const std::string& name, std::vector<std::string>& values,
                                const std::string& meaning) {
  add_repeated(app_, name, values, meaning)->required()->check([](const std::string& text) {
    return text.empty() ? "is empty" : "";
  });
}

void Options::study(std::filesystem::path& value) {
  required("STUDY", value, "study file (TOML)");
}

void Options::only(std::vector<std::string>& values) {
  repeated("--only", values, "option that takes part, as named by rank (repeatable); without it all do");
}

void Options::require_fit(bool& value) {
  flag("--require-fit", value, "exit code 1 where no option meets every hard budget");
}

void Options::samples(unsigned& samples, std::uint64_t& seed_value) {
  constexpr unsigned least = 16;
  constexpr unsigned most = 10000000;
  whole("--samples", samples, least, most, "samples of the uncertain inputs");
  seed(seed_value);
}

void Options::seed(std::uint64_t& value) {
  app_.add_option("--seed", value, "seed of the samples")->check(refuse_negative);
}

}  // namespace portweigh::cli

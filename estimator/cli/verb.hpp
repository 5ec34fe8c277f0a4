// A verb of the command line is one entry: its name and words, the options it takes, and what runs.
//
// A verb's file declares its arguments as a struct with a `Common common`, fills in a `Verb` with make_verb,
// and is listed in verbs.cpp; help, parsing and checks follow. Running prints results to `out`, returns the
// exit code (0 done; 1 no option meets every hard budget, only where --require-fit asks) and throws
// reading::InputError (exit code 2), blocks::SettingError (2) or reading::FileError (3). Tested by
// tests/project/command_line_test.cpp and command_errors_test.cpp.
#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <iosfwd>
#include <memory>
#include <string>
#include <vector>

#include "report/terminal/colour.hpp"

namespace CLI {
class App;
}

namespace portweigh::cli {

enum class Format { text, json };

// What every verb takes.
struct Common {
  std::filesystem::path catalog;
  Format format = Format::text;
  unsigned threads = 0;  // 0: as many as the machine has
  report::Colour colour = report::Colour::off;
};

// Where a verb declares what it takes: a name with dashes is an option, one in capitals an argument by its
// place. The value given is written to the variable when the command line is read, and the variable must live
// until the verb has run.
class Options {
 public:
  explicit Options(CLI::App& app) : app_(app) {}

  void required(const std::string& name, std::filesystem::path& value, const std::string& meaning);
  void required(const std::string& name, std::string& value, const std::string& meaning);
  void required(const std::string& name, std::vector<std::filesystem::path>& values,
                const std::string& meaning);
  void optional(const std::string& name, std::filesystem::path& value, const std::string& meaning);
  void optional(const std::string& name, std::string& value, const std::string& meaning);
  void flag(const std::string& name, bool& value, const std::string& meaning);
  void whole(const std::string& name, unsigned& value, unsigned low, unsigned high,
             const std::string& meaning);
  void count(const std::string& name, unsigned& value, const std::string& meaning);  // from 0
  void choice(const std::string& name, std::string& value, const std::vector<std::string>& from,
              const std::string& meaning);
  void required_choice(const std::string& name, std::string& value, const std::vector<std::string>& from,
                       const std::string& meaning);
  // One value for each time it is given.
  void repeated(const std::string& name, std::vector<std::string>& values, const std::string& meaning);
  void required_repeated(const std::string& name, std::vector<std::string>& values,
                         const std::string& meaning);

  // Those that several verbs share.
  void study(std::filesystem::path& value);
  void only(std::vector<std::string>& values);
  void require_fit(bool& value);
  void samples(unsigned& samples, std::uint64_t& seed);
  void seed(std::uint64_t& value);

 private:
  CLI::App& app_;
};

using Run = std::function<int(const Common&, std::ostream&)>;

struct Verb {
  std::string name;
  std::string summary;
  std::string example;
  std::function<Run(Options&)> declare;
};

// A verb whose arguments are of one type with a member `common`.
template <typename Arguments>
Verb make_verb(std::string name, std::string summary, std::string example,
               void (*declare)(Options&, Arguments&), int (*run)(const Arguments&, std::ostream&)) {
  return {std::move(name), std::move(summary), std::move(example), [declare, run](Options& options) -> Run {
            const auto arguments = std::make_shared<Arguments>();
            declare(options, *arguments);
            return [arguments, run](const Common& common, std::ostream& out) {
              arguments->common = common;
              return run(*arguments, out);
            };
          }};
}

// All verbs, as help lists them.
std::vector<Verb> verbs();

}  // namespace portweigh::cli

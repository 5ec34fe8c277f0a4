#include "cli/command_line.hpp"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <cstdlib>
#include <exception>
#include <map>
#include <ostream>
#include <sstream>
#include <stdexcept>

#include "blocks/settings.hpp"
#include "cli/catalog_folder.hpp"
#include "cli/progress.hpp"
#include "cli/verb.hpp"
#include "reading/diagnostic.hpp"

namespace portweigh::cli {
namespace {

constexpr int bad_input = 2;
constexpr int cannot_access = 3;
constexpr int own_fault = 4;

struct CommandLine {
  int count = 0;
  const char* const* arguments = nullptr;
  Terminals terminals;
};

void add_common(CLI::App& verb, Common& common) {
  verb.add_option("--catalog", common.catalog,
                  "catalog folder in place of the one that came with the program");
  verb.add_flag_callback(
      "--json", [&common] { common.format = Format::json; }, "print JSON");
  verb.add_option("--threads", common.threads, "threads to use; 0: as many as the machine has")
      ->check(CLI::Range(0U, 256U));
}

// The verbs as the command line knows them, each with what runs it.
struct Declared {
  Common common;
  std::map<std::string, Run> runs;
};

void declare(CLI::App& app, Declared& declared) {
  for (const Verb& verb : verbs()) {
    CLI::App* const entry = app.add_subcommand(verb.name, verb.summary);
    entry->footer("Example:\n  " + verb.example);
    Options options(*entry);
    declared.runs[verb.name] = verb.declare(options);
    add_common(*entry, declared.common);
  }
  // Before the verb too; after it wins where both are given.
  add_common(app, declared.common);
}

Common completed(Common common) {
  if (common.catalog.empty()) common.catalog = default_catalog_folder();
  return common;
}

int run_verb(const CLI::App& app, const Declared& declared, std::ostream& out) {
  const std::string verb = app.get_subcommands().front()->get_name();
  return declared.runs.at(verb)(completed(declared.common), out);
}

// Results are held back until the line of progress is gone.
int run_with_progress(const CLI::App& app, Declared& declared, std::ostream& out, std::ostream& errors) {
  std::ostringstream held;
  int code = 0;
  {
    const Progress progress(errors, app.get_subcommands().front()->get_name());
    code = run_verb(app, declared, held);
  }
  out << held.str();
  return code;
}

// A full disk or a closed pipe shows only when the last bytes leave.
int written(int code, std::ostream& out) {
  if (!out.flush()) throw reading::FileError("standard output: cannot write");
  return code;
}

// Parses the command line and runs its verb.
int run_parsed(CLI::App& app, Declared& declared, std::ostream& out, std::ostream& errors,
               const CommandLine& line) {
  try {
    app.parse(line.count, line.arguments);
  } catch (const CLI::ParseError& error) {
    const bool is_help = error.get_exit_code() == 0;
    app.exit(error, is_help ? out : errors, errors);
    return written(is_help ? 0 : bad_input, out);
  }
  if (line.terminals.out && std::getenv("NO_COLOR") == nullptr) declared.common.colour = report::Colour::on;
  return written(
      line.terminals.errors ? run_with_progress(app, declared, out, errors) : run_verb(app, declared, out),
      out);
}

}  // namespace

int run(int argument_count, const char* const* arguments, std::ostream& out, std::ostream& errors,
        Terminals terminals) {
  CLI::App app("portweigh: which silicon should carry a protocol port", "portweigh");
  app.set_version_flag("--version", std::string(PORTWEIGH_VERSION));
  app.require_subcommand(1);
  app.footer("Example:\n  portweigh rank studies/flow-meter.toml");
  Declared declared;
  declare(app, declared);
  try {
    return run_parsed(app, declared, out, errors, {argument_count, arguments, terminals});
  } catch (const reading::FileError& error) {
    errors << error.what() << "\n";
    return cannot_access;
  } catch (const reading::InputError& error) {
    errors << error.what() << "\n";
    return bad_input;
  } catch (const blocks::SettingError& error) {
    errors << error.what() << "\n";
    return bad_input;
  } catch (const std::logic_error& error) {
    errors << "portweigh: a fault of the program, not of its input: " << error.what() << "\n";
    return own_fault;
  } catch (const std::exception& error) {
    // What no reader has foreseen still ends with a message.
    errors << "portweigh: cannot go on with this input: " << error.what() << "\n";
    return bad_input;
  }
}

}  // namespace portweigh::cli

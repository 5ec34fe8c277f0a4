#include "cli/command_line.hpp"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <cstdlib>
#include <exception>
#include <ostream>
#include <sstream>

#include "blocks/settings.hpp"
#include "cli/catalog_folder.hpp"
#include "cli/progress.hpp"
#include "cli/verbs.hpp"
#include "reading/diagnostic.hpp"

namespace portweigh::cli {
namespace {

constexpr int bad_input = 2;
constexpr int cannot_access = 3;

struct CommandLine {
  int count = 0;
  const char* const* arguments = nullptr;
  Terminals terminals;
};

struct AllArguments {
  Common common;
  RankArguments rank;
  BlockArguments block;
  CheckArguments check;
  ListArguments list;
  ExplainArguments explain;
  SweepArguments sweep;
  CrossoverArguments crossover;
  SensitivityArguments sensitivity;
  ReportArguments report;
  CompareArguments compare;
  FamilyArguments family;
  BreakEvenArguments break_even;
  CalibrateArguments calibrate;
};

CLI::App* add_verb(CLI::App& app, const std::string& name, const std::string& summary,
                   const std::string& example) {
  CLI::App* verb = app.add_subcommand(name, summary);
  verb->footer("Example:\n  " + example);
  return verb;
}

void add_common(CLI::App& verb, Common& common) {
  verb.add_option("--catalog", common.catalog,
                  "catalog folder in place of the one that came with the program");
  verb.add_flag_callback(
      "--json", [&common] { common.format = Format::json; }, "print JSON");
  verb.add_option("--threads", common.threads, "threads to use; 0: as many as the machine has")
      ->check(CLI::Range(0U, 256U));
}

// A number of type unsigned, where CLI11 by itself wraps a negative one around.
std::string refuse_negative(const std::string& text) {
  return text.find('-') == std::string::npos ? "" : "\"" + text + "\", expected a whole number from 0";
}

void add_seed(CLI::App& verb, std::uint64_t& seed) {
  verb.add_option("--seed", seed, "seed of the samples")->check(refuse_negative);
}

void add_study(CLI::App& verb, std::filesystem::path& study) {
  verb.add_option("STUDY", study, "study file (TOML)")->required();
}

void add_only(CLI::App& verb, std::vector<std::string>& only) {
  verb.add_option("--only", only, "option that takes part, as named by rank (repeatable); without it all do")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
}

CLI::App* add_rank(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "rank", "options against budgets, best first",
                            "portweigh rank studies/flow-meter.toml --all");
  add_study(*verb, all.rank.study);
  verb->add_flag("--all", all.rank.all, "also list dominated options and every rejection");
  verb->add_flag("--require-fit", all.rank.require_fit,
                 "exit code 1 where no option meets every hard budget");
  verb->add_option("--samples", all.rank.samples, "samples of the uncertain inputs")
      ->check(CLI::Range(16U, 10000000U));
  add_seed(*verb, all.rank.seed);
  return verb;
}

CLI::App* add_block(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "block", "one block on its own: what it takes in logic and in firmware",
                            "portweigh block crc --set width=16 --set polynomial=0x1021 --lut-inputs 4");
  verb->add_option("KIND", all.block.kind, "kind of block, see: portweigh list blocks")->required();
  verb->add_option("--set", all.block.settings, "setting of the block, NAME=VALUE (repeatable)")
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  verb->add_option("--lut-inputs", all.block.lut_inputs, "inputs of a LUT")->check(CLI::Range(3U, 8U));
  verb->add_flag("--carry-chain", all.block.carry_chain, "adders take one cell a bit");
  verb->add_flag("--plain-registers", all.block.plain_registers, "registers without enable and reset");
  verb->add_option("--smallest-ram", all.block.smallest_ram_bits, "memories with fewer bits become registers")
      ->check(refuse_negative);
  verb->add_option("--core", all.block.core, "core class, see: portweigh list cores");
  verb->add_option("--optimise", all.block.optimise,
                   "firmware compiled for size or speed; middle (the default): the mean of both")
      ->check(CLI::IsMember({"size", "speed", "middle"}));
  return verb;
}

CLI::App* add_check(CLI::App& app, AllArguments& all) {
  CLI::App* verb =
      add_verb(app, "check", "reads catalogs, functions, state tables and studies, reports every error",
               "portweigh check studies/flow-meter.toml catalog");
  verb->add_option("FILE", all.check.files, "files or catalog folders")->required();
  return verb;
}

CLI::App* add_list(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "list", "what there is to name: parts, blocks, cores, inputs, figures",
                            "portweigh list inputs studies/flow-meter.toml");
  verb->add_option("WHAT", all.list.what, "parts, blocks, cores, inputs or figures")
      ->required()
      ->check(CLI::IsMember({"parts", "blocks", "cores", "inputs", "figures"}));
  verb->add_option("STUDY", all.list.study, "study file, for inputs and figures");
  return verb;
}

CLI::App* add_explain(CLI::App& app, AllArguments& all) {
  CLI::App* verb =
      add_verb(app, "explain", "the derivation of a figure, down to its sources",
               "portweigh explain studies/flow-meter.toml --option pl-flash-d --figure active_power");
  add_study(*verb, all.explain.study);
  verb->add_option("--option", all.explain.option, "option, as named by rank")->required();
  verb->add_option("--figure", all.explain.figure, "figure, see: portweigh list figures STUDY")->required();
  return verb;
}

CLI::App* add_sweep(CLI::App& app, AllArguments& all) {
  CLI::App* verb =
      add_verb(app, "sweep", "a figure of each option over one or two inputs, and who leads where",
               "portweigh sweep studies/flow-meter.toml --over clock_rate=1MHz:64MHz:13:log "
               "--over duty_cycle=0.001:1:31:log");
  add_study(*verb, all.sweep.study);
  verb->add_option("--over", all.sweep.over, "INPUT=FROM:TO[:STEPS[:log]], once or twice")
      ->required()
      ->expected(1)
      ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)
      ->check([](const std::string& text) { return text.empty() ? "is empty" : ""; });
  verb->add_option("--figure", all.sweep.figure, "figure of the table");
  add_only(*verb, all.sweep.only);
  return verb;
}

CLI::App* add_crossover(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "crossover", "values of an input at which the leading option changes",
                            "portweigh crossover studies/flow-meter.toml --over duty_cycle=0.0001:1:2:log");
  add_study(*verb, all.crossover.study);
  verb->add_option("--over", all.crossover.over, "INPUT=FROM:TO[:STEPS[:log]]")->required();
  verb->add_option("--figure", all.crossover.figure,
                   "the option with the least of this figure leads, whatever the budgets say");
  add_only(*verb, all.crossover.only);
  return verb;
}

CLI::App* add_sensitivity(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "sensitivity", "what drives each figure and the ranking",
                            "portweigh sensitivity studies/flow-meter.toml");
  add_study(*verb, all.sensitivity.study);
  verb->add_option("--option", all.sensitivity.option, "option in place of the leader");
  add_only(*verb, all.sensitivity.only);
  verb->add_option("--samples", all.sensitivity.samples, "base samples for each input")
      ->check(CLI::Range(64U, 1048576U));
  add_seed(*verb, all.sensitivity.seed);
  return verb;
}

CLI::App* add_report(CLI::App& app, AllArguments& all) {
  CLI::App* verb =
      add_verb(app, "report", "the document for management: one file to read, print and try inputs in",
               "portweigh report studies/flow-meter.toml --output report.html");
  add_study(*verb, all.report.study);
  verb->add_option("--output", all.report.output, "file to write: .html, .md, .csv or .json")->required();
  verb->add_flag("--require-fit", all.report.require_fit,
                 "exit code 1 where no option meets every hard budget");
  verb->add_option("--samples", all.report.samples, "samples of the uncertain inputs")
      ->check(CLI::Range(16U, 10000000U));
  add_seed(*verb, all.report.seed);
  return verb;
}

CLI::App* add_compare(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "compare", "what moved between two saved runs and why",
                            "portweigh compare before.json after.json --output changes.html");
  verb->add_option("RUN_A", all.compare.before, "saved run (report --output FILE.json)")->required();
  verb->add_option("RUN_B", all.compare.after, "saved run to compare with it")->required();
  verb->add_option("--output", all.compare.output, "HTML file to write instead of printing");
  return verb;
}

CLI::App* add_family(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "family", "the platforms for several products that cost least together",
                            "portweigh family studies/families/shop-instruments.toml");
  verb->add_option("FILE", all.family.family, "family file (TOML)")->required();
  return verb;
}

CLI::App* add_break_even(CLI::App& app, AllArguments& all) {
  CLI::App* verb =
      add_verb(app, "break-even", "volumes and prices at which another option would cost less over life",
               "portweigh break-even studies/flow-meter.toml");
  add_study(*verb, all.break_even.study);
  return verb;
}

CLI::App* add_calibrate(CLI::App& app, AllArguments& all) {
  CLI::App* verb = add_verb(app, "calibrate",
                            "refits ranges and coefficients to results of synthesis, compilers and the bench",
                            "portweigh calibrate studies/measured/first-boards.toml");
  verb->add_option("MEASURED", all.calibrate.measured, "file of measured results (TOML)")->required();
  return verb;
}

Common completed(Common common) {
  if (common.catalog.empty()) common.catalog = default_catalog_folder();
  return common;
}

int run_verb(const CLI::App& app, AllArguments& all, std::ostream& out) {
  const Common common = completed(all.common);
  all.rank.common = all.block.common = all.check.common = all.list.common = all.explain.common = common;
  all.sweep.common = all.crossover.common = all.sensitivity.common = common;
  all.report.common = all.compare.common = common;
  all.family.common = all.break_even.common = all.calibrate.common = common;
  const std::string verb = app.get_subcommands().front()->get_name();
  if (verb == "rank") return run_rank(all.rank, out);
  if (verb == "block") return run_block(all.block, out);
  if (verb == "check") return run_check(all.check, out);
  if (verb == "list") return run_list(all.list, out);
  if (verb == "sweep") return run_sweep(all.sweep, out);
  if (verb == "crossover") return run_crossover(all.crossover, out);
  if (verb == "report") return run_report(all.report, out);
  if (verb == "compare") return run_compare(all.compare, out);
  if (verb == "family") return run_family(all.family, out);
  if (verb == "break-even") return run_break_even(all.break_even, out);
  if (verb == "calibrate") return run_calibrate(all.calibrate, out);
  if (verb == "sensitivity") return run_sensitivity(all.sensitivity, out);
  return run_explain(all.explain, out);
}

// Results are held back until the line of progress is gone.
int run_with_progress(const CLI::App& app, AllArguments& all, std::ostream& out, std::ostream& errors) {
  std::ostringstream held;
  int code = 0;
  {
    const Progress progress(errors, app.get_subcommands().front()->get_name());
    code = run_verb(app, all, held);
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
int run_parsed(CLI::App& app, AllArguments& all, std::ostream& out, std::ostream& errors,
               const CommandLine& line) {
  try {
    app.parse(line.count, line.arguments);
  } catch (const CLI::ParseError& error) {
    const bool is_help = error.get_exit_code() == 0;
    app.exit(error, is_help ? out : errors, errors);
    return written(is_help ? 0 : bad_input, out);
  }
  if (line.terminals.out && std::getenv("NO_COLOR") == nullptr) all.common.colour = report::Colour::on;
  return written(line.terminals.errors ? run_with_progress(app, all, out, errors) : run_verb(app, all, out),
                 out);
}

}  // namespace

int run(int argument_count, const char* const* arguments, std::ostream& out, std::ostream& errors,
        Terminals terminals) {
  CLI::App app("portweigh: which silicon should carry a protocol port", "portweigh");
  app.set_version_flag("--version", std::string(PORTWEIGH_VERSION));
  app.require_subcommand(1);
  app.footer("Example:\n  portweigh rank studies/flow-meter.toml");
  AllArguments all;
  for (CLI::App* verb : {add_rank(app, all), add_block(app, all), add_check(app, all), add_list(app, all),
                         add_explain(app, all), add_sweep(app, all), add_crossover(app, all),
                         add_sensitivity(app, all), add_report(app, all), add_compare(app, all),
                         add_family(app, all), add_break_even(app, all), add_calibrate(app, all)}) {
    add_common(*verb, all.common);
  }
  // Before the verb too; after it wins where both are given.
  add_common(app, all.common);
  try {
    return run_parsed(app, all, out, errors, {argument_count, arguments, terminals});
  } catch (const reading::FileError& error) {
    errors << error.what() << "\n";
    return cannot_access;
  } catch (const reading::InputError& error) {
    errors << error.what() << "\n";
    return bad_input;
  } catch (const blocks::SettingError& error) {
    errors << error.what() << "\n";
    return bad_input;
  } catch (const std::exception& error) {
    // What no reader has foreseen still ends with a message.
    errors << "portweigh: cannot go on with this input: " << error.what() << "\n";
    return bad_input;
  }
}

}  // namespace portweigh::cli

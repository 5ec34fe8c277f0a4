// The verbs of the command line: what each takes, and one function for each that runs it.
//
// A verb prints results to `out`, returns its exit code (0 done; 1 no option meets every hard budget, only
// where
// --require-fit asks) and throws reading::InputError (exit code 2), blocks::SettingError (2) or
// reading::FileError (3). command_line.cpp fills the arguments; no verb knows how. Tested by
// tests/project/command_line_test.cpp and command_errors_test.cpp.
#pragma once

#include <cstdint>
#include <filesystem>
#include <iosfwd>
#include <string>
#include <vector>

#include "report/colour.hpp"

namespace portweigh::cli {

enum class Format { text, json };

struct Common {
  std::filesystem::path catalog;
  Format format = Format::text;
  unsigned threads = 0;  // 0: as many as the machine has
  report::Colour colour = report::Colour::off;
};

struct RankArguments {
  Common common;
  std::filesystem::path study;
  bool all = false;
  bool require_fit = false;
  unsigned samples = 4096;
  std::uint64_t seed = 1;
};

struct BlockArguments {
  Common common;
  std::string kind;
  std::vector<std::string> settings;  // NAME=VALUE
  unsigned lut_inputs = 4;
  bool carry_chain = false;
  bool plain_registers = false;
  unsigned smallest_ram_bits = 0;
  std::string core = "32-bit-two-stage";
  std::string optimise = "middle";  // what the compiler is asked for: size, speed, middle
};

struct CheckArguments {
  Common common;
  std::vector<std::filesystem::path> files;
};

struct ListArguments {
  Common common;
  std::string what;  // parts, blocks, cores, inputs, figures
  std::filesystem::path study;
};

struct ExplainArguments {
  Common common;
  std::filesystem::path study;
  std::string option;
  std::string figure;
};

struct SweepArguments {
  Common common;
  std::filesystem::path study;
  std::vector<std::string> over;  // one or two of INPUT=FROM:TO[:STEPS[:log]]
  std::string figure = "average_power";
  std::vector<std::string> only;  // option ids; empty: all
};

struct CrossoverArguments {
  Common common;
  std::filesystem::path study;
  std::string over;
  std::string figure;  // the least leads; empty: the best by the budgets
  std::vector<std::string> only;
};

struct SensitivityArguments {
  Common common;
  std::filesystem::path study;
  std::string option;  // empty: the leader
  std::vector<std::string> only;
  unsigned samples = 4096;
  std::uint64_t seed = 1;
};

struct ReportArguments {
  Common common;
  std::filesystem::path study;
  std::filesystem::path output;  // .html, .md, .csv or .json
  bool require_fit = false;
  unsigned samples = 4096;
  std::uint64_t seed = 1;
};

struct CompareArguments {
  Common common;
  std::filesystem::path before;
  std::filesystem::path after;
  std::filesystem::path output;  // .html; empty: print
};

struct FamilyArguments {
  Common common;
  std::filesystem::path family;
};

struct BreakEvenArguments {
  Common common;
  std::filesystem::path study;
};

struct CalibrateArguments {
  Common common;
  std::filesystem::path measured;
};

int run_rank(const RankArguments& arguments, std::ostream& out);
int run_block(const BlockArguments& arguments, std::ostream& out);
int run_check(const CheckArguments& arguments, std::ostream& out);
int run_list(const ListArguments& arguments, std::ostream& out);
int run_explain(const ExplainArguments& arguments, std::ostream& out);
int run_sweep(const SweepArguments& arguments, std::ostream& out);
int run_crossover(const CrossoverArguments& arguments, std::ostream& out);
int run_sensitivity(const SensitivityArguments& arguments, std::ostream& out);
int run_report(const ReportArguments& arguments, std::ostream& out);
int run_compare(const CompareArguments& arguments, std::ostream& out);
int run_family(const FamilyArguments& arguments, std::ostream& out);
int run_break_even(const BreakEvenArguments& arguments, std::ostream& out);
int run_calibrate(const CalibrateArguments& arguments, std::ostream& out);

}  // namespace portweigh::cli

// The report as plain data: what every format (HTML, Markdown, CSV, JSON) says, in one order and one wording.
//
// Order: recommendation in three sentences; options against budgets; what would change the decision; what
// drives the figures; rejected options; assumptions with their sources; method; cautions. Texts are
// unescaped; each format escapes for itself (escape.hpp). Tested by tests/report/document/document_test.cpp.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "report/document/analysis.hpp"

namespace portweigh::report {

struct Table {
  std::string caption;  // says what to see
  std::vector<std::string> titles;
  std::vector<std::vector<std::string>> rows;
};

// One input of the shown options.
struct Assumption {
  std::string key;
  std::string label;
  std::string value;
  std::string range;       // empty if exact
  std::string confidence;  // "exact", "good: -5 % .. +10 %", ...
  std::string source;
  std::string place;  // as Places tells it, empty for counted values
  bool is_counted = false;
  bool matters = false;  // drives a figure of the leader, or its change makes another option lead
};

struct RejectedGroup {
  std::string reason;
  std::vector<std::string> ids;
};

struct Document {
  const Run* run = nullptr;
  Analysis analysis;
  std::vector<std::size_t> shown;  // positions in run->ranking.ranked
  std::string title;
  std::string summary;
  std::vector<std::string> recommendation;  // what, how sure, what would change it
  std::vector<RejectedGroup> rejected;
  std::vector<Assumption> assumptions;
  std::vector<std::string> warnings;
  std::vector<std::string> method;
  // What the page can't recompute: inputs that need a new covering, schedule or package choice.
  std::vector<std::string> structural_inputs;
};

// Keeps a reference to the run.
Document make_document(const Run& run);

// The tables behind the text, in SI-prefixed units.
Table options_table(const Document& document);
Table flips_table(const Document& document);
Table drivers_table(const Document& document);
Table winner_table(const Document& document);
Table rank_share_table(const Document& document);
Table power_table(const Document& document);
Table settings_table(const Document& document);
Table cost_table(const Document& document);
Table probability_table(const Document& document);

// "active power" for "active_power"; the key itself where the figure isn't a known one.
std::string label_of_figure(const std::string& key);
std::string words_of(options::OptionKind kind);

// What makes up an option's cost_per_unit_over_life, each for one unit in the study's currency: its parts,
// making the unit (the rest of the unit's cost), one-time cost, change, and storing a last-time buy.
struct CostShares {
  double parts = 0;
  double making = 0;
  double one_time = 0;
  double change = 0;
  double stock = 0;
};
CostShares cost_shares(const options::Option& option);

// What an option draws in each state, by contributor, at typical values.
struct StatePower {
  std::string state;
  double total_w = 0;
  std::vector<std::pair<std::string, double>> contributors;  // label, W; largest first
};
std::vector<StatePower> state_powers(const options::Option& option, const study::Study& study);

const decision::RankedOption& ranked_at(const Document& document, std::size_t shown);
const options::Option& option_at(const Document& document, std::size_t shown);

}  // namespace portweigh::report

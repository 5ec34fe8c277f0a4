// Two saved runs side by side: which inputs moved, which figures followed, and why the order changed.
//
// A saved run is what `report --output run.json` writes. Ledgers of options of the same id are compared by
// key (figures/compare.hpp). Why: for the leader before and the leader after, each moved input is put into
// the earlier ledgers alone; its effect is the change of the gap between the two options' weighted margins:
//   effect = [score(new leader) - score(old leader)] with the input moved - the same without
// Effects of several inputs don't add up exactly, since figures aren't linear in them; what is left is shown
// as such. Worked example: tests/report/saved/compare_runs_test.cpp, where a dearer part loses its lead.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <vector>

#include "figures/ledger/compare.hpp"
#include "report/document/document.hpp"

namespace portweigh::report {

struct SavedOption {
  std::string id;
  unsigned rank = 0;
  bool meets = false;
  double probability = 0;
  double weighted_margin = 0;
  figures::Ledger ledger;
};

struct SavedBudget {
  std::string figure;
  double limit = 0;
  double margin = 0;
  double weight = 0;
  bool is_hard = false;
  friend bool operator==(const SavedBudget&, const SavedBudget&) = default;
};

struct SavedRun {
  std::string study;
  std::string currency;
  std::vector<SavedOption> options;  // best first
  std::vector<SavedBudget> budgets;
  std::vector<std::pair<std::string, std::string>> rejected;  // id, reason
  Notices notices;
};

// Throws figures::ImportError where the JSON isn't a saved run.
SavedRun read_saved_run(const nlohmann::ordered_json& json);

struct MovedFigure {
  std::string option;
  figures::FigureChange change;
};

struct RankChange {
  std::string option;
  std::optional<unsigned> before;  // none: wasn't there
  std::optional<unsigned> after;   // none: can't be built any more
  std::string reason;              // of its rejection, if it was rejected
  double probability_before = 0;
  double probability_after = 0;
  double margin_before = 0;
  double margin_after = 0;
};

struct Effect {
  std::string input;
  double change = 0;  // of the gap between the new and the old leader's weighted margins
};

struct RunComparison {
  std::string study_before;
  std::string study_after;
  std::vector<figures::InputChange> inputs;  // each once, whatever number of options has it
  std::vector<std::pair<std::optional<SavedBudget>, std::optional<SavedBudget>>> budgets;
  std::vector<MovedFigure> figures;  // of options in both runs; known figures only
  std::vector<RankChange> ranks;     // options whose rank, probability or margin changed, in the order after
  std::string leader_before;
  std::string leader_after;
  std::vector<Effect> effects;  // largest first; empty where the leader stays
  double gap_before = 0;        // new leader's weighted margin less the old one's
  double gap_after = 0;
  std::vector<std::string> conclusion;  // in words
  Notices notices;                      // of both runs
};

RunComparison compare_runs(const SavedRun& before, const SavedRun& after);

std::string comparison_text(const RunComparison& comparison);
nlohmann::ordered_json comparison_json(const RunComparison& comparison);
std::string comparison_html(const RunComparison& comparison);

}  // namespace portweigh::report

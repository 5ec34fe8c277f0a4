#include "study/study_checks.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "reading/suggest.hpp"
#include "study/figure_names.hpp"
#include "study/study_reader.hpp"

namespace portweigh::study {
namespace {

using namespace reading;

constexpr double share_tolerance = 1e-3;

bool contains(const std::vector<std::string>& names, const std::string& name) {
  return std::find(names.begin(), names.end(), name) != names.end();
}

// The readers of an array of tables; none where the key is absent (which is told elsewhere).
std::vector<TableReader> readers_of(TableReader& root, const char* key) {
  return root.optional_tables(key);
}

template <class Record>
void check_unique(std::vector<TableReader>& readers, const std::vector<Record>& records, const char* noun) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < std::min(readers.size(), records.size()); ++i) {
    const auto& name = records[i].name;
    if (name.empty() || names.insert(name).second) continue;
    readers[i].report("name", fmt::format("{} \"{}\" is listed twice, expected a unique name", noun, name));
  }
}

void check_states(TableReader& root, const Study& study) {
  auto readers = readers_of(root, "state");
  if (readers.empty() || readers.size() != study.states.size()) return;
  check_unique(readers, study.states, "state");
  double total = 0;
  bool has_every_share = true;
  std::vector<std::size_t> active;
  for (std::size_t i = 0; i < study.states.size(); ++i) {
    total += study.states[i].share.range.typical;
    has_every_share = has_every_share && readers[i].has("share");
    if (study.states[i].is_active) active.push_back(i);
    if (study.states[i].is_active && !study.states[i].is_attached) {
      readers[i].report("attached", "an active state without a cable, expected attached = true");
    }
  }
  if (has_every_share && std::abs(total - 1) > share_tolerance) {
    readers.front().report("share", fmt::format("typical shares of the states add up to {:.6g}, expected 1 "
                                                "(within {})",
                                                total, share_tolerance));
  }
  if (active.empty()) readers.front().report("no state has active = true, expected exactly one");
  for (std::size_t i = 1; i < active.size(); ++i) {
    readers[active[i]].report("active",
                              fmt::format("state \"{}\" is active and so is \"{}\", expected exactly "
                                          "one active state",
                                          study.states[active[i]].name, study.states[active.front()].name));
  }
}

void check_currency(TableReader& reader, const std::string& key, const figures::Unit& unit,
                    const std::string& currency) {
  if (unit.currency.empty() || currency.empty() || unit.currency == currency) return;
  reader.report(key, fmt::format("{} in {}, expected the study's currency {}", key, unit.currency, currency));
}

struct MoneyMember {
  const char* key;
  SourcedRange Money::*member;
};

constexpr MoneyMember money_members[] = {{"labour_rate", &Money::labour_rate},
                                         {"board_area_cost", &Money::board_area_cost},
                                         {"placement_cost", &Money::placement_cost},
                                         {"test_cost", &Money::test_cost},
                                         {"programming_rate", &Money::programming_rate},
                                         {"certification_cost", &Money::certification_cost},
                                         {"tools_cost", &Money::tools_cost},
                                         {"board_turn_cost", &Money::board_turn_cost},
                                         {"field_update_cost", &Money::field_update_cost},
                                         {"factory_update_cost", &Money::factory_update_cost}};

struct OptionalMoneyMember {
  const char* key;
  std::optional<SourcedRange> Money::*member;
};

constexpr OptionalMoneyMember optional_money_members[] = {
    {"prototype_cost", &Money::prototype_cost},
    {"certification_of_controller", &Money::certification_of_controller},
    {"certification_of_firmware", &Money::certification_of_firmware},
    {"certification_of_logic", &Money::certification_of_logic}};

void check_money(TableReader& root, const Study& study, const std::vector<std::string>& known) {
  if (!study.currency.empty() && !known.empty() && !contains(known, study.currency)) {
    root.report("currency", unknown_name_message("currency", study.currency, known));
  }
  if (auto money = root.optional_table("money")) {
    for (const auto& [key, member] : money_members) {
      if (money->has(key)) check_currency(*money, key, (study.money.*member).unit, study.currency);
    }
  }
  if (auto money = root.optional_table("money")) {
    for (const auto& [key, member] : optional_money_members) {
      if (const auto& value = study.money.*member) check_currency(*money, key, value->unit, study.currency);
    }
  }
  auto budgets = readers_of(root, "budget");
  for (std::size_t i = 0; i < std::min(budgets.size(), study.budgets.size()); ++i) {
    check_currency(budgets[i], "limit", study.budgets[i].unit, study.currency);
  }
}

void check_budgets(TableReader& root, const Study& study) {
  auto readers = readers_of(root, "budget");
  std::set<std::pair<std::string, Strength>> seen;
  for (std::size_t i = 0; i < std::min(readers.size(), study.budgets.size()); ++i) {
    const auto& budget = study.budgets[i];
    if (find_figure(budget.figure) == nullptr || seen.insert({budget.figure, budget.strength}).second)
      continue;
    readers[i].report("figure", fmt::format("figure \"{}\" has two {}, expected one", budget.figure,
                                            budget.strength == Strength::hard ? "hard limits" : "wishes"));
  }
}

// Weights and swings are two ways to say the same: one of them, for all budgets.
void check_swings(TableReader& root, const Study& study) {
  auto readers = readers_of(root, "budget");
  double points = 0;
  std::size_t with_swing = 0;
  for (const Budget& budget : study.budgets) {
    with_swing += budget.swing ? 1 : 0;
    points += budget.swing.value_or(0);
  }
  if (with_swing == 0) return;
  for (std::size_t i = 0; i < std::min(readers.size(), study.budgets.size()); ++i) {
    if (readers[i].has("weight")) {
      readers[i].report("weight", "weight beside swing, expected one of them for all budgets");
    } else if (!study.budgets[i].swing) {
      readers[i].report("a budget without swing, expected one in every budget since another has it");
    }
  }
  if (points <= 0)
    readers.front().report("swing", "no budget has points, expected 100 for the most important");
}

void check_names(TableReader& reader, const char* key, const char* noun,
                 const std::vector<std::string>& given, const std::vector<std::string>& known) {
  if (!reader.has(key)) return;
  for (std::size_t i = 0; i < given.size(); ++i) {
    if (!given[i].empty() && !contains(known, given[i])) {
      reader.report(key, i, unknown_name_message(noun, given[i], known));
    }
  }
}

void check_life(TableReader& root, const Study& study) {
  auto life = root.optional_table("life");
  if (!life) return;
  const auto& ramp = study.life.volume_ramp;
  const bool is_none_made = std::all_of(
      ramp.begin(), ramp.end(), [](const auto& share_of_year) { return share_of_year.value_si <= 0; });
  if (!ramp.empty() && is_none_made) {
    life->report("volume_ramp", "no year has units, expected a share above 0 in one year at least");
  }
  if (study.life.learning_rate && !study.life.learning_reference) {
    life->report("learning_rate",
                 "a learning rate without learning_reference, expected the units made when the study's "
                 "production costs hold");
  }
}

// Each a part of the catalog, once.
void check_excluded_parts(TableReader& root, const Study& study, const std::vector<std::string>& known) {
  auto readers = excluded_part_readers(root);
  if (readers.size() != study.excluded_parts.size()) return;
  std::set<std::string> seen;
  for (std::size_t i = 0; i < readers.size(); ++i) {
    const std::string& part = study.excluded_parts[i].part;
    if (part.empty()) continue;
    if (!contains(known, part)) {
      readers[i].report("part", unknown_name_message("part", part, known));
    } else if (!seen.insert(part).second) {
      readers[i].report("part", fmt::format("part \"{}\" is listed twice, expected each once", part));
    }
  }
}

}  // namespace

std::vector<TableReader> excluded_part_readers(TableReader& root) {
  return root.optional_tables("excluded_parts", "a table such as { part = \"ID\", reason = \"why\" }");
}

void check_study(TableReader& root, const Study& study, const CatalogNames& names) {
  check_states(root, study);
  check_money(root, study, names.currencies);
  check_budgets(root, study);
  check_swings(root, study);
  check_life(root, study);
  check_names(root, "only_parts", "part", study.only_parts, names.parts);
  check_excluded_parts(root, study, names.parts);
  if (study.host && !study.host->core.empty() && !contains(names.core_classes, study.host->core)) {
    auto host = root.required_table("host");
    host.report("core", unknown_name_message("core class", study.host->core, names.core_classes));
  }
  auto revisions = readers_of(root, "revision");
  check_unique(revisions, study.revisions, "revision");
}

void check_revision_groups(TableReader& root, const Study& study, const CatalogNames& names) {
  std::vector<std::string> groups = names.revision_groups;
  for (const auto& block : study.function.blocks) {
    if (!block.revision_group.empty() && !contains(groups, block.revision_group)) {
      groups.push_back(block.revision_group);
    }
  }
  std::sort(groups.begin(), groups.end());
  auto readers = readers_of(root, "revision");
  for (std::size_t i = 0; i < std::min(readers.size(), study.revisions.size()); ++i) {
    const auto& touches = study.revisions[i].touches;
    for (std::size_t j = 0; j < touches.size(); ++j) {
      if (touches[j].empty() || contains(groups, touches[j])) continue;
      readers[i].report("touches", j, unknown_name_message("revision group", touches[j], groups));
    }
  }
}

void check_reuse(TableReader& root, const Study& study, const CatalogNames& names) {
  auto reuse = root.optional_table("reuse");
  if (!reuse) return;
  std::vector<std::string> blocks;
  for (const auto& block : study.function.blocks) blocks.push_back(block.name);
  check_names(*reuse, "logic_blocks", "block", study.reuse.logic_blocks, blocks);
  check_names(*reuse, "firmware_blocks", "block", study.reuse.firmware_blocks, blocks);
  check_names(*reuse, "parts", "part", study.reuse.parts, names.parts);
}

}  // namespace portweigh::study

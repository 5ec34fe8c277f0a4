// What an option costs once: engineering at the labour rate, certification, tools, prototypes.
//
// Certification may differ by what carries the protocol: ready controllers, own firmware, own logic.
// Tools come with a part's family: a family that the company has already (reuse in the study) needs none, and
// neither does a fixed function. The items that make it up are kept, so that the products of a family can
// share them (family_search.hpp). Tested by tests/options/money/one_time_cost_test.cpp.
#include <fmt/core.h>

#include <algorithm>

#include "options/money/money.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;

void add_item(Draft& draft, const std::string& what, const std::string& shared_key, Figure cost) {
  draft.option.one_time_items.push_back({what, shared_key, cost.index()});
}

// Families of programmable parts whose tools have to be bought.
std::vector<std::string> families_without_tools(const Draft& draft) {
  const auto& reused = draft.context.study.reuse.parts;
  std::vector<std::string> families;
  for (const Chip& chip : draft.candidate.chips) {
    const parts::Part& part = chip.part();
    const bool has_tools = std::find(reused.begin(), reused.end(), part.id) != reused.end();
    if (chip.is_programmable() && !has_tools) families.push_back(part.family);
  }
  std::sort(families.begin(), families.end());
  families.erase(std::unique(families.begin(), families.end()), families.end());
  return families;
}

}  // namespace

Figure certification_of(Draft& draft) {
  const study::Money& money = draft.context.study.money;
  const auto uses = [&](EngineKind engine) { return draft.candidate.uses(engine); };
  const auto& by_kind =
      uses(EngineKind::fabric) ? money.certification_of_logic
      : uses(EngineKind::microcontroller) || uses(EngineKind::host) || uses(EngineKind::soft_processor)
          ? money.certification_of_firmware
          : money.certification_of_controller;
  return draft.input(by_kind ? *by_kind : money.certification_cost);
}

Figure add_one_time(Draft& draft, const Engineering& engineering, Figure labour_rate) {
  const study::Money& money = draft.context.study.money;
  const std::string& currency = draft.context.study.currency;
  Figure cost = draft.name(engineering.total * labour_rate, "engineering_cost", "engineering", currency);
  for (const EffortItem& item : engineering.items) {
    add_item(draft, item.what, item.shared_key, item.once * labour_rate);
  }
  if (!engineering.items.empty()) {
    const Figure certification = certification_of(draft);
    add_item(draft, "certification", "", certification);
    cost = cost + certification;
    for (const std::string& family : families_without_tools(draft)) {
      const Figure tools = draft.input(money.tools_cost);
      add_item(draft, "tools of " + family, "tools/" + family, tools);
      cost = cost + tools;
    }
    if (money.prototype_cost) {
      const Figure prototypes = draft.input(*money.prototype_cost);
      add_item(draft, "prototypes", "", prototypes);
      cost = cost + prototypes;
    }
  }
  return draft.name(cost, "one_time_cost", "one-time cost", currency);
}

}  // namespace portweigh::options

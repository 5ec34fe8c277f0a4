#include "options/family/family.hpp"

#include <algorithm>
#include <map>

#include "figures/evaluation/evaluate.hpp"
#include "options/family/family_search.hpp"
#include "options/limits.hpp"

namespace portweigh::options {
namespace {

struct Candidates {
  std::string product;
  std::vector<std::string> ids;
  std::vector<std::string> settings;
  std::vector<double> life_cost;
  std::vector<FamilyChoice> choices;
};

bool keeps_hard_limits(const Option& option, const study::Study& study, const std::vector<double>& values) {
  const auto limits = limits_of(option, study);
  return std::all_of(limits.begin(), limits.end(), [&](const Limit& limit) {
    if (!limit.is_hard) return true;
    const auto figure = option.ledger.find(limit.figure);
    return !figure || meets(limit, values[figure->index()]);
  });
}

Candidates candidates_of(const Context& context, const std::string& product, const Considering& considering) {
  Candidates found{product, {}, {}, {}, {}};
  for (const Option& option : considering(context).options) {
    const auto values = figures::evaluate_all(option.ledger);
    if (!keeps_hard_limits(option, context.study, values)) continue;
    const double life_cost = values[option.ledger.at("cost_per_unit_over_life").index()] *
                             values[option.ledger.at("units").index()];
    std::map<std::string, double> shared;
    double shared_cost = 0;
    for (const OneTimeItem& item : option.one_time_items) {
      if (item.shared_key.empty()) continue;
      shared[item.shared_key] += values[item.node];
      shared_cost += values[item.node];
    }
    found.ids.push_back(option.id);
    found.settings.push_back(option.setting);
    found.life_cost.push_back(life_cost);
    found.choices.push_back({life_cost - shared_cost, {shared.begin(), shared.end()}});
  }
  return found;
}

std::vector<SharedCost> shared_costs(const std::vector<Candidates>& products,
                                     const std::vector<std::size_t>& chosen) {
  std::map<std::string, SharedCost> by_item;
  for (std::size_t p = 0; p < products.size(); ++p) {
    for (const auto& [item, cost] : products[p].choices[chosen[p]].shared) {
      SharedCost& shared = by_item[item];
      shared.item = item;
      shared.products.push_back(products[p].product);
      shared.saved += std::min(shared.paid, cost);
      shared.paid = std::max(shared.paid, cost);
    }
  }
  std::vector<SharedCost> result;
  for (auto& [item, shared] : by_item) {
    if (shared.products.size() > 1 && shared.saved > 0) result.push_back(std::move(shared));
  }
  std::stable_sort(result.begin(), result.end(),
                   [](const auto& a, const auto& b) { return a.saved > b.saved; });
  return result;
}

}  // namespace

FamilyResult choose_for_family(const parts::Catalog& catalog, const parts::Effort& effort,
                               const study::Family& family, BlockLibrary& library,
                               const Considering& considering) {
  FamilyResult result;
  result.name = family.name;
  result.currency = family.currency;
  std::vector<Candidates> products;
  FamilyProducts choices;
  for (const study::FamilyProduct& product : family.products) {
    Candidates found = candidates_of({catalog, effort, product.study, library}, product.name, considering);
    if (found.choices.empty()) {
      result.without_option.push_back(product.name);
      continue;
    }
    choices.push_back(found.choices);
    products.push_back(std::move(found));
  }
  if (products.empty()) return result;
  const FamilyOptimum optimum = best_family(choices);
  const auto alone = best_alone(choices);
  for (std::size_t p = 0; p < products.size(); ++p) {
    const Candidates& of = products[p];
    result.products.push_back({of.product, of.ids[optimum.chosen[p]], of.settings[optimum.chosen[p]],
                               of.life_cost[optimum.chosen[p]], of.ids[alone[p]], of.life_cost[alone[p]],
                               of.ids.size()});
    result.alone_cost += of.life_cost[alone[p]];
  }
  result.alone_shared_cost = family_cost(choices, alone);
  result.family_cost = optimum.cost;
  result.visited = optimum.visited;
  result.shared = shared_costs(products, optimum.chosen);
  return result;
}

}  // namespace portweigh::options

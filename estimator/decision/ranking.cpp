#include "decision/ranking.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>
#include <utility>

#include "decision/acceptability.hpp"

namespace portweigh::decision {
namespace {

using options::Limit;
using options::margin_of;
using options::meets;
using options::Option;

RankedOption summarise(const Option& option, const OptionSamples& samples, const Sampling& sampling) {
  RankedOption ranked;
  for (std::size_t i = 0; i < samples.keys.size(); ++i) {
    const auto [low, high] = samples.range[i];
    const auto* name = option.ledger.name_of(option.ledger.at(samples.keys[i]).index());
    ranked.figures[samples.keys[i]] = {samples.typical[i], low, high, name->unit};
  }
  ranked.meets_budgets = true;
  double weights = 0;
  for (std::size_t i = 0; i < samples.limits.size(); ++i) {
    const Limit& limit = samples.limits[i];
    const double value = samples.typical[samples.limit_figures[i]];
    ranked.budgets.push_back({limit.figure, limit.limit, value, margin_of(limit, value), meets(limit, value),
                              samples.shares_met[i], limit.is_hard, limit.is_implied, limit.unit,
                              limit.meaning});
    if (limit.is_hard) {
      ranked.meets_budgets = ranked.meets_budgets && meets(limit, value);
      ranked.worst_excess = std::max(ranked.worst_excess, options::excess_of(limit, value));
    }
    ranked.weighted_margin += limit.weight * margin_of(limit, value);
    weights += limit.weight;
  }
  if (weights > 0) ranked.weighted_margin /= weights;
  const double probability = samples.share_possible;
  ranked.probability_meets_budgets = probability;
  ranked.standard_error = std::sqrt(probability * (1 - probability) / static_cast<double>(sampling.samples));
  return ranked;
}

void add_acceptability(const Acceptability& found, std::vector<RankedOption>& ranked) {
  for (std::size_t i = 0; i < ranked.size(); ++i) {
    const auto shares = found.rank_shares.row(static_cast<Eigen::Index>(i));
    ranked[i].first_rank_share = shares(0);
    ranked[i].rank_shares.assign(shares.begin(), shares.end());
    if (const auto& central = found.central_weights[i]) {
      ranked[i].central_weights.assign(central->begin(), central->end());
    }
  }
}

// Closeness at typical values, among the options that meet every hard budget, or among all where none does.
void add_second_opinion(const study::Study& study, std::vector<RankedOption>& ranked) {
  const bool any_meets =
      std::any_of(ranked.begin(), ranked.end(), [](const auto& option) { return option.meets_budgets; });
  std::vector<RankedOption*> judged;
  for (RankedOption& option : ranked) {
    const auto own = std::count_if(option.budgets.begin(), option.budgets.end(),
                                   [](const auto& budget) { return !budget.is_implied; });
    const bool has_all = own == static_cast<std::ptrdiff_t>(study.budgets.size());
    if (has_all && (option.meets_budgets || !any_meets)) judged.push_back(&option);
  }
  if (judged.size() < 2 || study.budgets.empty()) return;
  const auto criteria = static_cast<Eigen::Index>(study.budgets.size());
  Eigen::ArrayXXd values(static_cast<Eigen::Index>(judged.size()), criteria);
  Eigen::ArrayXd weights(criteria);
  for (Eigen::Index c = 0; c < criteria; ++c) {
    const auto budget = static_cast<std::size_t>(c);
    weights(c) = study.budgets[budget].weight;
    for (std::size_t i = 0; i < judged.size(); ++i) {
      values(static_cast<Eigen::Index>(i), c) = judged[i]->budgets[budget].value;
    }
  }
  const Eigen::ArrayXd closeness =
      topsis(values, weights, std::vector<bool>(static_cast<std::size_t>(criteria), false));
  for (std::size_t i = 0; i < judged.size(); ++i) {
    judged[i]->closeness = closeness(static_cast<Eigen::Index>(i));
  }
}

long percent(double probability) {
  return std::lround(100 * probability);
}

// How far the hard limits are kept, in the steps of the order. Negative: `a` keeps them better.
int compare_standing(const RankedOption& a, const RankedOption& b) {
  if (a.meets_budgets != b.meets_budgets) return a.meets_budgets ? -1 : 1;
  const long sure_a = percent(a.probability_meets_budgets);
  const long sure_b = percent(b.probability_meets_budgets);
  if (sure_a != sure_b) return sure_a > sure_b ? -1 : 1;
  if (a.meets_budgets || a.worst_excess == b.worst_excess) return 0;
  return a.worst_excess < b.worst_excess ? -1 : 1;
}

// How many of the option's results are of the study's budgets; options without a figure have none for it.
std::size_t count_of_study(const RankedOption& ranked) {
  const auto is_implied = [](const BudgetResult& budget) { return budget.is_implied; };
  const auto end = std::find_if(ranked.budgets.begin(), ranked.budgets.end(), is_implied);
  return static_cast<std::size_t>(end - ranked.budgets.begin());
}

// No worse in keeping the hard limits, in each of these respects, nor in any budget's figure; better in one.
bool dominates(const RankedOption& a, const RankedOption& b) {
  if (a.meets_budgets < b.meets_budgets) return false;
  if (percent(a.probability_meets_budgets) < percent(b.probability_meets_budgets)) return false;
  if (!b.meets_budgets && !a.meets_budgets && a.worst_excess > b.worst_excess) return false;
  const std::size_t count = count_of_study(a);
  if (count != count_of_study(b)) return false;
  bool is_better = false;
  for (std::size_t i = 0; i < count; ++i) {
    const BudgetResult& own = a.budgets[i];
    const BudgetResult& other = b.budgets[i];
    if (own.value > other.value || own.figure != other.figure) return false;
    is_better = is_better || own.value < other.value;
  }
  return is_better;
}

// By the first of those that come earlier; none that comes later can.
void mark_dominated(std::vector<RankedOption>& ranked, const std::vector<Option>& options) {
  for (auto candidate = ranked.begin(); candidate != ranked.end(); ++candidate) {
    const auto better = std::find_if(ranked.begin(), candidate,
                                     [&](const RankedOption& other) { return dominates(other, *candidate); });
    if (better == candidate) continue;
    candidate->is_dominated = true;
    candidate->dominated_by = options[better->option].id;
  }
}

// Of the study's budgets, in its order: figure and value.
std::vector<std::pair<std::string_view, double>> values_of(const RankedOption& ranked) {
  std::vector<std::pair<std::string_view, double>> values;
  for (std::size_t i = 0; i < count_of_study(ranked); ++i) {
    values.emplace_back(ranked.budgets[i].figure, ranked.budgets[i].value);
  }
  return values;
}

bool comes_before(const RankedOption& a, const RankedOption& b, const std::vector<Option>& options) {
  if (const int standing = compare_standing(a, b); standing != 0) return standing < 0;
  if (a.weighted_margin != b.weighted_margin) return a.weighted_margin > b.weighted_margin;
  // Margins end at -1 and 1 and some weigh nothing: the values tell apart what they don't.
  const auto own = values_of(a);
  const auto other = values_of(b);
  return own != other ? own < other : options[a.option].id < options[b.option].id;
}

void mark_choices(Ranking& ranking) {
  std::vector<Regret> regrets;
  for (std::size_t place = 0; place < ranking.ranked.size(); ++place) {
    const RankedOption& ranked = ranking.ranked[place];
    regrets.push_back(ranked.regret);
    if (!ranked.closeness) continue;
    if (!ranking.second_opinion || *ranked.closeness > *ranking.ranked[*ranking.second_opinion].closeness) {
      ranking.second_opinion = place;
    }
  }
  ranking.expected_choice = expected_choice(regrets);
  ranking.robust_choice = robust_choice(regrets);
}

}  // namespace

std::vector<RankedOption> in_order(const std::vector<Option>& options, const study::Study& study,
                                   const Sampling& sampling) {
  const auto sampled = sample_options(options, study, sampling, [](const SampleBlock&) {});
  std::vector<RankedOption> ordered;
  for (std::size_t i = 0; i < options.size(); ++i) {
    ordered.push_back(summarise(options[i], sampled[i], sampling));
    ordered.back().option = i;
  }
  std::sort(ordered.begin(), ordered.end(),
            [&](const RankedOption& a, const RankedOption& b) { return comes_before(a, b, options); });
  return ordered;
}

Ranking rank(const std::vector<Option>& options, const study::Study& study, const Sampling& sampling,
             Eigen::ArrayXXd* worth) {
  const std::size_t criteria = study.budgets.size();
  const Eigen::ArrayXXd weights =
      simplex_weights(sampling.samples, static_cast<Eigen::Index>(criteria), sampling.seed + 1);
  RegretSums regrets(options.size());
  RankCounts ranks(options.size(), criteria);
  if (worth != nullptr) worth->resize(sampling.samples, static_cast<Eigen::Index>(options.size()));
  const auto sampled = sample_options(options, study, sampling, [&](const SampleBlock& block) {
    const Eigen::ArrayXXd worth_in_block = worth_of(block, study);
    if (worth != nullptr) worth->middleRows(block.first, block.count) = worth_in_block;
    regrets.add(worth_in_block);
    if (criteria > 0) {
      ranks.add(block.options, weights.middleRows(block.first, block.count), sampling.threads);
    }
  });
  Ranking ranking;
  ranking.sampling = sampling;
  const std::vector<Regret> found = regrets.result();
  for (std::size_t i = 0; i < options.size(); ++i) {
    RankedOption& ranked = ranking.ranked.emplace_back(summarise(options[i], sampled[i], sampling));
    ranked.option = i;
    ranked.regret = found[i];
  }
  if (criteria > 0) add_acceptability(ranks.result(), ranking.ranked);
  add_second_opinion(study, ranking.ranked);
  std::sort(ranking.ranked.begin(), ranking.ranked.end(),
            [&](const RankedOption& a, const RankedOption& b) { return comes_before(a, b, options); });
  for (std::size_t i = 0; i < ranking.ranked.size(); ++i) {
    ranking.ranked[i].rank = static_cast<unsigned>(i + 1);
  }
  mark_dominated(ranking.ranked, options);
  mark_choices(ranking);
  return ranking;
}

}  // namespace portweigh::decision

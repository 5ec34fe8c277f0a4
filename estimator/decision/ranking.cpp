#include "decision/ranking.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <random>
#include <set>
#include <thread>

#include "decision/option_samples.hpp"
#include "figures/evaluate.hpp"
#include "options/limits.hpp"
#include "study/figure_names.hpp"

namespace portweigh::decision {
namespace {

using options::Limit;
using options::limits_of;
using options::margin_of;
using options::meets;
using options::Option;

std::vector<std::string> wanted_keys(const Option& option, const std::vector<Limit>& limits) {
  std::set<std::string> keys;
  for (const study::FigureName& figure : study::known_figures()) keys.insert(std::string(figure.name));
  for (const std::string_view more : {"required_clock", "peak_power", "change_cost", "effort"}) {
    keys.emplace(more);
  }
  for (const Limit& limit : limits) keys.insert(limit.figure);
  std::vector<std::string> wanted;
  for (const std::string& key : keys) {
    if (option.ledger.find(key)) wanted.push_back(key);
  }
  return wanted;
}

struct Sampled {
  std::vector<Limit> limits;
  OptionSamples samples;
};

RankedOption summarise(const Option& option, const Sampled& sampled) {
  RankedOption ranked;
  const OptionSamples& samples = sampled.samples;
  for (std::size_t i = 0; i < samples.keys.size(); ++i) {
    const auto column = samples.values.col(static_cast<Eigen::Index>(i));
    const auto* name = option.ledger.name_of(option.ledger.at(samples.keys[i]).index());
    ranked.figures[samples.keys[i]] = {samples.typical[i], quantile(column, 0.05), quantile(column, 0.95),
                                       name->unit};
  }
  const Eigen::Index count = samples.values.rows();
  Eigen::ArrayXd all_met = Eigen::ArrayXd::Ones(count);
  ranked.meets_budgets = true;
  double weights = 0;
  for (const Limit& limit : sampled.limits) {
    const Eigen::Index column = column_of(samples, limit.figure);
    if (column < 0) continue;
    const double value = samples.typical[static_cast<std::size_t>(column)];
    const Eigen::ArrayXd met =
        samples.values.col(column).unaryExpr([&](double sample) { return meets(limit, sample) ? 1.0 : 0.0; });
    ranked.budgets.push_back({limit.figure, limit.limit, value, margin_of(limit, value), meets(limit, value),
                              met.mean(), limit.is_hard, limit.is_implied, limit.unit, limit.meaning});
    if (limit.is_hard) {
      ranked.meets_budgets = ranked.meets_budgets && meets(limit, value);
      all_met *= met;
    }
    ranked.weighted_margin += limit.weight * margin_of(limit, value);
    weights += limit.weight;
  }
  if (weights > 0) ranked.weighted_margin /= weights;
  const double probability = all_met.mean();
  ranked.probability_meets_budgets = probability;
  ranked.standard_error = std::sqrt(probability * (1 - probability) / static_cast<double>(count));
  return ranked;
}

// Weights uniform on the simplex: gaps of sorted uniforms are as good as normalised exponentials, which are
// simpler.
std::vector<double> random_weights(std::size_t count, std::mt19937_64& random) {
  std::vector<double> weights(count);
  double sum = 0;
  for (double& weight : weights) {
    weight = -std::log((static_cast<double>(random() >> 11U) + 0.5) * 0x1p-53);
    sum += weight;
  }
  for (double& weight : weights) weight /= sum;
  return weights;
}

void count_first_ranks(const std::vector<Sampled>& sampled, const study::Study& study, std::uint64_t seed,
                       std::vector<RankedOption>& ranked) {
  if (sampled.empty() || study.budgets.empty()) return;
  const Eigen::Index count = sampled.front().samples.values.rows();
  std::mt19937_64 random(seed);
  for (Eigen::Index row = 0; row < count; ++row) {
    const std::vector<double> weights = random_weights(study.budgets.size(), random);
    std::size_t best = sampled.size();
    double best_score = 0;
    for (std::size_t i = 0; i < sampled.size(); ++i) {
      double score = 0;
      bool holds = true;
      for (std::size_t b = 0; b < sampled[i].limits.size() && holds; ++b) {
        const Limit& limit = sampled[i].limits[b];
        const Eigen::Index column = column_of(sampled[i].samples, limit.figure);
        if (column < 0) continue;
        const double value = sampled[i].samples.values(row, column);
        holds = !limit.is_hard || meets(limit, value);
        if (b < weights.size()) score += weights[b] * margin_of(limit, value);
      }
      if (holds && (best == sampled.size() || score > best_score)) {
        best = i;
        best_score = score;
      }
    }
    if (best < ranked.size()) ranked[best].first_rank_share += 1.0 / static_cast<double>(count);
  }
}

// No worse in every budget's figure and better in at least one, at typical values.
bool dominates(const RankedOption& a, const RankedOption& b) {
  bool is_better = false;
  for (std::size_t i = 0; i < a.budgets.size() && i < b.budgets.size(); ++i) {
    if (a.budgets[i].is_implied || b.budgets[i].is_implied) break;
    if (a.budgets[i].value > b.budgets[i].value) return false;
    is_better = is_better || a.budgets[i].value < b.budgets[i].value;
  }
  return is_better && a.meets_budgets >= b.meets_budgets;
}

void mark_dominated(std::vector<RankedOption>& ranked, const std::vector<Option>& options) {
  for (RankedOption& candidate : ranked) {
    for (const RankedOption& other : ranked) {
      if (&other != &candidate && dominates(other, candidate)) {
        candidate.is_dominated = true;
        candidate.dominated_by = options[other.option].id;
        break;
      }
    }
  }
}

std::vector<Sampled> sample_all(const std::vector<Option>& options, const study::Study& study,
                                const Sampling& sampling) {
  std::vector<const figures::Ledger*> ledgers;
  for (const Option& option : options) ledgers.push_back(&option.ledger);
  const figures::SampleTable table(ledgers, sampling.samples, sampling.seed);
  std::vector<Sampled> sampled(options.size());
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < options.size(); i = next++) {
      sampled[i].limits = limits_of(options[i], study);
      sampled[i].samples = sample_option(options[i], wanted_keys(options[i], sampled[i].limits), table);
    }
  };
  std::vector<std::thread> pool;
  for (unsigned i = 1; i < sampling.threads; ++i) pool.emplace_back(work);
  work();
  for (std::thread& thread : pool) thread.join();
  return sampled;
}

}  // namespace

Ranking rank(const std::vector<Option>& options, const study::Study& study, const Sampling& sampling) {
  Ranking ranking;
  ranking.sampling = sampling;
  const std::vector<Sampled> sampled = sample_all(options, study, sampling);
  for (std::size_t i = 0; i < options.size(); ++i) {
    ranking.ranked.push_back(summarise(options[i], sampled[i]));
    ranking.ranked.back().option = i;
  }
  count_first_ranks(sampled, study, sampling.seed, ranking.ranked);
  mark_dominated(ranking.ranked, options);
  std::sort(ranking.ranked.begin(), ranking.ranked.end(), [&](const RankedOption& a, const RankedOption& b) {
    const auto percent = [](double probability) { return std::lround(100 * probability); };
    if (a.meets_budgets != b.meets_budgets) return a.meets_budgets;
    if (percent(a.probability_meets_budgets) != percent(b.probability_meets_budgets)) {
      return a.probability_meets_budgets > b.probability_meets_budgets;
    }
    if (a.weighted_margin != b.weighted_margin) return a.weighted_margin > b.weighted_margin;
    return options[a.option].id < options[b.option].id;
  });
  for (std::size_t i = 0; i < ranking.ranked.size(); ++i)
    ranking.ranked[i].rank = static_cast<unsigned>(i + 1);
  return ranking;
}

}  // namespace portweigh::decision

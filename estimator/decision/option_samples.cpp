#include "decision/option_samples.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "decision/parallel.hpp"
#include "figures/evaluate.hpp"
#include "figures/sample_evaluator.hpp"
#include "study/figure_names.hpp"

namespace portweigh::decision {
namespace {

std::vector<std::string> wanted_keys(const options::Option& option,
                                     const std::vector<options::Limit>& limits) {
  std::set<std::string> keys;
  for (const study::FigureName& figure : study::known_figures()) keys.insert(std::string(figure.name));
  for (const std::string_view more : {"required_clock", "peak_power", "change_cost", "effort"}) {
    keys.emplace(more);
  }
  for (const options::Limit& limit : limits) keys.insert(limit.figure);
  std::vector<std::string> wanted;
  for (const std::string& key : keys) {
    if (option.ledger.find(key)) wanted.push_back(key);
  }
  return wanted;
}

void add_margins(OptionSamples& samples, const std::vector<options::Limit>& limits, Eigen::Index budgets) {
  const Eigen::Index count = samples.values.rows();
  samples.margins = Eigen::ArrayXXd::Zero(count, budgets);
  samples.holds = Eigen::ArrayXd::Ones(count);
  for (std::size_t i = 0; i < limits.size(); ++i) {
    const options::Limit& limit = limits[i];
    const auto found = std::find(samples.keys.begin(), samples.keys.end(), limit.figure);
    if (found == samples.keys.end()) continue;
    const auto column = static_cast<Eigen::Index>(found - samples.keys.begin());
    const auto values = samples.values.col(column);
    samples.limits.push_back(limit);
    samples.columns.push_back(column);
    if (limit.is_hard) {
      samples.holds *=
          values.unaryExpr([&](double value) { return options::meets(limit, value) ? 1.0 : 0.0; });
    }
    if (const auto budget = static_cast<Eigen::Index>(i); budget < budgets) {
      samples.margins.col(budget) =
          values.unaryExpr([&](double value) { return options::margin_of(limit, value); });
    }
  }
}

OptionSamples sample_option(const options::Option& option, const study::Study& study,
                            const figures::SampleTable& table) {
  const std::vector<options::Limit> limits = options::limits_of(option, study);
  OptionSamples samples;
  samples.keys = wanted_keys(option, limits);
  const std::vector<double> typical =
      figures::evaluate_all(option.ledger, std::span<const figures::Setting>());
  std::vector<figures::Figure> wanted;
  for (const std::string& key : samples.keys) {
    wanted.push_back(option.ledger.at(key));
    samples.typical.push_back(typical[wanted.back().index()]);
  }
  const figures::SampleEvaluator evaluator(option.ledger, wanted);
  auto scratch = evaluator.make_scratch();
  samples.values = evaluator.evaluate(table.columns_for(option.ledger), table.count(), scratch);
  add_margins(samples, limits, static_cast<Eigen::Index>(study.budgets.size()));
  return samples;
}

}  // namespace

SampledOptions sample_options(const std::vector<options::Option>& options, const study::Study& study,
                              const Sampling& sampling) {
  std::vector<const figures::Ledger*> ledgers;
  for (const options::Option& option : options) ledgers.push_back(&option.ledger);
  SampledOptions sampled{figures::SampleTable(ledgers, sampling.samples, sampling.seed, sampling.threads),
                         std::vector<OptionSamples>(options.size())};
  for_each_index(options.size(), sampling.threads, [&](std::size_t i) {
    sampled.options[i] = sample_option(options[i], study, sampled.table);
  });
  return sampled;
}

Eigen::ArrayXXd worth_of(const SampledOptions& sampled, const study::Study& study) {
  const auto count = static_cast<Eigen::Index>(sampled.options.size());
  Eigen::VectorXd weights(static_cast<Eigen::Index>(study.budgets.size()));
  for (std::size_t i = 0; i < study.budgets.size(); ++i) {
    weights(static_cast<Eigen::Index>(i)) = study.budgets[i].weight;
  }
  if (const double sum = weights.sum(); sum > 0) weights /= sum;
  Eigen::ArrayXXd worth(sampled.table.count(), count);
  for (Eigen::Index i = 0; i < count; ++i) {
    const OptionSamples& samples = sampled.options[static_cast<std::size_t>(i)];
    const Eigen::ArrayXd score = (samples.margins.matrix() * weights).array();
    worth.col(i) = (samples.holds != 0).select(score, -1.0);
  }
  return worth;
}

std::pair<double, double> quantiles(const Eigen::Ref<const Eigen::ArrayXd>& column, double low, double high) {
  std::vector<double> values(column.data(), column.data() + column.size());
  const auto last = static_cast<double>(values.size() - 1);
  const auto lower = values.begin() + std::lround(low * last);
  const auto upper = values.begin() + std::lround(high * last);
  std::nth_element(values.begin(), lower, values.end());
  // What lies before the lower one stays before it.
  if (upper > lower) std::nth_element(lower + 1, upper, values.end());
  return {*lower, *upper};
}

}  // namespace portweigh::decision

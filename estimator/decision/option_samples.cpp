#include "decision/option_samples.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "decision/nth_smallest.hpp"
#include "figures/evaluate.hpp"
#include "figures/sample_evaluator.hpp"
#include "options/parallel.hpp"
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

// One option of a group while its samples are read.
struct Member {
  std::vector<std::string> keys;
  std::vector<options::Limit> limits;
};

// Figures of a group of options over the samples: each that varies once, whoever has it.
class GroupSamples {
 public:
  GroupSamples(const figures::SampleEvaluator& evaluator, const figures::SampleTable& table)
      : evaluator_(evaluator) {
    std::vector<const double*> columns;
    for (const figures::SharedInput& input : evaluator.inputs()) columns.push_back(table.column(input.key));
    auto scratch = evaluator.make_scratch();
    samples_ = evaluator.evaluate_distinct(columns, table.count(), scratch);
    for (Eigen::Index i = 0; i < samples_.cols(); ++i) {
      ranges_.push_back(quantiles(samples_.col(i), 0.05, 0.95));
    }
  }

  [[nodiscard]] std::pair<double, double> range(std::size_t figure) const {
    const auto& place = evaluator_.places()[figure];
    if (place.is_fixed) return {place.value, place.value};
    return ranges_[static_cast<std::size_t>(place.column)];
  }

  // `work(value)` for each sample of the figure, as a column.
  template <class Work>
  [[nodiscard]] Eigen::ArrayXd map(std::size_t figure, Work work) const {
    const auto& place = evaluator_.places()[figure];
    if (place.is_fixed) return Eigen::ArrayXd::Constant(samples_.rows(), work(place.value));
    return samples_.col(place.column).unaryExpr(work);
  }

 private:
  const figures::SampleEvaluator& evaluator_;
  Eigen::ArrayXXd samples_;
  std::vector<std::pair<double, double>> ranges_;
};

// `first`: place of the option's first figure among those of its group.
OptionSamples read_option(const options::Option& option, const Member& member, const GroupSamples& group,
                          std::size_t first, Eigen::Index count, std::size_t budgets) {
  OptionSamples samples;
  samples.keys = member.keys;
  const std::vector<double> typical =
      figures::evaluate_all(option.ledger, std::span<const figures::Setting>());
  for (std::size_t i = 0; i < member.keys.size(); ++i) {
    samples.typical.push_back(typical[option.ledger.at(member.keys[i]).index()]);
    samples.range.push_back(group.range(first + i));
  }
  samples.margins = Eigen::ArrayXXd::Zero(count, static_cast<Eigen::Index>(budgets));
  samples.holds = Eigen::ArrayXd::Ones(count);
  for (std::size_t i = 0; i < member.limits.size(); ++i) {
    const options::Limit& limit = member.limits[i];
    const auto found = std::find(member.keys.begin(), member.keys.end(), limit.figure);
    if (found == member.keys.end()) continue;
    const auto figure = static_cast<std::size_t>(found - member.keys.begin());
    const Eigen::ArrayXd is_met =
        group.map(first + figure, [&](double value) { return options::meets(limit, value) ? 1.0 : 0.0; });
    samples.limits.push_back(limit);
    samples.limit_figures.push_back(figure);
    samples.shares_met.push_back(is_met.mean());
    if (limit.is_hard) samples.holds *= is_met;
    if (i < budgets) {
      samples.margins.col(static_cast<Eigen::Index>(i)) =
          group.map(first + figure, [&](double value) { return options::margin_of(limit, value); });
    }
  }
  return samples;
}

void sample_group(std::span<const options::Option> options, const study::Study& study,
                  const figures::SampleTable& table, std::span<OptionSamples> result) {
  std::vector<Member> members;
  std::vector<figures::WantedFigures> wanted;
  for (const options::Option& option : options) {
    Member& member = members.emplace_back();
    member.limits = options::limits_of(option, study);
    member.keys = wanted_keys(option, member.limits);
    figures::WantedFigures& of_one = wanted.emplace_back();
    of_one.ledger = &option.ledger;
    for (const std::string& key : member.keys) of_one.figures.push_back(option.ledger.at(key));
  }
  const figures::SampleEvaluator evaluator(wanted, figures::ExactInputs::stay);
  const GroupSamples group(evaluator, table);
  std::size_t first = 0;
  for (std::size_t i = 0; i < options.size(); ++i) {
    result[i] = read_option(options[i], members[i], group, first, table.count(), study.budgets.size());
    first += members[i].keys.size();
  }
}

}  // namespace

SampledOptions sample_options(const std::vector<options::Option>& options, const study::Study& study,
                              const Sampling& sampling) {
  std::vector<const figures::Ledger*> ledgers;
  for (const options::Option& option : options) ledgers.push_back(&option.ledger);
  SampledOptions sampled{figures::SampleTable(ledgers, sampling.samples, sampling.seed, sampling.threads),
                         std::vector<OptionSamples>(options.size())};
  const std::span all(options);
  const std::size_t groups = (options.size() + group_size - 1) / group_size;
  options::for_each_index(groups, sampling.threads, [&](std::size_t i) {
    const std::size_t first = i * group_size;
    const std::size_t count = std::min(group_size, options.size() - first);
    sample_group(all.subspan(first, count), study, sampled.table,
                 std::span(sampled.options).subspan(first, count));
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
  const auto last = static_cast<double>(column.size() - 1);
  const std::span<const double> values(column.data(), static_cast<std::size_t>(column.size()));
  return {nth_smallest(values, static_cast<std::size_t>(std::lround(low * last))),
          nth_smallest(values, static_cast<std::size_t>(std::lround(high * last)))};
}

}  // namespace portweigh::decision

#include "decision/option_samples.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <set>

#include "decision/nth_smallest.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "figures/evaluation/parallel.hpp"
#include "figures/evaluation/sample_evaluator.hpp"
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

// The 5 % and 95 % points (nearest rank) of a figure's samples.
class Spread {
 public:
  explicit Spread(Eigen::Index count) : low_(point(count, 0.05)), high_(point(count, 0.95)) {}

  void add(std::span<const double> samples) {
    low_.add(samples);
    high_.add(samples);
  }
  [[nodiscard]] std::pair<double, double> range() const { return {low_.value(), high_.value()}; }

 private:
  static NthOfParts point(Eigen::Index count, double share) {
    return {static_cast<std::size_t>(count),
            static_cast<std::size_t>(std::lround(share * static_cast<double>(count - 1)))};
  }

  NthOfParts low_;
  NthOfParts high_;
};

// Neighbours, whose figures are evaluated together: each that varies once, whoever has it.
class Group {
 public:
  Group(std::span<const options::Option> options, const study::Study& study, std::span<OptionSamples> result,
        Eigen::Index count)
      : result_(result), budgets_(study.budgets.size()), count_(count), limits_(options.size()) {
    std::vector<figures::WantedFigures> wanted;
    for (std::size_t i = 0; i < options.size(); ++i) {
      first_figures_.push_back(figure_count_);
      wanted.push_back(prepare(options[i], study, i));
    }
    evaluator_ = std::make_unique<figures::SampleEvaluator>(wanted, figures::ExactInputs::stay);
    spreads_.assign(static_cast<std::size_t>(evaluator_->distinct_count()), Spread(count));
  }

  // Adds the samples of the table; `block` has one entry for each option.
  void read(const figures::SampleTable& table, std::span<Alternative> block) {
    std::vector<const double*> columns;
    for (const figures::SharedInput& input : evaluator_->inputs()) columns.push_back(table.column(input.key));
    const Eigen::ArrayXXd samples = evaluator_->evaluate_distinct(columns, table.count());
    for (Eigen::Index i = 0; i < samples.cols(); ++i) {
      spreads_[static_cast<std::size_t>(i)].add(
          {samples.col(i).data(), static_cast<std::size_t>(samples.rows())});
    }
    for (std::size_t i = 0; i < block.size(); ++i) block[i] = judge(samples, i);
  }

  void finish() {
    for (std::size_t i = 0; i < result_.size(); ++i) {
      OptionSamples& option = result_[i];
      for (double& share : option.shares_met) share /= static_cast<double>(count_);
      option.share_possible /= static_cast<double>(count_);
      for (std::size_t k = 0; k < option.keys.size(); ++k) {
        const auto& place = evaluator_->places()[first_figures_[i] + k];
        option.range.push_back(place.is_fixed ? std::pair(place.value, place.value)
                                              : spreads_[static_cast<std::size_t>(place.column)].range());
      }
    }
  }

 private:
  figures::WantedFigures prepare(const options::Option& option, const study::Study& study,
                                 std::size_t number) {
    OptionSamples& samples = result_[number];
    const std::vector<options::Limit> limits = options::limits_of(option, study);
    samples.keys = wanted_keys(option, limits);
    figure_count_ += samples.keys.size();
    figures::WantedFigures wanted{&option.ledger, {}};
    const std::vector<double> typical = figures::evaluate_all(option.ledger);
    for (const std::string& key : samples.keys) {
      wanted.figures.push_back(option.ledger.at(key));
      samples.typical.push_back(typical[wanted.figures.back().index()]);
    }
    for (std::size_t i = 0; i < limits.size(); ++i) {
      const auto found = std::find(samples.keys.begin(), samples.keys.end(), limits[i].figure);
      if (found == samples.keys.end()) continue;
      if (i < budgets_) limits_[number].push_back(static_cast<Eigen::Index>(i));
      samples.limits.push_back(limits[i]);
      samples.limit_figures.push_back(static_cast<std::size_t>(found - samples.keys.begin()));
      samples.shares_met.push_back(0);
    }
    return wanted;
  }

  // Margins and limits of one option.
  Alternative judge(const Eigen::ArrayXXd& samples, std::size_t number) {
    OptionSamples& option = result_[number];
    Alternative judged{Eigen::ArrayXXd::Zero(samples.rows(), static_cast<Eigen::Index>(budgets_)),
                       Eigen::ArrayXd::Ones(samples.rows())};
    for (std::size_t i = 0; i < option.limits.size(); ++i) {
      const options::Limit& limit = option.limits[i];
      const std::size_t figure = first_figures_[number] + option.limit_figures[i];
      const Eigen::ArrayXd is_met =
          map(samples, figure, [&](double value) { return options::meets(limit, value) ? 1.0 : 0.0; });
      option.shares_met[i] += is_met.sum();
      if (limit.is_hard) judged.is_possible *= is_met;
      if (i < limits_[number].size()) {
        judged.values.col(limits_[number][i]) =
            map(samples, figure, [&](double value) { return options::margin_of(limit, value); });
      }
    }
    option.share_possible += judged.is_possible.sum();
    return judged;
  }

  // `work(value)` for each sample of the figure, as a column.
  template <class Work>
  [[nodiscard]] Eigen::ArrayXd map(const Eigen::ArrayXXd& samples, std::size_t figure, Work work) const {
    const auto& place = evaluator_->places()[figure];
    if (place.is_fixed) return Eigen::ArrayXd::Constant(samples.rows(), work(place.value));
    return samples.col(place.column).unaryExpr(work);
  }

  std::span<OptionSamples> result_;
  std::size_t budgets_;
  Eigen::Index count_;
  std::size_t figure_count_ = 0;
  std::vector<std::size_t> first_figures_;         // of each option among those of the group
  std::vector<std::vector<Eigen::Index>> limits_;  // of each option: the budgets that its first limits are of
  std::unique_ptr<figures::SampleEvaluator> evaluator_;
  std::vector<Spread> spreads_;  // of each figure that varies
};

}  // namespace

figures::SampleTable sample_inputs(const std::vector<options::Option>& options, const Sampling& sampling,
                                   Eigen::Index held) {
  std::vector<const figures::Ledger*> ledgers;
  for (const options::Option& option : options) ledgers.push_back(&option.ledger);
  return {ledgers, sampling.samples, sampling.seed, sampling.threads, held};
}

std::vector<OptionSamples> sample_options(const std::vector<options::Option>& options,
                                          const study::Study& study, const Sampling& sampling,
                                          const std::function<void(const SampleBlock&)>& take) {
  std::vector<OptionSamples> result(options.size());
  figures::SampleTable table = sample_inputs(options, sampling, block_size);
  std::vector<std::unique_ptr<Group>> groups((options.size() + group_size - 1) / group_size);
  const auto members = [](auto all, std::size_t group) {
    const std::size_t first = group * group_size;
    return all.subspan(first, std::min(group_size, all.size() - first));
  };
  SampleBlock block;
  block.options.resize(options.size());
  for (; block.first < sampling.samples; block.first += block.count) {
    if (block.first > 0) table.move_to(block.first);
    block.count = table.count();
    figures::for_each_index(groups.size(), sampling.threads, [&](std::size_t i) {
      if (!groups[i]) {
        groups[i] = std::make_unique<Group>(members(std::span(options), i), study,
                                            members(std::span(result), i), sampling.samples);
      }
      groups[i]->read(table, members(std::span(block.options), i));
    });
    take(block);
  }
  for (const auto& group : groups) group->finish();
  return result;
}

Eigen::ArrayXXd worth_of(const SampleBlock& block, const study::Study& study) {
  Eigen::VectorXd weights(static_cast<Eigen::Index>(study.budgets.size()));
  for (std::size_t i = 0; i < study.budgets.size(); ++i) {
    weights(static_cast<Eigen::Index>(i)) = study.budgets[i].weight;
  }
  if (const double sum = weights.sum(); sum > 0) weights /= sum;
  Eigen::ArrayXXd worth(block.count, static_cast<Eigen::Index>(block.options.size()));
  for (Eigen::Index i = 0; i < worth.cols(); ++i) {
    const Alternative& option = block.options[static_cast<std::size_t>(i)];
    const Eigen::ArrayXd score = (option.values.matrix() * weights).array();
    worth.col(i) = (option.is_possible != 0).select(score, -1.0);
  }
  return worth;
}

}  // namespace portweigh::decision

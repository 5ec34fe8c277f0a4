#include "decision/option_samples.hpp"

#include <algorithm>
#include <cmath>

#include "figures/evaluate.hpp"
#include "figures/sample_evaluator.hpp"

namespace portweigh::decision {

OptionSamples sample_option(const options::Option& option, const std::vector<std::string>& keys,
                            const figures::SampleTable& table) {
  OptionSamples samples;
  std::vector<figures::Figure> wanted;
  for (const std::string& key : keys) {
    if (const auto figure = option.ledger.find(key)) {
      samples.keys.push_back(key);
      wanted.push_back(*figure);
    }
  }
  const std::vector<double> typical =
      figures::evaluate_all(option.ledger, std::span<const figures::Setting>());
  for (const figures::Figure& figure : wanted) samples.typical.push_back(typical[figure.index()]);
  const figures::SampleEvaluator evaluator(option.ledger, wanted);
  auto scratch = evaluator.make_scratch();
  samples.values = evaluator.evaluate(table.columns_for(option.ledger), table.count(), scratch);
  return samples;
}

Eigen::Index column_of(const OptionSamples& samples, const std::string& key) {
  const auto found = std::find(samples.keys.begin(), samples.keys.end(), key);
  return found == samples.keys.end() ? -1 : static_cast<Eigen::Index>(found - samples.keys.begin());
}

double quantile(const Eigen::Ref<const Eigen::ArrayXd>& column, double share) {
  std::vector<double> values(column.data(), column.data() + column.size());
  const auto last = static_cast<double>(values.size() - 1);
  const auto position = static_cast<std::ptrdiff_t>(std::lround(share * last));
  std::nth_element(values.begin(), values.begin() + position, values.end());
  return values[static_cast<std::size_t>(position)];
}

}  // namespace portweigh::decision

#include "firmware/listing.hpp"

#include <map>

namespace portweigh::firmware {

Frequency Frequency::operator+(const Frequency& other) const {
  std::map<std::size_t, double> sum(terms_.begin(), terms_.end());
  for (const auto& [counter, coefficient] : other.terms_) sum[counter] += coefficient;
  std::erase_if(sum, [](const auto& term) { return term.second == 0.0; });
  return Frequency(Terms(sum.begin(), sum.end()));
}

Frequency Frequency::scaled(double factor) const {
  Terms terms = terms_;
  for (auto& term : terms) term.second *= factor;
  return Frequency(std::move(terms));
}

double Frequency::evaluate(const Counts& counts) const {
  double sum = 0;
  const std::size_t statements = counts.statements.size();
  for (const auto& [counter, coefficient] : terms_) {
    const std::uint64_t count = counter == 0            ? counts.runs
                                : counter <= statements ? counts.statements[counter - 1]
                                                        : counts.sites[counter - 1 - statements];
    sum += coefficient * static_cast<double>(count);
  }
  return sum;
}

}  // namespace portweigh::firmware

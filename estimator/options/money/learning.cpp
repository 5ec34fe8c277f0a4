#include "options/money/learning.hpp"

#include <cmath>

namespace portweigh::options {

using figures::Figure;

Figure learning_exponent(Figure rate) {
  return log(rate) / std::log(2.0);
}

Figure learning_total(study::LearningCurve curve, Figure n, Figure exponent) {
  const Figure whole = 1.0 + exponent;
  if (curve == study::LearningCurve::wright) return power(n, whole);
  constexpr double half = 0.5;
  const Figure first = exp(std::log(half) * whole);
  return (power(n + half, whole) - first) / whole;
}

Figure learning_level(Figure n, Figure exponent) {
  return power(n, exponent);
}

}  // namespace portweigh::options

#include "parts/cocomo.hpp"

namespace portweigh::parts {

CocomoCoefficients cocomo_coefficients(CocomoModel model, CocomoMode mode) {
  const bool is_basic = model == CocomoModel::basic;
  switch (mode) {
    case CocomoMode::organic:
      return {is_basic ? 2.4 : 3.2, 1.05, 0.38};
    case CocomoMode::semi_detached:
      return {3.0, 1.12, 0.35};
    case CocomoMode::embedded:
      return {is_basic ? 3.6 : 2.8, 1.20, 0.32};
  }
  return {};
}

const std::vector<CocomoDriver>& cocomo_drivers() {
  static const std::vector<CocomoDriver> drivers = {
      {"required_reliability", "effect of a failure", 0.75, 1.40},
      {"database_size", "data by code", 0.94, 1.16},
      {"product_complexity", "kind of algorithms and control", 0.70, 1.65},
      {"execution_time", "share of the processor's time that is used", 1.00, 1.66},
      {"main_storage", "share of the memory that is used", 1.00, 1.56},
      {"platform_volatility", "how often the hardware and tools below change", 0.87, 1.30},
      {"turnaround_time", "from a change to its result", 0.87, 1.15},
      {"analyst_capability", "of the team", 0.71, 1.46},
      {"applications_experience", "with this kind of product", 0.82, 1.29},
      {"programmer_capability", "of the team", 0.70, 1.42},
      {"platform_experience", "with this hardware", 0.90, 1.21},
      {"language_experience", "with the language", 0.95, 1.14},
      {"modern_practices", "structured design, reviews, tests", 0.82, 1.24},
      {"software_tools", "how good they are", 0.83, 1.24},
      {"required_schedule", "pressure of time, either way from nominal", 1.00, 1.23}};
  return drivers;
}

}  // namespace portweigh::parts

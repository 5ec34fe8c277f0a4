#include "options/money/firmware_effort.hpp"

namespace portweigh::options {

using figures::Figure;

Figure cocomo_person_months(Figure kdsi, const parts::CocomoCoefficients& coefficients,
                            std::span<const Figure> drivers) {
  Figure months = coefficients.size_factor * power(kdsi, coefficients.size_exponent);
  for (const Figure& driver : drivers) months = months * driver;
  return months;
}

Figure cocomo_months(Figure person_months, const parts::CocomoCoefficients& coefficients, Figure team_size) {
  const Figure by_model =
      parts::cocomo_schedule_factor * power(person_months, coefficients.schedule_exponent);
  return maximum(by_model, person_months / team_size);
}

}  // namespace portweigh::options

// COCOMO against its published examples.
#include "options/money/firmware_effort.hpp"

#include <catch2/catch.hpp>

#include "money_fixture.hpp"
#include "parts/effort.hpp"

using namespace portweigh;
using namespace portweigh::options;
using parts::CocomoMode;
using parts::CocomoModel;
using tests::number;

namespace {

struct Estimate {
  double person_months = 0;
  double months = 0;
};

Estimate estimate(CocomoModel model, CocomoMode mode, double kdsi,
                  const std::vector<double>& multipliers = {}, double team = 1e6) {
  figures::Ledger ledger;
  std::vector<figures::Figure> drivers;
  for (std::size_t i = 0; i < multipliers.size(); ++i) {
    drivers.push_back(number(ledger, "driver" + std::to_string(i), multipliers[i]));
  }
  const auto coefficients = parts::cocomo_coefficients(model, mode);
  const auto effort = cocomo_person_months(number(ledger, "kdsi", kdsi), coefficients, drivers);
  const auto months = cocomo_months(effort, coefficients, number(ledger, "team", team));
  return {figures::evaluate(ledger, effort), figures::evaluate(ledger, months)};
}

}  // namespace

// B. W. Boehm, Software Engineering Economics, 1981: basic model [S].
TEST_CASE("Basic COCOMO gives the published examples") {
  const Estimate organic = estimate(CocomoModel::basic, CocomoMode::organic, 32);
  CHECK(organic.person_months == Approx(91).margin(0.5));
  CHECK(organic.months == Approx(14).margin(0.5));
  const Estimate embedded = estimate(CocomoModel::basic, CocomoMode::embedded, 128);
  CHECK(embedded.person_months == Approx(1216).margin(1));
  CHECK(embedded.months == Approx(24).margin(0.5));
}

// B. W. Boehm, 1981 and IEEE Trans. Software Eng. 10(1), 1984: microprocessor communications software,
// embedded, 10 KDSI: nominal 44 person-months, adjustment 1.17, 51 after it [M+C]. The fifteen ratings from
// memory [M]: low data, very high complexity, high time and storage, high analyst and programmer capability,
// low platform experience, high modern practices, low tools; the rest nominal.
TEST_CASE("Intermediate COCOMO takes the cost drivers as a product") {
  CHECK(estimate(CocomoModel::intermediate, CocomoMode::embedded, 10).person_months ==
        Approx(44).margin(0.5));
  const std::vector<double> drivers = {1.00, 0.94, 1.30, 1.11, 1.06, 1.00, 1.00, 0.86,
                                       1.00, 0.86, 1.10, 1.00, 0.91, 1.10, 1.00};
  double product = 1;
  for (const double driver : drivers) product *= driver;
  CHECK(product == Approx(1.17).margin(0.005));
  CHECK(estimate(CocomoModel::intermediate, CocomoMode::embedded, 10, drivers).person_months ==
        Approx(51).margin(1));
  REQUIRE(parts::cocomo_drivers().size() == drivers.size());
}

TEST_CASE("A small team takes longer than the model's schedule, a large one not shorter") {
  const Estimate large = estimate(CocomoModel::basic, CocomoMode::organic, 32, {}, 50);
  CHECK(large.months == Approx(14).margin(0.5));
  const Estimate small = estimate(CocomoModel::basic, CocomoMode::organic, 32, {}, 2);
  CHECK(small.months == Approx(small.person_months / 2));
}

#include "exploration/sweep.hpp"

#include <catch2/catch.hpp>

#include "demo_study_fixture.hpp"
#include "exploration/crossover.hpp"
#include "exploration/selection.hpp"
#include "exploration/structure.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "options/limits.hpp"

using namespace portweigh;
using namespace portweigh::exploration;
using tests::demo_study;

namespace {

// The first options of a kind, at most so many.
std::vector<std::string> ids_of(options::OptionKind kind, std::size_t count) {
  std::vector<std::string> ids;
  for (const options::Option& option : demo_study().considered.options) {
    if (option.kind == kind && ids.size() < count) ids.push_back(option.id);
  }
  return ids;
}

const options::Option& option_of(const std::vector<options::Option>& options, const std::string& id) {
  for (const options::Option& option : options) {
    if (option.id == id) return option;
  }
  throw std::out_of_range(id);
}

// One value of a ledger at a time, not by Field.
double figure_at(const options::Option& option, const std::string& key, const std::string& input,
                 double value) {
  std::vector<figures::Setting> settings;
  for (const figures::Input& known : option.ledger.inputs()) {
    if (known.key == input) settings.push_back({input, value});
  }
  return figures::evaluate(option.ledger, option.ledger.at(key), settings);
}

}  // namespace

TEST_CASE("A two-way sweep of the demo has the values and leaders that single evaluations give") {
  std::vector<std::string> only = ids_of(options::OptionKind::programmable_logic, 2);
  for (const std::string& id : ids_of(options::OptionKind::fixed_function, 2)) only.push_back(id);
  const std::vector<Axis> axes = {{"clock_rate", 1e6, 64e6, 4, Spacing::logarithmic},
                                  {"duty_cycle", 0.001, 1, 5, Spacing::logarithmic}};
  const Sweep result = sweep(demo_study().context(), axes, "average_power", 2, only);
  REQUIRE(result.points.size() == 20);
  REQUIRE(result.options.size() == only.size());
  CHECK(result.points[1].inputs == std::vector<double>{1e6, axes[1].values()[1]});
  for (const SweepPoint& point : result.points) {
    std::optional<std::size_t> leader;
    double best = 0;
    for (std::size_t i = 0; i < result.options.size(); ++i) {
      const options::Option& option = option_of(demo_study().considered.options, result.options[i]);
      std::vector<figures::Setting> settings;
      for (const figures::Input& input : option.ledger.inputs()) {
        if (input.key == "clock_rate") settings.push_back({input.key, point.inputs[0]});
        if (input.key == "duty_cycle") settings.push_back({input.key, point.inputs[1]});
      }
      double score = 0;
      double weights = 0;
      bool holds = true;
      for (const options::Limit& limit : options::limits_of(option, demo_study().study)) {
        const double value = figures::evaluate(option.ledger, option.ledger.at(limit.figure), settings);
        holds = holds && (!limit.is_hard || options::meets(limit, value));
        score += limit.weight * options::margin_of(limit, value);
        weights += limit.weight;
      }
      REQUIRE(point.options[i].value);
      CHECK(*point.options[i].value ==
            Approx(figures::evaluate(option.ledger, option.ledger.at("average_power"), settings)));
      CHECK(point.options[i].is_feasible == holds);
      if (holds && (!leader || score / weights > best)) {
        leader = i;
        best = score / weights;
      }
    }
    CHECK(point.leader == leader);
  }
}

TEST_CASE("A structural input rebuilds the options, the same for any number of threads") {
  const std::vector<Axis> axes = {{"study.capacity_reserve", 0, 0.6, 3, Spacing::linear}};
  const Sweep one = sweep(demo_study().context(), axes, "unit_cost", 1);
  const Sweep two = sweep(demo_study().context(), axes, "unit_cost", 2);
  CHECK(one.options == two.options);
  for (std::size_t p = 0; p < 3; ++p) {
    CHECK(one.points[p].leader == two.points[p].leader);
    const study::Study moved =
        with_structure(demo_study().study, "study.capacity_reserve", axes[0].values()[p]);
    tests::DemoStudy& demo = demo_study();
    const auto considered = options::consider({demo.catalog, demo.effort, moved, demo.library}, 2);
    std::size_t there = 0;
    for (std::size_t i = 0; i < one.options.size(); ++i) {
      CHECK(one.points[p].options[i].value == two.points[p].options[i].value);
      there += one.points[p].options[i].value ? 1 : 0;
    }
    CHECK(there == considered.options.size());
  }
  // More reserve leaves fewer parts large enough.
  CHECK(one.points.back().options.size() == one.points.front().options.size());
  const auto built = [&](std::size_t p) {
    std::size_t count = 0;
    for (const SweptOption& option : one.points[p].options) count += option.value ? 1 : 0;
    return count;
  };
  CHECK(built(2) < built(0));
}

TEST_CASE("Microcontroller and programmable logic cross in duty cycle, confirmed just beside") {
  const Axis axis{"duty_cycle", 1e-4, 1, 2, Spacing::logarithmic};
  std::size_t found_in_all = 0;
  for (const std::string& controller : ids_of(options::OptionKind::microcontroller, 9)) {
    for (const std::string& logic : ids_of(options::OptionKind::programmable_logic, 2)) {
      std::vector<options::Option> chosen;
      tests::DemoStudy& demo = demo_study();
      options::Considered fresh = options::consider(demo.context(), 2);
      chosen = select_options(std::move(fresh.options), {controller, logic});
      REQUIRE(chosen.size() == 2);
      const Field field(chosen, demo.study, "average_power");
      for (const Crossover& crossover :
           find_crossovers(axis, lead_along(field, "duty_cycle", LeadBy::least_figure))) {
        ++found_in_all;
        const auto least_at = [&](double duty) {
          const double first = figure_at(chosen[0], "average_power", "duty_cycle", duty);
          const double second = figure_at(chosen[1], "average_power", "duty_cycle", duty);
          return first <= second ? 0 : 1;
        };
        INFO(controller << " and " << logic << " at " << crossover.above);
        CHECK(least_at(crossover.below * (1 - 1e-6)) == crossover.leader_below);
        CHECK(least_at(crossover.above * (1 + 1e-6)) == crossover.leader_above);
        CHECK(crossover.leader_below != crossover.leader_above);
      }
    }
  }
  CHECK(found_in_all > 0);
}

#include <catch2/catch.hpp>

#include <algorithm>
#include <map>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

bool has_limit(const Option& option, const std::string& figure) {
  return std::any_of(option.implied_limits.begin(), option.implied_limits.end(),
                     [&](const ImpliedLimit& limit) { return limit.figure == figure; });
}

bool runs_on(const Option& option, EngineKind engine) {
  return std::any_of(option.assignment.begin(), option.assignment.end(),
                     [&](const auto& place) { return place.second == to_string(engine); });
}

}  // namespace

TEST_CASE("The clock of each processor is an implied limit in every option, with the spread of its cycles") {
  std::map<std::string, std::size_t> found;
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    const bool has_fabric = option.id.starts_with("pl-") || option.id.find("+pl-") != std::string::npos;
    const std::vector<std::pair<EngineKind, std::string>> processors = {
        {EngineKind::microcontroller, has_fabric ? "processor_clock_use" : "clock_use"},
        {EngineKind::soft_processor, "soft_clock_use"},
        {EngineKind::host, "host_clock_use"}};
    for (const auto& [engine, figure] : processors) {
      if (!runs_on(option, engine)) continue;
      CHECK(has_limit(option, figure));
      const double use = figures::evaluate(option.ledger, option.ledger.at(figure));
      CHECK(use > 0);
      CHECK(use <= 1.0005);
      ++found[figure];
    }
    // What is sampled has a spread.
    for (const figures::Input& input : option.ledger.inputs()) {
      if (input.key.starts_with("counts.required_")) CHECK(input.range.low < input.range.high);
    }
  }
  CHECK(found["clock_use"] > 0);
  CHECK(found["processor_clock_use"] > 0);
  CHECK(found["soft_clock_use"] > 0);
  CHECK(found["host_clock_use"] > 0);
}

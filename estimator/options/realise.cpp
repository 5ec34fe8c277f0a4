#include "options/realise.hpp"

#include <fmt/format.h>

#include "figures/evaluate.hpp"
#include "figures/format_quantity.hpp"
#include "options/draft.hpp"

namespace portweigh::options {
namespace {

struct Attempt {
  Realised result;
  std::vector<double> feasible_clocks_hz;  // of the microcontroller
};

Attempt realise_at_its_clock(const Context& context, const Candidate& candidate) {
  Draft draft(context, candidate);
  draft.option.id = candidate.id;
  draft.option.kind = candidate.kind;
  draft.option.parts = candidate.part_ids();
  const auto rejected = [&](std::string reason) {
    return Attempt{Rejection{candidate.id, candidate.kind, candidate.part_ids(), std::move(reason)}, {}};
  };
  for (const auto step : {place_blocks, count_cells, choose_packages}) {
    if (auto reason = step(draft)) return rejected(std::move(*reason));
  }
  list_external_parts(draft);
  add_fabric_power(draft);
  add_processor_power(draft);
  add_other_power(draft);
  if (auto reason = sum_power_and_heat(draft)) return rejected(std::move(*reason));
  add_engineering(draft);
  add_money(draft);
  Attempt attempt{std::move(draft.option), {}};
  if (draft.core_schedule) attempt.feasible_clocks_hz = draft.core_schedule->feasible_clocks_hz;
  return attempt;
}

double average_power_w(const Option& option) {
  return figures::evaluate(option.ledger, option.ledger.at("average_power"));
}

std::string describe_choice(const std::vector<std::pair<double, double>>& tried) {
  namespace dimensions = figures::dimensions;
  std::vector<std::string> texts;
  for (const auto& [clock_hz, power_w] : tried) {
    texts.push_back(fmt::format("{} at {}", figures::format_quantity(power_w, dimensions::power),
                                figures::format_quantity(clock_hz, dimensions::frequency)));
  }
  return fmt::format("average power by clock of the microcontroller: {}", fmt::join(texts, ", "));
}

}  // namespace

Realised realise(const Context& context, const Candidate& candidate) {
  Attempt best = realise_at_its_clock(context, candidate);
  const std::vector<double> clocks_hz = best.feasible_clocks_hz;
  if (clocks_hz.size() < 2 || std::holds_alternative<Rejection>(best.result)) return std::move(best.result);
  std::vector<std::pair<double, double>> tried = {
      {clocks_hz.front(), average_power_w(std::get<Option>(best.result))}};
  double least_w = tried.front().second;
  for (std::size_t i = 1; i < clocks_hz.size(); ++i) {
    Candidate faster = candidate;
    faster.processor_clock_hz = clocks_hz[i];
    Attempt attempt = realise_at_its_clock(context, faster);
    const auto* option = std::get_if<Option>(&attempt.result);
    if (option == nullptr) continue;
    tried.emplace_back(clocks_hz[i], average_power_w(*option));
    if (tried.back().second >= least_w) continue;
    least_w = tried.back().second;
    best = std::move(attempt);
  }
  std::get<Option>(best.result).notes.push_back(describe_choice(tried));
  return std::move(best.result);
}

}  // namespace portweigh::options

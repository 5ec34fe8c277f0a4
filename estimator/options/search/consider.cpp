#include "options/search/consider.hpp"

#include <fmt/core.h>

#include <optional>
#include <set>

#include "figures/evaluation/parallel.hpp"
#include "options/search/enumerate.hpp"
#include "reading/diagnostic.hpp"

namespace portweigh::options {
namespace {

// A price below the first break is unknown, not extrapolated.
void check_prices(const Context& context, const std::vector<Candidate>& candidates) {
  const auto& volume = context.study.volume_per_year;
  std::set<std::string> seen;
  reading::Diagnostics mistakes;
  const auto check = [&](const parts::Part& part) {
    if (!seen.insert(part.id).second || part.prices.breaks.empty()) return;
    const double first = part.prices.breaks.front().quantity;
    if (volume.range.low >= first) return;
    const figures::Source& place = part.prices.source;
    mistakes.add(
        {place.file, place.line, place.column,
         fmt::format("no price of {} at the study's volume of {:.0f} a year ({}), expected a price break at "
                     "{:.0f} or below; the first is at {:.0f}",
                     part.id, volume.range.low, figures::place_of(volume.source), volume.range.low, first),
         ""});
  };
  for (const Candidate& candidate : candidates) {
    for (const Chip& chip : candidate.chips) check(chip.part());
  }
  if (!mistakes.is_empty()) throw reading::InputError(std::move(mistakes));
}

struct Variant {
  std::size_t option = 0;
  Candidate candidate;
};

std::vector<OtherSetting> realise_each(const Context& context, const std::vector<Variant>& variants,
                                       unsigned threads) {
  std::vector<std::optional<Realised>> realised(variants.size());
  figures::for_each_index(variants.size(), threads, [&](std::size_t i) {
    realised[i].emplace(realise(context, variants[i].candidate));
  });
  std::vector<OtherSetting> others;
  for (std::size_t i = 0; i < variants.size(); ++i) {
    auto* option = std::get_if<Option>(&*realised[i]);
    if (option != nullptr) others.push_back({variants[i].option, std::move(*option)});
  }
  return others;
}

Considered consider_candidates(const Context& context, unsigned threads, bool with_settings) {
  prepare_library(context, threads);
  const std::vector<Candidate> candidates = enumerate(context, threads);
  check_prices(context, candidates);
  std::vector<std::optional<Realised>> realised(candidates.size());
  std::vector<Variant> others;
  figures::for_each_index(candidates.size(), threads,
                          [&](std::size_t i) { realised[i].emplace(realise(context, candidates[i])); });
  Considered considered;
  for (std::size_t i = 0; i < candidates.size(); ++i) {
    if (auto* option = std::get_if<Option>(&*realised[i])) {
      for (const ClockSetting& setting : option->other_settings) {
        if (!with_settings) break;
        others.push_back({considered.options.size(), candidates[i]});
        others.back().candidate.setting = setting;
      }
      considered.options.push_back(std::move(*option));
    } else {
      considered.rejections.push_back(std::move(std::get<Rejection>(*realised[i])));
    }
  }
  considered.other_settings = realise_each(context, others, threads);
  return considered;
}

}  // namespace

Considered consider(const Context& context, unsigned threads) {
  Considered considered = consider_candidates(context, threads, false);
  note_alternatives(context, considered);
  return considered;
}

Considered consider_settings(const Context& context, unsigned threads) {
  return consider_candidates(context, threads, true);
}

}  // namespace portweigh::options

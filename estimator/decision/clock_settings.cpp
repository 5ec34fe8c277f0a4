#include "decision/clock_settings.hpp"

#include <map>

#include "decision/swing.hpp"

namespace portweigh::decision {

std::vector<SettingSummary> take_best_settings(options::Considered& considered, const study::Study& study,
                                               const Sampling& sampling) {
  std::vector<options::Option> alternatives;
  std::vector<std::size_t> option_of;
  for (options::OtherSetting& other : considered.other_settings) {
    if (option_of.empty() || option_of.back() != other.option) {
      alternatives.push_back(std::move(considered.options[other.option]));
      option_of.push_back(other.option);
    }
    alternatives.push_back(std::move(other.realised));
    option_of.push_back(other.option);
  }
  considered.other_settings.clear();
  std::map<std::size_t, std::vector<RankedOption>> by_option;
  for (RankedOption& ranked : in_order(alternatives, study, sampling)) {
    by_option[option_of[ranked.option]].push_back(std::move(ranked));
  }
  std::vector<SettingSummary> others;
  for (const auto& [number, settings] : by_option) {
    for (std::size_t i = 1; i < settings.size(); ++i) {
      const options::Option& option = alternatives[settings[i].option];
      others.push_back({option.id, option.setting, settings[i].meets_budgets,
                        settings[i].probability_meets_budgets, settings[i].figures.at("active_power").value,
                        settings[i].figures.at("average_power").value});
    }
    considered.options[number] = std::move(alternatives[settings.front().option]);
  }
  return others;
}

options::Considered consider_best_settings(const options::Context& context, const Sampling& sampling,
                                           std::vector<SettingSummary>* others) {
  options::Considered considered = options::consider_settings(context, sampling.threads);
  auto not_taken =
      take_best_settings(considered, with_swing_weights(context.study, considered.options), sampling);
  if (others != nullptr) *others = std::move(not_taken);
  options::note_alternatives(context, considered);
  return considered;
}

}  // namespace portweigh::decision

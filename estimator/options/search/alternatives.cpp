#include "options/search/consider.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <map>

#include "figures/evaluation/evaluate.hpp"
#include "figures/units/format_quantity.hpp"

namespace portweigh::options {
namespace {

struct Step {
  std::string id;
  double size = 0;
};

using Families = std::map<std::string, std::vector<Step>>;

// Families of one kind of part, smallest part first.
template <class Parts, class Size>
void add_families(Families& families, std::string_view kind, const Parts& all, const Size& size_of) {
  for (const auto& part : all) {
    families[fmt::format("{}/{}", kind, part.part.family)].push_back({part.part.id, size_of(part)});
  }
}

Families families_of(const parts::Catalog& catalog) {
  Families families;
  add_families(families, "logic", catalog.programmable_logic,
               [](const auto& part) { return static_cast<double>(part.cells); });
  add_families(families, "microcontroller", catalog.microcontrollers,
               [](const auto& part) { return part.flash_bytes; });
  add_families(families, "fixed", catalog.fixed_functions,
               [](const auto& part) { return static_cast<double>(part.features.size()); });
  for (auto& [name, steps] : families) {
    std::stable_sort(steps.begin(), steps.end(),
                     [](const Step& a, const Step& b) { return a.size < b.size; });
  }
  return families;
}

double value_of(const Option& option, const char* figure) {
  return figures::evaluate(option.ledger, option.ledger.at(figure));
}

std::string describe(const Considered& considered, const Option& option, const std::string& neighbour,
                     std::string_view currency) {
  const auto same = [&](const auto& other) { return other.id == neighbour; };
  const auto found = std::find_if(considered.options.begin(), considered.options.end(), same);
  if (found != considered.options.end()) {
    return fmt::format("also fits: {:+.2f} {} a unit, {:+.0f} % average power",
                       value_of(*found, "unit_cost") - value_of(option, "unit_cost"), currency,
                       100 * (value_of(*found, "average_power") / value_of(option, "average_power") - 1));
  }
  const auto rejected = std::find_if(considered.rejections.begin(), considered.rejections.end(), same);
  return rejected != considered.rejections.end() ? rejected->reason : "";
}

}  // namespace

void note_alternatives(const Context& context, Considered& considered) {
  const Families families = families_of(context.catalog);
  std::vector<std::pair<std::size_t, std::string>> notes;
  for (std::size_t i = 0; i < considered.options.size(); ++i) {
    const Option& option = considered.options[i];
    if (option.parts.size() != 1 || option.id != option.parts.front()) continue;
    for (const auto& [name, steps] : families) {
      const auto here =
          std::find_if(steps.begin(), steps.end(), [&](const Step& step) { return step.id == option.id; });
      if (here == steps.end()) continue;
      const auto note = [&](const Step& step, const char* direction) {
        const std::string text = describe(considered, option, step.id, context.study.currency);
        if (!text.empty()) notes.emplace_back(i, fmt::format("{} {}: {}", direction, step.id, text));
      };
      if (here != steps.begin()) note(*std::prev(here), "next down,");
      if (std::next(here) != steps.end()) note(*std::next(here), "next up,");
    }
  }
  for (auto& [i, text] : notes) considered.options[i].notes.push_back(std::move(text));
}

}  // namespace portweigh::options

// Budgets of a study: limits and wishes on the figures of an option.
#include "reading/suggest.hpp"
#include "study/figure_names.hpp"
#include "study/study_reader.hpp"

namespace portweigh::study {

using namespace reading;

namespace {

// A budget's limit has the dimension of its figure, so the figure is read first.
Field<Budget> figure_and_limit() {
  auto read = [](TableReader& reader, Budget& budget) {
    budget.figure = reader.required_string("figure");
    const auto* figure = find_figure(budget.figure);
    if (figure == nullptr) {
      std::vector<std::string> names;
      for (const auto& known : known_figures()) names.push_back(known.name);
      if (!budget.figure.empty()) {
        reader.report("figure", unknown_name_message("figure", budget.figure, names));
      }
      reader.accept("limit");
      return;
    }
    const auto limit = reader.required_quantity("limit", QuantityRule(figure->dimension));
    budget.limit_si = limit.value_si;
    budget.unit = limit.unit;
  };
  std::vector<std::string> names;
  for (const auto& figure : known_figures()) names.push_back(figure.name);
  return {{"figure", "what is limited, as in `list figures`", Presence::required, Multiplicity::one,
           ChoiceShape{std::move(names)}},
          std::move(read)};
}

}  // namespace

const Fields<Budget>& budget_fields() {
  using B = Budget;
  static const Fields<Budget> fields = {
      figure_and_limit(),
      number("margin", &B::margin, 0, 0.95, "wanted distance below the limit, as a share of it",
             Presence::optional),
      choice("strength", &B::strength, {{"hard", Strength::hard}, {"wish", Strength::wish}},
             "a limit that must be met, or a target", Presence::optional),
      number("weight", &B::weight, 0, 1000, "in the weighted margin", Presence::optional),
      number(
          "swing", &B::swing, 0, 100,
          "in place of the weight: points for the step from the worst option's value to the best one's, 100 "
          "for the most important step; in all budgets or none"),
      remembered_source(&B::source)};
  return fields;
}

}  // namespace portweigh::study

#include "study/family_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "reading/suggest.hpp"
#include "study/catalog_names.hpp"
#include "study/study_reader.hpp"

namespace portweigh::study {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

struct ProductText {
  std::string name;
  std::string study;
  std::string function;
  std::optional<SourcedRange> volume_per_year;
  std::optional<SourcedRange> years;
  std::vector<Budget> budgets;
};

const Fields<ProductText>& product_fields() {
  using P = ProductText;
  static const Fields<ProductText> fields = {
      text("name", &P::name, "unique in the family", Pattern::identifier),
      text("study", &P::study, "path of its study from the family's folder"),
      text("function", &P::function, "function of the catalog in place of the study's", Pattern::identifier,
           Presence::optional),
      range("volume_per_year", &P::volume_per_year, QuantityRule(dims::dimensionless).between(1, 1e10), "1",
            "in place of the study's"),
      range("years", &P::years, QuantityRule(dims::dimensionless).between(0.1, 50), "1",
            "in place of the study's"),
      tables("budget", &P::budgets, budget_fields(), "in place of the study's on the same figure",
             Presence::optional)};
  return fields;
}

void replace_budgets(Study& study, const std::vector<Budget>& budgets) {
  for (const Budget& budget : budgets) {
    std::erase_if(study.budgets, [&](const Budget& old) {
      return old.figure == budget.figure && old.strength == budget.strength;
    });
    study.budgets.push_back(budget);
  }
}

// The study of a product; nothing after a mistake, which goes to the document or to `mistakes`.
std::optional<Study> study_of(TableReader& reader, const ProductText& product,
                              const std::filesystem::path& family_file,
                              const std::filesystem::path& catalog_folder, Diagnostics& mistakes) {
  if (product.study.empty()) return std::nullopt;
  const auto path = (family_file.parent_path() / product.study).lexically_normal();
  if (!std::filesystem::is_regular_file(path)) {
    reader.report("study", fmt::format("no file {}, expected a study's path from the family's folder",
                                       path.generic_string()));
    return std::nullopt;
  }
  try {
    Study study = read_study(path, catalog_folder);
    if (!product.function.empty()) {
      const auto known = names_in_catalog(catalog_folder).functions;
      if (std::find(known.begin(), known.end(), product.function) == known.end()) {
        reader.report("function", unknown_name_message("port function", product.function, known));
        return std::nullopt;
      }
      study.function =
          read_function(catalog_folder / "functions" / (product.function + ".toml"), catalog_folder);
    }
    if (product.volume_per_year) study.volume_per_year = *product.volume_per_year;
    if (product.years) study.years = *product.years;
    name_inputs(study);
    replace_budgets(study, product.budgets);
    return study;
  } catch (const InputError& error) {
    mistakes.append(error.diagnostics());
    return std::nullopt;
  }
}

}  // namespace

Family read_family(const std::filesystem::path& file, const std::filesystem::path& catalog_folder) {
  auto document = Document::load(file);
  auto root = document.root();
  Family family;
  Diagnostics mistakes;
  family.name = root.required_string("name", Pattern::identifier);
  family.summary = root.required_string("summary");
  root.optional_string("source");
  std::set<std::string> names;
  for (auto& reader : root.required_tables("product")) {
    ProductText product;
    read_record(reader, product_fields(), product);
    if (!product.name.empty() && !names.insert(product.name).second) {
      reader.report("name",
                    fmt::format("product \"{}\" is listed twice, expected a unique name", product.name));
    }
    auto study = study_of(reader, product, file, catalog_folder, mistakes);
    if (!study) continue;
    if (family.currency.empty()) family.currency = study->currency;
    if (study->currency != family.currency) {
      reader.report("study", fmt::format("a study in {}, expected {} as in the first product",
                                         study->currency, family.currency));
    }
    for (std::size_t i = 0; i < product.budgets.size(); ++i) {
      const std::string& currency = product.budgets[i].unit.currency;
      if (currency.empty() || currency == study->currency) continue;
      reader.optional_tables("budget")[i].report(
          "limit", fmt::format("limit in {}, expected the study's currency {}", currency, study->currency));
    }
    family.products.push_back({product.name, std::move(*study)});
  }
  document.throw_if_errors(mistakes);
  return family;
}

}  // namespace portweigh::study

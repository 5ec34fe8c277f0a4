#include "report/terminal/family_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "figures/units/format_quantity.hpp"
#include "report/terminal/text_table.hpp"

namespace portweigh::report {
namespace {

constexpr int columns = 80;
constexpr std::size_t most_items = 12;

std::string whole_money(double amount, const std::string& currency) {
  return fmt::format("{:.0f} {}", amount, currency);
}

std::string products_table(const options::FamilyResult& family) {
  TextTable rows({{"product", Align::left},
                  {"in the family", Align::left},
                  {"cost alone"},
                  {"best alone", Align::left},
                  {"cost alone"},
                  {"options"}});
  for (const options::ProductChoice& product : family.products) {
    rows.add_row({product.product, product.option, fmt::format("{:.0f}", product.cost), product.alone_option,
                  fmt::format("{:.0f}", product.alone_cost), fmt::format("{}", product.options)});
  }
  return rows.to_text(columns);
}

std::string shared_table(const options::FamilyResult& family) {
  if (family.shared.empty()) return "Nothing is shared: no item is taken by two products.\n";
  TextTable rows({{"paid once", Align::left}, {"for", Align::left}, {"paid"}, {"saved"}});
  for (std::size_t i = 0; i < std::min(family.shared.size(), most_items); ++i) {
    const options::SharedCost& shared = family.shared[i];
    rows.add_row({shared.item, fmt::format("{}", fmt::join(shared.products, ", ")),
                  fmt::format("{:.0f}", shared.paid), fmt::format("{:.0f}", shared.saved)});
  }
  std::string text = rows.to_text(columns);
  if (family.shared.size() > most_items) {
    double rest = 0;
    for (std::size_t i = most_items; i < family.shared.size(); ++i) rest += family.shared[i].saved;
    text += fmt::format("and {} more, which save {:.0f}\n", family.shared.size() - most_items, rest);
  }
  return text;
}

}  // namespace

std::string family_text(const options::FamilyResult& family) {
  std::string text = fmt::format("{}: {} products, cost over life in {}\n\n", family.name,
                                 family.products.size() + family.without_option.size(), family.currency);
  for (const std::string& product : family.without_option) {
    text += wrap(fmt::format("{}: no option keeps its hard budgets; it is left out (see rank).", product),
                 columns, "  ");
  }
  if (family.products.empty()) return text;
  text += products_table(family) + "\n" + shared_table(family) + "\n";
  text += fmt::format("Each product its best, nothing shared    {:>14}\n",
                      whole_money(family.alone_cost, family.currency));
  text += fmt::format("The same options, common items paid once {:>14}\n",
                      whole_money(family.alone_shared_cost, family.currency));
  text += fmt::format("Optimum of the family                    {:>14}\n\n",
                      whole_money(family.family_cost, family.currency));
  const double saved = family.alone_shared_cost - family.family_cost;
  text += wrap(saved > 0 ? fmt::format("Choosing for the family saves {} against choosing for each product.",
                                       whole_money(saved, family.currency))
                         : std::string("Choosing for each product is already the best for the family."),
               columns, "  ");
  text += wrap(
      "Prices are those of each product's own volume; buying one part for several products is not "
      "counted.",
      columns, "  ");
  return text;
}

nlohmann::ordered_json family_json(const options::FamilyResult& family) {
  nlohmann::ordered_json result = {{"family", family.name},
                                   {"currency", family.currency},
                                   {"family_cost", family.family_cost},
                                   {"alone_cost", family.alone_cost},
                                   {"alone_shared_cost", family.alone_shared_cost},
                                   {"products", nlohmann::ordered_json::array()},
                                   {"without_option", family.without_option},
                                   {"shared", nlohmann::ordered_json::array()}};
  for (const options::ProductChoice& product : family.products) {
    result["products"].push_back({{"product", product.product},
                                  {"option", product.option},
                                  {"setting", product.setting},
                                  {"cost", product.cost},
                                  {"alone_option", product.alone_option},
                                  {"alone_cost", product.alone_cost},
                                  {"options", product.options}});
  }
  for (const options::SharedCost& shared : family.shared) {
    result["shared"].push_back({{"item", shared.item},
                                {"products", shared.products},
                                {"paid", shared.paid},
                                {"saved", shared.saved}});
  }
  return result;
}

std::string break_even_text(const BreakEven& result) {
  std::string text = wrap(
      fmt::format("{}: cheapest over life at {:.0f} units a year is {} with {} a unit. Break-even volumes "
                  "between {:.0f} and {:.0f} units a year.",
                  result.study, result.volume_per_year, result.cheapest,
                  figures::format_quantity(result.cost_over_life, figures::parse_unit(result.currency)),
                  result.from, result.to),
      columns, "  ");
  TextTable rows({{"option", Align::left},
                  {"life"},
                  {"budgets", Align::left},
                  {"break-even, units a year", Align::left},
                  {"would win with", Align::left}});
  for (const BreakEvenLine& line : result.lines) {
    std::vector<std::string> volumes;
    for (const double volume : line.volumes) volumes.push_back(fmt::format("{:.0f}", volume));
    std::string price = "no price of its part";
    if (line.price) {
      price = fmt::format("{} at {:.3f} instead of {:.3f}", line.price->part, line.price->price_needed,
                          line.price->price_now);
    }
    rows.add_row({line.option, fmt::format("{:.3f}", line.cost_over_life),
                  line.meets_budgets ? "kept" : "broken",
                  volumes.empty() ? "none" : fmt::format("{}", fmt::join(volumes, ", ")), price});
  }
  return text + "\n" + rows.to_text(columns) + fmt::format("life and prices in {} a unit\n", result.currency);
}

nlohmann::ordered_json break_even_json(const BreakEven& result) {
  nlohmann::ordered_json json = {{"study", result.study},
                                 {"currency", result.currency},
                                 {"volume_per_year", result.volume_per_year},
                                 {"from", result.from},
                                 {"to", result.to},
                                 {"cheapest", result.cheapest},
                                 {"cost_per_unit_over_life", result.cost_over_life},
                                 {"options", nlohmann::ordered_json::array()}};
  for (const BreakEvenLine& line : result.lines) {
    nlohmann::ordered_json entry = {{"id", line.option},
                                    {"meets_budgets", line.meets_budgets},
                                    {"cost_per_unit_over_life", line.cost_over_life},
                                    {"break_even_volumes", line.volumes}};
    if (line.price) {
      entry["winning_price"] = {{"part", line.price->part},
                                {"price_now", line.price->price_now},
                                {"price_needed", line.price->price_needed}};
    }
    json["options"].push_back(std::move(entry));
  }
  return json;
}

}  // namespace portweigh::report

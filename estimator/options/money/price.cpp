#include "options/money/price.hpp"

#include <cmath>

#include "figures/evaluation/evaluate.hpp"

namespace portweigh::options {
namespace {

using figures::Figure;
namespace dimensions = figures::dimensions;

Figure on_logarithms(const parts::Prices& prices, Figure bought, double conversion) {
  figures::LookupTable table;
  table.x_dimension = dimensions::dimensionless;
  table.y_dimension = dimensions::money;
  table.scale = figures::Scale::log_log;
  table.label = "price list";
  for (const parts::PriceBreak& entry : prices.breaks) {
    table.x.push_back(entry.quantity);
    table.y.push_back(entry.price.value_si * conversion);
  }
  return lookup(bought, table);
}

}  // namespace

Figure price_at(figures::Ledger& ledger, const parts::Prices& prices, Figure quantity, double conversion) {
  const bool has_lots = prices.lot > 1;
  const Figure bought = has_lots ? prices.lot * round_up(quantity / prices.lot) : quantity;
  if (prices.between == parts::BetweenBreaks::log_log) {
    const Figure each = on_logarithms(prices, bought, conversion);
    return has_lots ? each * bought / quantity : each;
  }
  const auto listed = [&](const parts::PriceBreak& entry) {
    return ledger.constant(entry.price.value_si * conversion, dimensions::money, "listed price");
  };
  const Figure first = listed(prices.breaks.front());
  Figure least = has_lots ? first * bought / quantity : first;
  for (std::size_t i = 1; i < prices.breaks.size(); ++i) {
    const double from = prices.lot * std::ceil(prices.breaks[i].quantity / prices.lot);
    least = minimum(least, listed(prices.breaks[i]) * maximum(bought, ledger.constant(from)) / quantity);
  }
  return least;
}

double price_at(const parts::Prices& prices, double quantity, double conversion) {
  figures::Ledger ledger;
  return figures::evaluate(ledger, price_at(ledger, prices, ledger.constant(quantity), conversion));
}

const std::string& currency_of(const parts::Prices& prices) {
  return prices.breaks.front().price.unit.currency;
}

double conversion(const Context& context, const std::string& currency) {
  const auto rate = [&](const std::string& code) {
    const auto found = context.catalog.currencies.find(code);
    return found == context.catalog.currencies.end() ? 1.0 : found->second.per_base;
  };
  return currency.empty() ? 1.0 : rate(context.study.currency) / rate(currency);
}

}  // namespace portweigh::options

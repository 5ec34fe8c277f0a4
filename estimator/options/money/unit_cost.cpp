// What a unit costs at the study's volume.
//
//   parts      = sum of price x count, times (1 + attrition)
//   production = placement of each body + board area + programming + test
//   unit       = (parts + production) / yield
// Prices are those of one order of the part (price.hpp), orders_per_year of them; outside the breaks the end price is
// taken and a warning given. A price in another currency is converted at the catalog's dated rate; the movement since
// is an input of its own (currency.EUR).
// Tested by tests/options/money/unit_cost_test.cpp.
#include <fmt/core.h>

#include <algorithm>

#include "options/money/money.hpp"
#include "options/money/price.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;
namespace dimensions = figures::dimensions;

const parts::CurrencyRate* rate_of(const Draft& draft, const std::string& currency) {
  const auto found = draft.context.catalog.currencies.find(currency);
  return found == draft.context.catalog.currencies.end() ? nullptr : &found->second;
}

std::string dated_rates(const Draft& draft, const std::string& currency) {
  std::string text;
  for (const std::string& code : {currency, draft.context.study.currency}) {
    const auto* rate = rate_of(draft, code);
    if (rate == nullptr || rate->date.empty()) continue;
    text += fmt::format("{}{} {} for one of the base currency on {}", text.empty() ? "" : ", ",
                        rate->per_base, code, rate->date);
  }
  return text;
}

void warn_outside(Draft& draft, const std::string& id, const parts::Prices& prices, unsigned count) {
  const figures::Range& volume = draft.context.study.volume_per_year.range;
  const figures::Range& orders = draft.context.study.orders_per_year.range;
  const double smallest = count * volume.low / orders.high;
  const double largest = count * volume.high / orders.low;
  const double first = prices.breaks.front().quantity;
  const double last = prices.breaks.back().quantity;
  if (smallest < first) {
    draft.option.warnings.push_back(fmt::format(
        "price of {} below its first break: an order is of {:.0f} at the least, the price of {:.0f} is "
        "taken, for orders as large and less often",
        id, smallest, first));
  }
  if (largest > last) {
    draft.option.warnings.push_back(fmt::format(
        "price of {} beyond its last break: an order is of up to {:.0f}, the price of {:.0f} is taken", id,
        largest, last));
  }
}

const parts::ExternalPart* external_part(const Draft& draft, std::string_view id) {
  const auto& all = draft.context.catalog.external_parts;
  const auto found = std::find_if(all.begin(), all.end(), [&](const auto& part) { return part.id == id; });
  return found == all.end() ? nullptr : &*found;
}

const parts::Prices& prices_of(const Draft& draft, std::string_view id) {
  for (const Chip& chip : draft.candidate.chips) {
    if (chip.part().id == id) return chip.part().prices;
  }
  return external_part(draft, id)->prices;
}

// Price of one body at what an order buys of it, in the study's currency; named "price.<id>".
Figure part_price(Draft& draft, const BillLine& line, const LifePlan& plan) {
  const parts::Prices& prices = prices_of(draft, line.id);
  const std::string& target = draft.context.study.currency;
  const std::string& currency = currency_of(prices).empty() ? target : currency_of(prices);
  warn_outside(draft, line.id, prices, line.count);
  const Figure quantity =
      line.count == 1 ? plan.units_of_order : static_cast<double>(line.count) * plan.units_of_order;
  Figure price = price_at(draft.ledger(), prices, quantity, conversion(draft.context, currency)) *
                 draft.input(fmt::format("parts.{}.price", line.id),
                             fmt::format("price of {} against its list", line.id),
                             {prices.low_factor, 1, prices.high_factor}, prices.source, "1", "prices");
  if (currency != target) {
    price = price * draft.input("currency." + currency, currency + " against its rate in the catalog",
                                exactly(1), {dated_rates(draft, currency), "", 0, 0});
  }
  return draft.name(price, "price." + line.id, "price of " + line.id, target);
}

Figure parts_of_unit(Draft& draft, const LifePlan& plan) {
  Figure cost = draft.zero(dimensions::money);
  bool is_first = true;
  for (const BillLine& line : draft.option.bill) {
    const Figure price = part_price(draft, line, plan);
    const Figure of_line = line.count == 1 ? price : static_cast<double>(line.count) * price;
    cost = is_first ? of_line : cost + of_line;
    is_first = false;
  }
  const Figure named = draft.name(cost, "parts_list_cost", "parts of a unit", draft.context.study.currency);
  const Figure lost = draft.input(draft.context.study.money.attrition);
  return draft.name(named * (1.0 + lost), "parts_cost", "parts of a unit with those lost in production",
                    draft.context.study.currency);
}

Figure board_area(Draft& draft, const std::vector<Chip>& chips) {
  std::vector<Figure> areas;
  for (const BillLine& line : draft.option.bill) {
    const parts::ExternalPart* part = external_part(draft, line.id);
    if (part == nullptr) continue;
    const Figure each = draft.input(part->board_area);
    areas.push_back(line.count == 1 ? each : static_cast<double>(line.count) * each);
  }
  for (const Chip& chip : chips) {
    // A body's keep-out for solder and routing adds about half of its area; common practice.
    constexpr double keep_out = 1.5;
    const double body_m2 = chip.package->body_length.value_si * chip.package->body_width.value_si * keep_out;
    areas.push_back(draft.counted(fmt::format("parts.{}.board_area", chip.part().id),
                                  "board area of " + chip.part().id, exactly(body_m2),
                                  "package outline with half of its area as keep-out", "mm2"));
  }
  return draft.name(areas.empty() ? draft.zero(dimensions::area) : sum(areas), "board_area", "board area",
                    "mm2");
}

Figure production_of_unit(Draft& draft, const std::vector<Chip>& chips) {
  const study::Money& money = draft.context.study.money;
  const std::string& currency = draft.context.study.currency;
  double bodies = 0;
  for (const BillLine& line : draft.option.bill) bodies += line.count;
  Figure cost =
      draft.name(bodies * draft.input(money.placement_cost), "placement", "placing all bodies", currency) +
      draft.name(board_area(draft, chips) * draft.input(money.board_area_cost), "board_cost",
                 "board under the parts", currency);
  for (const Chip& chip : chips) {
    if (chip.part().programming_time.range.high <= 0) continue;
    const Figure time = draft.input(chip.part().programming_time);
    cost = cost + draft.name(time * draft.input(money.programming_rate), "programming." + chip.part().id,
                             "programming " + chip.part().id, currency);
  }
  if (!chips.empty()) cost = cost + draft.input(money.test_cost);
  return draft.name(cost, "production_cost", "board, placement, programming and test of a unit", currency);
}

}  // namespace

UnitCost add_unit_cost(Draft& draft, const LifePlan& plan, const std::vector<Chip>& chips) {
  const std::string& currency = draft.context.study.currency;
  Figure parts_cost = parts_of_unit(draft, plan);
  Figure production = production_of_unit(draft, chips);
  if (const auto& yield = draft.context.study.money.test_yield) {
    const Figure passed = draft.input(*yield);
    parts_cost = draft.name(parts_cost / passed, "parts_cost_by_yield", "parts of a good unit", currency);
    production = draft.name(production / passed, "production_cost_by_yield",
                            "board, placement, programming and test of a good unit", currency);
  }
  return {parts_cost, production, draft.name(parts_cost + production, "unit_cost", "unit cost", currency)};
}

}  // namespace portweigh::options

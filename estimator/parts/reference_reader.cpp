#include "parts/reference_reader.hpp"

#include <fmt/core.h>

#include "figures/units/unit_table.hpp"
#include "reading/calendar_day.hpp"

namespace portweigh::parts {
namespace {

using namespace reading;

const Fields<Spread>& spread_fields() {
  static const Fields<Spread> fields = {
      remembered_source(&Spread::source),
      number("low_factor", &Spread::low_factor, 0.05, 1, "5 % point of real designs by the estimate"),
      number("high_factor", &Spread::high_factor, 1, 20, "95 % point of real designs by the estimate")};
  return fields;
}

const Fields<CurrencyRate>& rate_fields() {
  static const Fields<CurrencyRate> fields = {
      remembered_source(&CurrencyRate::source),
      number("per_base", &CurrencyRate::per_base, 1e-6, 1e9,
             "units of this currency for one of the base currency"),
      text("date", &CurrencyRate::date, "day of the rate, such as 2025-01-31")};
  return fields;
}

}  // namespace

std::vector<FieldInfo> spreads_infos() {
  return {{"luts",
           "how far real LUT counts lie from the estimate, by class of block; \"default\" for the rest",
           Presence::required, Multiplicity::named, TableShape{infos_of(spread_fields())}}};
}

std::vector<FieldInfo> currencies_infos() {
  return {{"base", "currency to which the rates refer", Presence::required, Multiplicity::one,
           TextShape{Pattern::currency}},
          {"rates", "rates of other currencies", Presence::required, Multiplicity::named,
           TableShape{infos_of(rate_fields())}}};
}

std::map<std::string, Spread> read_spreads(TableReader& root) {
  std::map<std::string, Spread> spreads;
  auto rows = root.required_table("luts");
  for (const auto& name : rows.keys()) {
    if (name == "source") continue;
    auto row = rows.required_table(name);
    read_record(row, spread_fields(), spreads[name]);
  }
  if (root.has("luts") && !spreads.contains("default")) {
    rows.report("no row \"default\", expected one for the classes without a row of their own");
  }
  return spreads;
}

std::map<std::string, CurrencyRate> read_currencies(TableReader& root) {
  std::map<std::string, CurrencyRate> currencies;
  const auto base = root.required_string("base", Pattern::currency);
  auto rates = root.required_table("rates");
  for (const auto& code : rates.keys()) {
    if (code == "source") continue;
    auto row = rates.required_table(code);
    auto& rate = currencies[code];
    read_record(row, rate_fields(), rate);
    if (!figures::is_currency_code(code)) {
      row.report(fmt::format("\"{}\" is not a currency code, expected one of ISO 4217 such as EUR", code));
    }
    if (code == base)
      row.report(fmt::format("rate of the base currency {}, expected other currencies", base));
    if (row.has("date") && !rate.date.empty() && !parse_day(rate.date)) {
      row.report("date",
                 fmt::format("\"{}\" is not a day, expected a date such as \"2025-01-31\"", rate.date));
    }
  }
  if (!base.empty()) currencies[base] = CurrencyRate{1, "", root.source_of("base")};
  return currencies;
}

}  // namespace portweigh::parts

#include "parts/part_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "reading/suggest.hpp"

namespace portweigh::parts {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

const Fields<PriceBreak>& price_break_fields() {
  static const Fields<PriceBreak> fields = {
      number("quantity", &PriceBreak::quantity, 1, 1e10, "units of one order from which the price holds"),
      quantity("price", &PriceBreak::price, QuantityRule(dims::money).between(0, 1e5), "USD",
               "price of one unit")};
  return fields;
}

constexpr double year_s = 365.25 * 86400;

}  // namespace

const Fields<Package>& package_fields() {
  const auto size = QuantityRule(dims::length).between(0.1e-3, 0.1);
  static const Fields<Package> fields = {
      text("name", &Package::name, "generic outline name, such as qfn-24", Pattern::identifier),
      choice("leads", &Package::leads, {{"peripheral", Leads::peripheral}, {"array", Leads::array}},
             "leads along the edges, or balls or lands under the body"),
      quantity("body_length", &Package::body_length, size, "mm", "longer side of the body"),
      quantity("body_width", &Package::body_width, size, "mm", "shorter side of the body"),
      quantity("height", &Package::height, QuantityRule(dims::length).between(0.05e-3, 0.02), "mm",
               "height above the board"),
      quantity("pitch", &Package::pitch, QuantityRule(dims::length).between(0.1e-3, 0.01), "mm",
               "distance between lead centres"),
      count("usable_pins", &Package::usable_pins, 0, 2000,
            "pins left for the application after supply, ground and programming"),
      count("rows", &Package::rows, 1, 100, "of an array: leads along a side", Presence::optional),
      count("layers", &Package::layers, 1, 40, "least layers of a board for it, if not by its rows and pitch",
            Presence::optional),
      range("thermal_resistance", &Package::thermal_resistance,
            QuantityRule(dims::thermal_resistance).between(1, 1000), "K/W",
            "junction to ambient on a typical board")
          .as_input("junction to ambient, {}")};
  return fields;
}

const Fields<Prices>& price_fields() {
  static const Fields<Prices> fields = {
      remembered_source(&Prices::source),
      number("low_factor", &Prices::low_factor, 0.1, 1, "price after a good negotiation, as a share",
             Presence::optional),
      number("high_factor", &Prices::high_factor, 1, 10, "price after a bad negotiation, as a multiple",
             Presence::optional),
      choice(
          "between_breaks", &Prices::between,
          {{"steps", BetweenBreaks::steps}, {"log-log", BetweenBreaks::log_log}},
          "price between two breaks: that of the break below, or on a straight line of logarithms; absent: steps",
          Presence::optional),
      number("lot", &Prices::lot, 1, 1e7, "bought in whole lots of so many, such as a reel; absent: 1",
             Presence::optional),
      tables("breaks", &Prices::breaks, price_break_fields(), "price breaks, quantities rising")};
  return fields;
}

const Fields<Part>& part_fields() {
  static const Fields<Part> fields = {
      text("id", &Part::id, "unique name, the same as the file's", Pattern::identifier),
      text("summary", &Part::summary, "one line for people"),
      invented(&Part::is_invented),
      text("family", &Part::family, "parts of one family are compatible steps of one size ladder",
           Pattern::identifier),
      remembered_source(&Part::source),
      choice("upgrade", &Part::upgrade,
             {{"none", Upgrade::none}, {"factory", Upgrade::factory}, {"field", Upgrade::field}},
             "how a part in use follows a change of the standard: not at all, by the factory, by the product "
             "itself"),
      range("supply_voltage", &Part::supply_voltage, QuantityRule(dims::voltage).between(0.5, 60), "V",
            "low to high is what it works on, typical the characterised point"),
      quantity("highest_junction", &Part::highest_junction,
               QuantityRule(dims::temperature).between(273.15, 500), "degC", "highest junction temperature"),
      quantity("lead_time", &Part::lead_time, QuantityRule(dims::time).between(0, 5 * year_s), "d",
               "order to delivery")
          .as_input("lead time of {}"),
      flag("second_source", &Part::has_second_source, "a drop-in part of another maker exists"),
      quantity("availability", &Part::availability, QuantityRule(dims::time).between(0, 50 * year_s), "years",
               "time the maker promises to supply it")
          .as_input("supply promised for {}"),
      range("programming_time", &Part::programming_time, QuantityRule(dims::time).between(0, 3600), "s",
            "in production, for each unit; 0 where there is nothing to load")
          .as_input("programming time of {}"),
      tables("package", &Part::packages, package_fields(), "outlines it is made in"),
      table("price", &Part::prices, price_fields(), "price of one unit by the quantity of an order")};
  return fields;
}

InputOwner owner_of(const std::string& id) {
  return {"parts." + id, id, id};
}

void name_inputs(Part& part) {
  name_inputs(part_fields(), part, owner_of(part.id));
  for (Package& package : part.packages) {
    name_inputs(package_fields(), package,
                {fmt::format("parts.{}.{}", part.id, package.name), package.name, part.id});
  }
}

void check_id(TableReader& reader, const std::string& id, const ReadingContext& context) {
  if (id.empty()) return;
  if (id != context.expected_id) {
    reader.report("id", fmt::format("id \"{}\" differs from the file's name, expected \"{}\"", id,
                                    context.expected_id));
  }
  if (const auto found = context.ids.find(id); found != context.ids.end()) {
    reader.report("id", fmt::format("id \"{}\" is taken by {}, expected a unique one", id, found->second));
  }
}

void check_prices(TableReader& part, const Prices& prices, const ReadingContext& context) {
  if (!part.has("price")) return;
  auto price_reader = part.required_table("price");
  if (prices.breaks.empty() || !price_reader.has("breaks")) return;
  auto break_readers = price_reader.required_tables("breaks");
  const std::string& currency = prices.breaks.front().price.unit.currency;
  for (std::size_t i = 0; i < prices.breaks.size(); ++i) {
    const auto& present = prices.breaks[i];
    const auto& code = present.price.unit.currency;
    if (!code.empty() && !context.currencies.empty() &&
        std::find(context.currencies.begin(), context.currencies.end(), code) == context.currencies.end()) {
      break_readers[i].report("price", unknown_name_message("currency", code, context.currencies));
    }
    if (code != currency) {
      break_readers[i].report("price",
                              fmt::format("price in {}, expected {} as in the first break", code, currency));
    }
    if (i == 0) continue;
    const auto& before = prices.breaks[i - 1];
    if (present.quantity <= before.quantity) {
      break_readers[i].report("quantity", fmt::format("quantity {} follows {}, expected rising quantities",
                                                      present.quantity, before.quantity));
    }
    if (present.price.value_si > before.price.value_si) {
      break_readers[i].report(
          "price", fmt::format("price {} follows {}, expected prices that don't rise with quantity",
                               present.price.value_si, before.price.value_si));
    }
  }
}

void check_standby(TableReader& reader, const std::string& key, const std::optional<SourcedRange>& standby,
                   const std::string& work_key, const SourcedRange& work) {
  if (!standby || !reader.has(key) || !reader.has(work_key)) return;
  const figures::Range& low = standby->range;
  const figures::Range& high = work.range;
  if (low.low <= high.low && low.typical <= high.typical && low.high <= high.high) return;
  reader.report(key,
                fmt::format("{} above {}, expected at most as much at low, typical and high", key, work_key));
}

void check_part(TableReader& reader, const Part& part, const ReadingContext& context) {
  check_id(reader, part.id, context);
  check_prices(reader, part.prices, context);
  if (!reader.has("package")) return;
  auto packages = reader.required_tables("package");
  std::set<std::string> names;
  for (std::size_t i = 0; i < part.packages.size(); ++i) {
    const auto& package = part.packages[i];
    if (!package.name.empty() && !names.insert(package.name).second) {
      packages[i].report("name",
                         fmt::format("package \"{}\" is listed twice, expected a unique name", package.name));
    }
    if (package.body_width.value_si > package.body_length.value_si) {
      packages[i].report("body_width", "body_width exceeds body_length, expected the shorter side");
    }
  }
}

}  // namespace portweigh::parts

// Fields and checks that all parts have in common: identity, packages, prices, life.
//
// A price list is checked beyond its bounds: quantities rise, prices don't, all in one known currency. An id
// is the name of its file and unique in the catalog. Tested by tests/parts/part_reader_test.cpp.
#pragma once

#include "parts/part.hpp"
#include "parts/reading_context.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

// The key that says whether a part is made up; absent: it isn't.
template <class SomePart>
reading::Field<SomePart> invented(bool SomePart::*member) {
  return reading::flag("invented", member, "true: the part, its values and prices are made up",
                       reading::Presence::optional);
}

// A memory size with its unit ("32 KiB"), held in bytes. A plain number would leave open bits or bytes.
template <class SomePart>
reading::Field<SomePart> memory_size(std::string key, double SomePart::*member, std::string meaning,
                                     reading::Presence presence = reading::Presence::required) {
  constexpr double bits_per_byte = 8;
  const auto rule = reading::QuantityRule(figures::dimensions::dimensionless).between(0, bits_per_byte * 1e9);
  auto read = [key, member, rule, presence](reading::TableReader& reader, SomePart& record) {
    if (presence == reading::Presence::optional && !reader.has(key)) {
      (void)reader.optional_quantity(key, rule);  // makes the key known
      return;
    }
    const auto size = reader.required_quantity(key, rule);
    if (size.unit.text == "1" && size.value_si != 0) {
      reader.report(key, key + " without a unit, expected a size such as \"32 KiB\"");
    }
    record.*member = size.value_si / bits_per_byte;
  };
  return {
      {key, std::move(meaning), presence, reading::Multiplicity::one, reading::QuantityShape{rule, "KiB"}},
      std::move(read)};
}

const reading::Fields<Package>& package_fields();
const reading::Fields<Prices>& price_fields();
const reading::Fields<Part>& part_fields();

// Names the values of a part by its id (reading/field.hpp); the readers of whole parts do it by themselves.
reading::InputOwner owner_of(const std::string& id);
void name_inputs(Part& part);

// Report into the reader's document.
void check_id(reading::TableReader& reader, const std::string& id, const ReadingContext& context);
void check_prices(reading::TableReader& part, const Prices& prices, const ReadingContext& context);
// A current in standby is at most that at work, at each end of the ranges; without one of them there is nothing to check.
void check_standby(reading::TableReader& reader, const std::string& key,
                   const std::optional<SourcedRange>& standby, const std::string& work_key,
                   const SourcedRange& work);
void check_part(reading::TableReader& reader, const Part& part, const ReadingContext& context);

}  // namespace portweigh::parts

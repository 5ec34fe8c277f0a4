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

const reading::Fields<Package>& package_fields();
const reading::Fields<Prices>& price_fields();
const reading::Fields<Part>& part_fields();

// Names the values of a part by its id (reading/field.hpp); the readers of whole parts do it by themselves.
reading::InputOwner owner_of(const std::string& id);
void name_inputs(Part& part);

// Report into the reader's document.
void check_id(reading::TableReader& reader, const std::string& id, const ReadingContext& context);
void check_prices(reading::TableReader& part, const Prices& prices, const ReadingContext& context);
void check_part(reading::TableReader& reader, const Part& part, const ReadingContext& context);

}  // namespace portweigh::parts

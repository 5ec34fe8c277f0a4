#include "parts/external_part_reader.hpp"

#include <fmt/core.h>

#include "parts/part_reader.hpp"

namespace portweigh::parts {

using namespace reading;
namespace dims = figures::dimensions;

const Fields<ExternalPart>& external_part_fields() {
  using E = ExternalPart;
  const auto voltage = QuantityRule(dims::voltage).between(0.2, 60);
  const auto current = QuantityRule(dims::current).between(0, 1);
  static const Fields<ExternalPart> fields = {
      text("id", &E::id, "unique name, the same as the file's", Pattern::identifier),
      text("summary", &E::summary, "one line for people"),
      invented(&E::is_invented),
      remembered_source(&E::source),
      choice("role", &E::role,
             {{"comparator", ExternalRole::comparator},
              {"analogue-switch", ExternalRole::analogue_switch},
              {"reference", ExternalRole::reference},
              {"crystal", ExternalRole::crystal},
              {"regulator", ExternalRole::regulator},
              {"configuration-flash", ExternalRole::configuration_flash},
              {"level-shifter", ExternalRole::level_shifter},
              {"resistor", ExternalRole::resistor}},
             "what it is for"),
      count("channels", &E::channels, 1, 64, "functions in one body"),
      range("supply_voltage", &E::supply_voltage, voltage, "V",
            "low to high is what it works on; absent: any"),
      range("output_voltage", &E::output_voltage, voltage, "V",
            "of a regulator: what it makes, or from low to high what it can be set to"),
      memory_size("capacity", &E::capacity_bytes, "of a configuration memory", Presence::optional),
      memory_size("erase_page", &E::erase_page_bytes,
                  "of a configuration memory: what is erased at once; absent: a byte", Presence::optional),
      range("active_current", &E::active_current, current, "uA", "of the body, at work")
          .as_input("current in use"),
      range("standby_current", &E::standby_current, current, "uA",
            "of the body, waiting or slow: with nothing attached")
          .as_input("current in standby"),
      quantity("board_area", &E::board_area, QuantityRule(dims::area).between(0, 1e-2), "mm2",
               "with its keep-out")
          .as_input("board area of {}"),
      table("price", &E::prices, price_fields(), "price of one unit by the quantity of an order")};
  return fields;
}

ExternalPart read_external_part(TableReader& reader, const ReadingContext& context) {
  ExternalPart part;
  read_record(reader, external_part_fields(), part);
  check_id(reader, part.id, context);
  check_prices(reader, part.prices, context);
  if (part.role == ExternalRole::regulator && !part.output_voltage) {
    reader.report("role", "regulator without output_voltage, expected the voltage it makes");
  }
  if (part.role == ExternalRole::configuration_flash && part.capacity_bytes <= 0) {
    reader.report("role", "configuration memory without capacity, expected its size");
  }
  if (reader.has("erase_page") &&
      (part.erase_page_bytes < 1 || part.erase_page_bytes > part.capacity_bytes)) {
    reader.report("erase_page",
                  fmt::format("erase page of {} bytes, expected 1 byte to the {:.0f} bytes of capacity",
                              part.erase_page_bytes, part.capacity_bytes));
  }
  check_standby(reader, "standby_current", part.standby_current, "active_current", part.active_current);
  name_inputs(external_part_fields(), part, owner_of(part.id));
  return part;
}

}  // namespace portweigh::parts

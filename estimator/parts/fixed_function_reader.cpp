#include "parts/fixed_function_reader.hpp"

#include <fmt/core.h>

#include "parts/part_reader.hpp"

namespace portweigh::parts {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

Field<FixedFunction> features() {
  auto read = [](TableReader& reader, FixedFunction& record) {
    const auto names = reader.required_strings("features", Pattern::identifier);
    for (std::size_t i = 0; i < names.size(); ++i) {
      if (!names[i].empty() && !record.features.insert(names[i]).second) {
        reader.report("features", i,
                      fmt::format("feature \"{}\" is listed twice, expected each once", names[i]));
      }
    }
  };
  return {{"features", "what it does: the names that blocks of a port function ask for", Presence::required,
           Multiplicity::list, TextShape{Pattern::identifier}},
          std::move(read)};
}

}  // namespace

const Fields<FixedFunction>& fixed_function_fields() {
  using F = FixedFunction;
  const auto current = QuantityRule(dims::current).between(0, 1);
  static const Fields<FixedFunction> fields = {
      features(),
      count("general_purpose_pins", &F::general_purpose_pins, 0, 1000, "pins free for the product's own use"),
      range("active_current", &F::active_current, current, "mA", "from the supply, line busy")
          .as_input("current, line busy", "process of {}"),
      range("attached_current", &F::attached_current, current, "uA", "attached and quiet")
          .as_input("current, attached", "process of {}"),
      range("detached_current", &F::detached_current, current, "uA", "waiting for a cable")
          .as_input("current, waiting for a cable", "process of {}")};
  return fields;
}

std::vector<FieldInfo> fixed_function_infos() {
  auto infos = infos_of(part_fields());
  for (auto& info : infos_of(fixed_function_fields())) infos.push_back(std::move(info));
  return infos;
}

void name_inputs(FixedFunction& device) {
  name_inputs(device.part);
  const InputOwner owner = owner_of(device.part.id);
  name_inputs(fixed_function_fields(), device, owner);
}

FixedFunction read_fixed_function(TableReader& reader, const ReadingContext& context) {
  FixedFunction device;
  read_record(reader, part_fields(), device.part);
  read_record(reader, fixed_function_fields(), device);
  check_part(reader, device.part, context);
  check_standby(reader, "detached_current", device.detached_current, "attached_current",
                device.attached_current);
  name_inputs(device);
  return device;
}

}  // namespace portweigh::parts

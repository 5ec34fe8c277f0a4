#include "options/candidate.hpp"

namespace portweigh::options {
namespace {

struct EngineTexts {
  std::string_view for_people;
  std::string_view in_studies;
};

EngineTexts texts_of(EngineKind kind) {
  switch (kind) {
    case EngineKind::fabric:
      return {"logic fabric", "fabric"};
    case EngineKind::soft_processor:
      return {"soft processor", "soft-processor"};
    case EngineKind::microcontroller:
      return {"microcontroller", "microcontroller"};
    case EngineKind::fixed_function:
      return {"fixed function", "fixed-function"};
    case EngineKind::host:
      return {"host processor", "host"};
    case EngineKind::external:
      return {"external parts", "external"};
    case EngineKind::none:
      return {"not needed", ""};
  }
  return {};
}

unsigned peripherals_of(const Chip& chip, const char* name) {
  const auto* microcontroller = std::get_if<const parts::Microcontroller*>(&chip.device);
  if (microcontroller == nullptr) return 0;
  const auto& all = (*microcontroller)->peripherals;
  const auto found = all.find(name);
  return found == all.end() ? 0 : found->second;
}

}  // namespace

std::string_view to_string(EngineKind kind) {
  return texts_of(kind).for_people;
}

std::string_view study_name_of(EngineKind kind) {
  return texts_of(kind).in_studies;
}

std::string_view to_string(OptionKind kind) {
  switch (kind) {
    case OptionKind::programmable_logic:
      return "programmable-logic";
    case OptionKind::microcontroller:
      return "microcontroller";
    case OptionKind::fixed_function:
      return "fixed-function";
    case OptionKind::split:
      return "split";
    case OptionKind::no_silicon:
      return "no-silicon";
  }
  return "";
}

bool Candidate::uses(EngineKind kind_of_engine) const {
  return std::find(engine_of_block.begin(), engine_of_block.end(), kind_of_engine) != engine_of_block.end();
}

const Chip* Candidate::carrier_of(EngineKind engine) const {
  const auto found =
      std::find_if(chips.begin(), chips.end(), [&](const Chip& chip) { return chip.carries(engine); });
  return found == chips.end() ? nullptr : &*found;
}

std::vector<std::string> Candidate::part_ids() const {
  std::vector<std::string> ids;
  for (const Chip& chip : chips) ids.push_back(chip.part().id);
  return ids;
}

const parts::Part& Chip::part() const {
  return std::visit([](const auto* of) -> const parts::Part& { return of->part; }, device);
}

bool Chip::carries(EngineKind engine) const {
  if (std::holds_alternative<const parts::ProgrammableLogic*>(device)) {
    return engine == EngineKind::fabric || engine == EngineKind::soft_processor;
  }
  return engine == (is_programmable() ? EngineKind::microcontroller : EngineKind::fixed_function);
}

bool Chip::is_programmable() const {
  return !std::holds_alternative<const parts::FixedFunction*>(device);
}

unsigned Chip::comparators() const {
  if (const auto* logic = std::get_if<const parts::ProgrammableLogic*>(&device)) return (*logic)->comparators;
  return peripherals_of(*this, "comparator");
}

unsigned Chip::references() const {
  return peripherals_of(*this, "reference");
}

FabricTraits traits_of(const parts::ProgrammableLogic& part) {
  return {part.lut_inputs, part.has_carry_chain, part.has_register_control,
          part.ram_blocks > 0 ? part.ram_block_bits : 0, part.smallest_ram_bits};
}

}  // namespace portweigh::options

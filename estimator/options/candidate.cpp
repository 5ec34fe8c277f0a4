#include "options/candidate.hpp"

#include <algorithm>

namespace portweigh::options {

std::string_view to_string(EngineKind kind) {
  switch (kind) {
    case EngineKind::fabric:
      return "logic fabric";
    case EngineKind::soft_processor:
      return "soft processor";
    case EngineKind::microcontroller:
      return "microcontroller";
    case EngineKind::fixed_function:
      return "fixed function";
    case EngineKind::host:
      return "host processor";
    case EngineKind::external:
      return "external parts";
    case EngineKind::none:
      return "not needed";
  }
  return "";
}

std::string_view study_name_of(EngineKind kind) {
  switch (kind) {
    case EngineKind::fabric:
      return "fabric";
    case EngineKind::soft_processor:
      return "soft-processor";
    case EngineKind::microcontroller:
      return "microcontroller";
    case EngineKind::fixed_function:
      return "fixed-function";
    case EngineKind::host:
      return "host";
    case EngineKind::external:
      return "external";
    case EngineKind::none:
      return "";
  }
  return "";
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

std::vector<std::string> Candidate::part_ids() const {
  std::vector<std::string> ids;
  if (logic != nullptr) ids.push_back(logic->part.id);
  if (microcontroller != nullptr) ids.push_back(microcontroller->part.id);
  if (fixed != nullptr) ids.push_back(fixed->part.id);
  return ids;
}

FabricTraits traits_of(const parts::ProgrammableLogic& part) {
  return {part.lut_inputs, part.has_carry_chain, part.has_register_control,
          part.ram_blocks > 0 ? part.ram_block_bits : 0, part.smallest_ram_bits};
}

}  // namespace portweigh::options

// A candidate: parts, the engines in them, and which engine carries each block of the function.
//
// An engine is something a block can run on. A candidate is only a proposal; realise.hpp finds out whether it
// works and writes its figures. Tested by tests/options/search/split_search_test.cpp.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "options/context.hpp"

namespace portweigh::options {

enum class EngineKind { fabric, soft_processor, microcontroller, fixed_function, host, external, none };

std::string_view to_string(EngineKind kind);
// As studies name it: "fabric", "soft-processor", ...; "" for none.
std::string_view study_name_of(EngineKind kind);

enum class OptionKind { programmable_logic, microcontroller, fixed_function, split, no_silicon };

std::string_view to_string(OptionKind kind);

// Why something can't be: one reason in plain words, and its number. What is needed exceeds what is there.
struct Shortfall {
  std::string reason;
  double needed = 0;     // SI
  double available = 0;  // SI
  std::string unit = "1";
};

struct Candidate {
  std::string id;  // "pl-2k", "pl-2k+soft", "pl-1k+host", "mc-32a", "ff-sink", "ff-line+pl-2k:policy"
  OptionKind kind = OptionKind::split;
  const parts::ProgrammableLogic* logic = nullptr;
  const parts::Microcontroller* microcontroller = nullptr;
  const parts::FixedFunction* fixed = nullptr;
  std::optional<BlockUse> soft_processor;   // with its program and data memory sized later
  std::vector<EngineKind> engine_of_block;  // in the order of the function's blocks
  std::string search_note;                  // how the assignment was found, for people
  std::optional<Shortfall> no_assignment;   // where the search found none that works

  bool uses(EngineKind kind_of_engine) const;
  // The main parts' ids, in the order logic, microcontroller, fixed function.
  std::vector<std::string> part_ids() const;
};

FabricTraits traits_of(const parts::ProgrammableLogic& part);

}  // namespace portweigh::options

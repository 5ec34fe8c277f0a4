// A candidate: parts, the engines in them, and which engine carries each block of the function.
//
// An engine is something a block can run on. A candidate is only a proposal; realise (option.hpp) finds out
// whether it works and writes its figures. Tested by tests/options/candidate_test.cpp.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
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

// A step's result, or why the option can't be.
template <class Result>
using OrShortfall = std::variant<Result, Shortfall>;
using Impossible = std::optional<Shortfall>;

// A main part of an option, as one body on the board.
struct Chip {
  std::variant<const parts::ProgrammableLogic*, const parts::Microcontroller*, const parts::FixedFunction*>
      device;
  const parts::Package* package = nullptr;  // once it is chosen

  const parts::Part& part() const;
  bool carries(EngineKind engine) const;
  bool is_programmable() const;
  unsigned comparators() const;  // built in
  unsigned references() const;   // built in, for the comparators
};

// How an option's own processor is clocked: a microcontroller or a soft processor. Of the host the study knows one clock.
struct ClockSetting {
  double clock_hz = 0;
  std::size_t point = 0;  // core voltage of a microcontroller, as of operating_point.hpp
};

struct Candidate {
  std::string id;  // "pl-2k", "pl-2k+soft", "pl-1k+host", "mc-32a", "ff-sink", "ff-line+pl-2k:policy"
  OptionKind kind = OptionKind::split;
  std::vector<Chip> chips;                  // logic, then microcontroller, then fixed function
  std::optional<BlockUse> soft_processor;   // with its program and data memory sized later
  std::vector<EngineKind> engine_of_block;  // in the order of the function's blocks
  std::optional<ClockSetting> setting;      // of its processor; none: that of least average power
  std::string search_note;                  // how the assignment was found, for people
  std::optional<Shortfall> no_assignment;   // where the search found none that works

  bool uses(EngineKind kind_of_engine) const;
  const Chip* carrier_of(EngineKind engine) const;  // null: none of the chips
  std::vector<std::string> part_ids() const;        // of the chips, in their order
  // Puts a chip in its place among the others.
  template <class Device>
  void add(const Device* device);
  // The first chip of a kind; null: there is none.
  const parts::ProgrammableLogic* logic() const { return first<parts::ProgrammableLogic>(); }
  const parts::Microcontroller* microcontroller() const { return first<parts::Microcontroller>(); }
  const parts::FixedFunction* fixed() const { return first<parts::FixedFunction>(); }

 private:
  template <class Device>
  const Device* first() const;
};

template <class Device>
void Candidate::add(const Device* device) {
  const Chip chip{device};
  const auto after = std::find_if(chips.begin(), chips.end(), [&](const Chip& other) {
    return other.device.index() > chip.device.index();
  });
  chips.insert(after, chip);
}

template <class Device>
const Device* Candidate::first() const {
  for (const Chip& chip : chips) {
    if (const auto* device = std::get_if<const Device*>(&chip.device)) return *device;
  }
  return nullptr;
}

FabricTraits traits_of(const parts::ProgrammableLogic& part);

}  // namespace portweigh::options

// An option while it is being realised: the steps of realise.cpp read and fill it in their order.
//
// Each step is a function in a file of its own (capacity, fabric_power, processor_power, package, money,
// ...). A step that finds the candidate impossible returns the reason. Tested through
// tests/options/search/consider_test.cpp.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "options/firmware/link.hpp"
#include "options/firmware/schedule.hpp"
#include "options/option.hpp"

namespace portweigh::options {

// What one contributor draws from the supply, in W.
struct PowerContribution {
  std::string name;       // "clock tree"
  figures::Figure busy;   // attached, line carrying bits
  figures::Figure quiet;  // attached, line quiet
  figures::Figure detached;
  bool is_main_part = true;  // heats the main part's junction; external parts and the host don't
};

// A chip of the option with the package chosen for it.
struct ChosenPackage {
  const parts::Part* part = nullptr;
  const parts::Package* package = nullptr;
};

// Engineering of one block on its engine, or of the option as a whole (no block, no group).
struct EffortItem {
  std::string what;            // "crc-receive", "integration"
  std::string revision_group;  // of the block; empty: no revision touches it
  std::string shared_key;      // products that take the same item share it: "logic/crc-receive"; empty: own
  figures::Figure once;        // s of work for this study, less where the company has the block already
  figures::Figure anew;        // s of work to make it from nothing, of which a revision costs a share
};

using Impossible = std::optional<Shortfall>;

struct Draft {
  Draft(const Context& of, const Candidate& proposed) : context(of), candidate(proposed) {}

  const Context& context;
  const Candidate& candidate;
  Option option;

  // Blocks by engine.
  std::vector<const study::FunctionBlock*> on(EngineKind engine) const;

  std::optional<Link> link;               // where blocks are on two chips, or in the host
  std::optional<Schedule> core_schedule;  // microcontroller
  std::size_t operating_point = 0;        // of the microcontroller, as of operating_point.hpp
  std::string clock_choice = "the only clock setting at which every deadline holds";
  std::optional<Schedule> soft_schedule;
  std::optional<Schedule> host_schedule;
  std::vector<BlockUse> added_blocks;                      // soft processor and links, on the fabric
  std::map<parts::ExternalRole, unsigned> external_needs;  // channels
  std::vector<ChosenPackage> packages;
  std::vector<PowerContribution> power;
  // Energy of one wake-up, J, by contributor.
  std::vector<figures::Figure> wake_up_energy;
  std::vector<EffortItem> effort;  // all items together are the engineering of the one-time cost

  figures::Ledger& ledger() { return option.ledger; }
  // An input of the ledger; `correlation` groups inputs that move together.
  figures::Figure input(std::string_view key, std::string_view label, const reading::SourcedRange& range,
                        std::string_view correlation = "");
  figures::Figure input(std::string_view key, std::string_view label,
                        const reading::SourcedQuantity& quantity);
  // A result of covering, simulation or execution; `source_text` says which run. With a spread only where the
  // range is the same in every option.
  figures::Figure counted(std::string_view key, std::string_view label, figures::Range range,
                          std::string_view source_text, std::string_view unit = "1");
  // A result of executed routines, named `key`: its input belongs to this option alone, since another
  // option's has another range, and moves together with all code of the same core class.
  figures::Figure executed(std::string_view key, std::string_view label, const firmware::CostRange& range,
                           const std::string& core, std::string_view source_text, std::string_view unit);
  figures::Figure zero(const figures::Dimension& dimension);
  figures::Figure name(figures::Figure figure, std::string_view key, std::string_view label,
                       std::string_view unit);
};

// Of the packages that the product's assembly can take; 0: of none.
unsigned most_usable_pins(const parts::Part& part, const study::Assembly& assembly);

// Junction to ambient of the package chosen for a part of the option, as a ledger input.
figures::Figure thermal_resistance(Draft& draft, const parts::Part& part);

// The steps, in their order.
Impossible place_blocks(Draft& draft);  // features, schedules, memory
Impossible count_cells(Draft& draft);   // fabric capacity and clock
Impossible choose_packages(Draft& draft);
void list_external_parts(Draft& draft);
void add_fabric_power(Draft& draft);
void add_processor_power(Draft& draft);
void add_other_power(Draft& draft);  // fixed function, host, external parts
Impossible sum_power_and_heat(Draft& draft);
void add_battery(Draft& draft);      // where the study has one
void add_engineering(Draft& draft);  // effort by revision group
void add_money(Draft& draft);

}  // namespace portweigh::options

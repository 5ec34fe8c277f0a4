// Analogue front end: comparators, switches and references that the port needs somewhere.
//
// It has no logic and no firmware. Pins: a comparator needs the input it watches, a switch the line that
// controls it (a digital output of the engine) and its sense line; a reference needs a pin only where the
// part has none inside, which the part's own description decides, so it takes none here.
// With nothing attached some comparators look for a cable, slowly; the others are off.
// Example: 2 comparators and 1 switch take 3 analogue pins and 1 digital output.
// Tested by tests/blocks/supplied/given_counts_test.cpp.
#include <algorithm>

#include "blocks/supplied/given_counts.hpp"

namespace portweigh::blocks {
namespace {

unsigned count_of(const Settings& settings, std::string_view name) {
  return static_cast<unsigned>(settings.integer(name));
}

AnalogueNeeds analogue_front_end_needs(const Settings& settings) {
  const unsigned comparators = count_of(settings, "comparators");
  return {.comparators = comparators,
          .watching = std::min(comparators, count_of(settings, "watching")),
          .switches = count_of(settings, "switches"),
          .references = count_of(settings, "references")};
}

Pins analogue_front_end_pins(const Settings& settings) {
  const AnalogueNeeds needs = analogue_front_end_needs(settings);
  return {.digital_outputs = needs.switches, .analogue = needs.comparators + needs.switches};
}

}  // namespace

Kind analogue_front_end_kind() {
  Kind kind;
  kind.name = "analogue-front-end";
  kind.summary = "comparators, switches and references: no logic; pins, parts and current";
  kind.settings = {
      {"comparators", "comparators, each watching one line", IntegerDomain{0, 2, 32}},
      {"watching", "of the comparators, those that look for a cable while nothing is attached",
       IntegerDomain{0, 32, 32}},
      {"switches", "analogue or power switches, each with a control and a sense line",
       IntegerDomain{0, 1, 32}},
      {"references", "voltage references", IntegerDomain{0, 1, 8}},
  };
  kind.pins = analogue_front_end_pins;
  kind.analogue = analogue_front_end_needs;
  return kind;
}

}  // namespace portweigh::blocks

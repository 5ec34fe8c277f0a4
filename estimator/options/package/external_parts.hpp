// Which small parts stand beside the chips: what the chips lack, and the cheapest bodies that give it.
//
// A part serves a need if it works on the study's rail and, for a regulator, makes the core's voltage; a configuration
// memory has to hold the whole configuration in its erase pages. Where an update keeps the image before it, that is two
// of them, or one beside the memory on the fabric's own die. The bodies are the cheapest set by exact search over parts and counts:
//   cost of k bodies = k (price at k x volume (1 + attrition) + placement + board under it), all typical
// Worked example: three comparators are missing, a dual costs 0.16 and a quad 0.24: one quad; one is missing: one dual.
// Tested by tests/options/package/external_parts_test.cpp.
#pragma once

#include <functional>
#include <optional>
#include <vector>

#include "options/draft.hpp"

namespace portweigh::options {

struct ExternalNeed {
  parts::ExternalRole role = parts::ExternalRole::comparator;
  unsigned channels = 0;
  figures::Range output_v;    // a regulator: the core's; else zero
  double capacity_bytes = 0;  // a configuration memory: an image that it has to hold; else 0
  unsigned images = 1;        // of them, each in erase pages of its own
};

std::vector<ExternalNeed> external_needs(const Context& context, const Candidate& candidate);

bool serves(const parts::ExternalPart& part, const ExternalNeed& need, const figures::Range& supply_v);

struct Bodies {
  const parts::ExternalPart* part = nullptr;
  unsigned count = 0;
};

// Money for `count` bodies of a part.
using CostOfBodies = std::function<double(const parts::ExternalPart&, unsigned count)>;

// The cheapest bodies with so many channels in all; of equal cost the parts that come first. None: no part given.
std::optional<std::vector<Bodies>> cheapest_bodies(const std::vector<const parts::ExternalPart*>& parts,
                                                   unsigned channels, const CostOfBodies& cost);

// Adds them to the bill; or what the catalog lacks.
Impossible list_external_parts(Draft& draft);

}  // namespace portweigh::options

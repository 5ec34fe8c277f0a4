// A fixed-function controller: does what its features say and nothing else.
//
// Features are the names that blocks of a port function ask for ("line-code", "message-layer", "policy-sink",
// "alternate-mode", ...). Tested by tests/parts/catalog_test.cpp.
#pragma once

#include <set>

#include "parts/part.hpp"

namespace portweigh::parts {

struct FixedFunction {
  Part part;

  std::set<std::string> features;
  unsigned general_purpose_pins = 0;
  SourcedRange active_current;    // A from the supply, line busy
  SourcedRange attached_current;  // A, attached and quiet
  SourcedRange detached_current;  // A, waiting for a cable
};

}  // namespace portweigh::parts

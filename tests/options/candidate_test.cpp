// Chips of a candidate and what runs on them.
#include "options/candidate.hpp"

#include <catch2/catch.hpp>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

TEST_CASE("Chips stand in the order logic, microcontroller, fixed function, several of one part too") {
  const parts::Catalog& catalog = demo().catalog;
  Candidate candidate;
  CHECK(candidate.logic() == nullptr);
  candidate.add(&catalog.fixed_functions.front());
  candidate.add(&catalog.microcontrollers.front());
  candidate.add(&catalog.programmable_logic.front());
  candidate.add(&catalog.microcontrollers.front());
  const std::string microcontroller = catalog.microcontrollers.front().part.id;
  CHECK(candidate.part_ids() == std::vector<std::string>{catalog.programmable_logic.front().part.id,
                                                         microcontroller, microcontroller,
                                                         catalog.fixed_functions.front().part.id});
  CHECK(candidate.fixed() == &catalog.fixed_functions.front());
}

TEST_CASE("A fabric carries a soft processor beside its logic; a fixed function is not programmed") {
  const Chip logic{&demo().catalog.programmable_logic.front()};
  CHECK(logic.carries(EngineKind::fabric));
  CHECK(logic.carries(EngineKind::soft_processor));
  CHECK_FALSE(logic.carries(EngineKind::microcontroller));
  CHECK(logic.is_programmable());
  const Chip fixed{&demo().catalog.fixed_functions.front()};
  CHECK(fixed.carries(EngineKind::fixed_function));
  CHECK_FALSE(fixed.carries(EngineKind::host));
  CHECK_FALSE(fixed.is_programmable());
  CHECK(fixed.comparators() == 0);
}

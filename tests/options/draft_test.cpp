// Values enter a ledger under the names that their readers gave them.
#include "options/draft.hpp"

#include <catch2/catch.hpp>
#include <stdexcept>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

TEST_CASE("An input is called as its field says, whoever takes it") {
  const Context context = demo().context();
  const Candidate candidate;
  Draft draft(context, candidate);
  const auto& part = demo().catalog.programmable_logic.front();
  CHECK(draft.input(part.lut_delay).key() == "parts." + part.part.id + ".lut_delay");
  CHECK(draft.input(context.study.volume_per_year).key() == "volume_per_year");
  CHECK(draft.input(part.part.availability).key() == "parts." + part.part.id + ".availability");
  CHECK(draft.ledger().inputs()[0].label == "LUT delay");
  CHECK(draft.ledger().inputs()[0].correlation == "speed of " + part.part.id);
}

TEST_CASE("A value without a name is a defect, not an input") {
  const Context context = demo().context();
  const Candidate candidate;
  Draft draft(context, candidate);
  CHECK_THROWS_AS(draft.input(reading::SourcedRange{}), std::logic_error);
}

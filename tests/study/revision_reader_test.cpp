// Revisions, the years of production and what is reused: what is read, and mistakes word for word.
#include <catch2/catch.hpp>
#include <fstream>

#include "reading/diagnostic.hpp"
#include "study/study.hpp"
#include "study_texts_fixture.hpp"

namespace portweigh::study {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_after(const std::string& from, const std::string& to) {
  return texts::mistakes_of_study(texts::changed(texts::study(), from, to), texts::function());
}

std::string with_start(const std::string& revision) {
  return texts::changed(texts::changed(texts::study(), "currency = \"USD\"",
                                       "currency = \"USD\"\nproduction_start = \"2026-01-01\""),
                        "chance_per_year = 0.25", revision);
}

TEST_CASE("probabilities above one and volumes of zero are refused") {
  CHECK(mistakes_after("chance_per_year = 0.25", "chance_per_year = 1.25") ==
        Lines{"study.toml:32:19: \"chance_per_year\" is 1.25, expected 0 .. 1"});
  CHECK(texts::mistakes_of_study(with_start("date = \"2027-01-01\"\nchance = 2"), texts::function()) ==
        Lines{"study.toml:34:10: \"chance\" is 2, expected 0 .. 1"});
  CHECK(mistakes_after("volume_per_year = 1000", "volume_per_year = 0") ==
        Lines{"study.toml:5:19: \"volume_per_year\" is 0, expected 1 .. 10000000000"});
  CHECK(mistakes_after("[money]", "[life]\nvolume_ramp = [0, 0]\n[money]") ==
        Lines{"study.toml:42:15: no year has units, expected a share above 0 in one year at least"});
  CHECK(mistakes_after("attrition = 0.01", "attrition = 1.01") ==
        Lines{"study.toml:47:13: \"attrition\" is 1.01, expected 0 .. 1"});
}

TEST_CASE("an unknown currency is told with the nearest") {
  const auto mistakes = mistakes_after("currency = \"USD\"", "currency = \"GBP\"");
  REQUIRE(!mistakes.empty());
  CHECK(mistakes[0] == "study.toml:4:12: unknown currency \"GBP\", expected one of EUR, USD");
}

TEST_CASE("a revision has a chance a year or a date, not both and not neither") {
  CHECK(mistakes_after("chance_per_year = 0.25\n", "") ==
        Lines{"study.toml:30:1: neither chance_per_year nor date, expected one of them"});
  CHECK(texts::mistakes_of_study(with_start("chance_per_year = 0.25\ndate = \"2027-01-01\""),
                                 texts::function()) ==
        Lines{"study.toml:34:8: a date and a chance_per_year, expected one of them"});
  CHECK(mistakes_after("chance_per_year = 0.25", "chance_per_year = 0.25\nchance = 0.5") ==
        Lines{"study.toml:33:10: chance of a revision without a date, expected chance_per_year"});
}

TEST_CASE("dates are days, after the start of production, which must be told") {
  CHECK(texts::mistakes_of_study(with_start("date = \"2027-02-29\""), texts::function()) ==
        Lines{"study.toml:33:8: \"2027-02-29\" is not a day, expected a date such as \"2025-01-31\""});
  CHECK(texts::mistakes_of_study(with_start("date = \"2025-06-01\""), texts::function()) ==
        Lines{"study.toml:33:8: 2025-06-01 is before production_start, expected a later day"});
  CHECK(mistakes_after("chance_per_year = 0.25", "date = \"2027-01-01\"") ==
        Lines{"study.toml:1:1: a revision has a date, expected production_start = \"2026-07-01\" or another "
              "day"});
  CHECK(texts::mistakes_of_study(with_start("date = \"2027-01-01\""), texts::function()) == Lines{});
}

TEST_CASE("a dated revision arrives as years after the start, certain unless told otherwise") {
  const texts::Folder folder;
  folder.write("study.toml", with_start("date = \"2028-01-01\""));
  folder.write("catalog/functions/small.toml", texts::function());
  folder.write("catalog/state-machines/lamp.toml", texts::state_table());
  for (const char* file : {"cores/32-bit-a", "programmable-logic/pl-a", "microcontrollers/mc-b"}) {
    folder.write(std::string("catalog/") + file + ".toml", "");
  }
  const Study study = read_study(folder.path() / "study.toml", folder.path() / "catalog");
  REQUIRE(study.revisions.size() == 1);
  CHECK_FALSE(study.revisions[0].chance_per_year.has_value());
  CHECK(study.revisions[0].years_after_start == Approx(730 / 365.25));
  CHECK(study.revisions[0].chance.range.typical == 1);
}

TEST_CASE("learning needs the units at which costs hold") {
  CHECK(
      mistakes_after("[money]", "[life]\nlearning_rate = 0.9\n[money]") ==
      Lines{"study.toml:42:17: a learning rate without learning_reference, expected the units made when the "
            "study's production costs hold"});
  CHECK(mistakes_after("[money]", "[life]\nlearning_rate = 1.1\nlearning_reference = 100\n[money]") ==
        Lines{"study.toml:42:17: \"learning_rate\" is 1.1, expected 0.5 .. 1"});
  CHECK(mistakes_after("[money]",
                       "[life]\nlearning_rate = 0.9\nlearning_reference = 100\n"
                       "learning_curve = \"crawford\"\n[money]") == Lines{});
}

TEST_CASE("reused blocks and parts must exist") {
  CHECK(mistakes_after("[money]", "[reuse]\nlogic_blocks = [\"chek\"]\n[money]") ==
        Lines{"study.toml:42:17: unknown block \"chek\", expected one of check, policy; nearest: \"check\""});
  CHECK(mistakes_after("[money]", "[reuse]\nparts = [\"pl-b\"]\n[money]") ==
        Lines{"study.toml:42:10: unknown part \"pl-b\", expected one of mc-b, pl-a; nearest: \"pl-a\""});
  CHECK(mistakes_after("[money]", "[reuse]\nfirmware_blocks = [\"policy\"]\n[money]") == Lines{});
}

}  // namespace
}  // namespace portweigh::study

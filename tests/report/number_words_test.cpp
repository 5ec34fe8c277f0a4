#include "report/number_words.hpp"

#include <catch2/catch.hpp>

using namespace portweigh;
using namespace portweigh::report;

TEST_CASE("All or none of the samples is told by the rule of three") {
  // 3 / 4096 = 0.07 %, 3 / 512 = 0.59 %; with 1000 samples it is 0.3 % exactly.
  CHECK(share_words(1, 4096) == "at least 99.9 %");
  CHECK(share_words(1, 512) == "at least 99.4 %");
  CHECK(share_words(0, 4096) == "at most 0.1 %");
  CHECK(share_words(1, 4096, 0) == "at least 99.9 %");
  CHECK(share_words(1, 2) == "at least 0.0 %");
}

TEST_CASE("Nearly all of the samples does not read as all of them") {
  CHECK(share_words(4095.0 / 4096, 4096) == "99.97 %");
  CHECK(share_words(1.0 / 4096, 4096) == "0.03 %");
  CHECK(share_words(0.93, 4096, 0.004) == "93 % (± 0.4 %)");
  CHECK(share_words(4095.0 / 4096, 4096, 0.00024) == "99.97 % (± 0.02 %)");
}

TEST_CASE("Shares read in percent and money to the cent") {
  const figures::Unit one = figures::parse_unit("1");
  CHECK(amount_words(0.147, one, "share of units that come back") == "14.7 %");
  CHECK(amount_words(0.05, one, "share of units that come back") == "5 %");
  CHECK(amount_words(0.05, one, "activity of the logic") == "0.05");
  CHECK(amount_words(0.6144, figures::parse_unit("USD"), "unit cost") == "0.61 USD");
  CHECK(amount_words(0.01984, figures::parse_unit("USD"), "unit cost") == "0.02 USD");
  CHECK(amount_words(0.0, figures::parse_unit("USD"), "unit cost") == "0.00 USD");
  CHECK(amount_words(0.004, figures::parse_unit("W"), "active power") == "4 mW");
}

TEST_CASE("Zero has no sign") {
  CHECK(fixed(-0.003, 2) == "0.00");
  CHECK(fixed(-0.006, 2) == "-0.01");
  CHECK(signed_fixed(-0.03, 1) == "0.0");
  CHECK(signed_fixed(0.25, 2) == "+0.25");
  CHECK(signed_fixed(-0.25, 2) == "-0.25");
}

TEST_CASE("One thing is counted in the singular") {
  CHECK(counted(1, "block") == "1 block");
  CHECK(counted(20, "block") == "20 blocks");
}

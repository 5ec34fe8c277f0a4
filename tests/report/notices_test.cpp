#include "report/notices.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>
#include <sstream>

#include "report/terminal/text_table.hpp"

using namespace portweigh;
using namespace portweigh::report;
using Catch::Contains;
using Lines = std::vector<std::string>;

namespace {

// Two parts that a study may leave out, one of them invented, and an invented one beside the main part.
parts::Catalog small_catalog() {
  parts::Catalog catalog;
  catalog.fixed_functions.resize(2);
  catalog.fixed_functions[0].part.id = "ff-a";
  catalog.fixed_functions[1].part.id = "ff-b";
  catalog.fixed_functions[1].part.is_invented = true;
  catalog.external_parts.resize(1);
  catalog.external_parts[0].is_invented = true;
  return catalog;
}

study::FamilyProduct product(const std::string& name, const std::string& without) {
  study::FamilyProduct made;
  made.name = name;
  made.study.excluded_parts = {{without, "too tall"}};
  return made;
}

}  // namespace

TEST_CASE("the cautions say what comes first, and three lines hold them") {
  const Lines all = cautions({37, 37});
  REQUIRE(all.size() == 3);
  CHECK_THAT(all[0], Contains("Early estimates") && Contains("data sheets"));
  CHECK_THAT(all[1], Contains("240 W") && Contains("batteries") && Contains("safety standards") &&
                         Contains("local codes") && Contains("licensed practice"));
  CHECK(all[2] == "Invented, prices included: 37 of 37 parts.");
  const std::string text = notices_text({all, {}});
  CHECK(std::count(text.begin(), text.end(), '\n') <= 4);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) CHECK(display_width(line) <= 80);
}

TEST_CASE("invented is said only of parts that are, among those the study looks at") {
  parts::Catalog catalog = small_catalog();
  study::Study study;
  CHECK(notices_of(catalog, study).cautions == cautions({3, 2}));
  study.excluded_parts = {{"ff-b", "too tall"}};
  CHECK(notices_of(catalog, study).cautions == cautions({2, 1}));
  catalog.external_parts[0].is_invented = false;
  CHECK(notices_of(catalog, study).cautions.size() == 2);
  study.excluded_parts.clear();
  study.only_parts = {"ff-b"};
  CHECK(notices_of(catalog, study).cautions == cautions({2, 1}));
}

TEST_CASE("what the study leaves out stands once for each reason") {
  study::Study study;
  study.excluded_parts = {{"ff-a", "too tall"}, {"mc-b", "one source only"}, {"ff-c", "too tall"}};
  const Notices notices = notices_of({}, study);
  CHECK(exclusion_lines(notices.excluded) ==
        Lines{"Left out by the study: ff-a, ff-c: too tall", "Left out by the study: mc-b: one source only"});
  CHECK_THAT(notices_text(notices), Contains("\nLeft out by the study: ff-a, ff-c: too tall\n"));
  CHECK(exclusion_lines({}).empty());
}

TEST_CASE("a family counts a part that any of its products looks at, and tells who leaves one out") {
  study::Family family;
  family.products = {product("cheap", "ff-a"), product("large", "ff-b")};
  const Notices notices = notices_of(small_catalog(), family);
  CHECK(notices.cautions == cautions({3, 2}));
  CHECK(exclusion_lines(notices.excluded) == Lines{"Left out by the study (cheap): ff-a: too tall",
                                                   "Left out by the study (large): ff-b: too tall"});
  family.products[1].study.excluded_parts = {{"ff-a", "too tall"}};
  CHECK(exclusion_lines(notices_of(small_catalog(), family).excluded) ==
        Lines{"Left out by the study: ff-a: too tall"});
  family.products.push_back(product("third", "ff-b"));
  CHECK(exclusion_lines(notices_of(small_catalog(), family).excluded).front() ==
        "Left out by the study (cheap, large): ff-a: too tall");
}

TEST_CASE("of two runs the cautions stand once, and exclusions of one of them with its name") {
  const Notices before{cautions({3, 0}), {{"ff-a", "too tall", ""}, {"ff-b", "dear", ""}}};
  const Notices after{cautions({4, 1}), {{"ff-a", "too tall", ""}, {"ff-b", "late", ""}}};
  const Notices both = merged(before, after);
  CHECK(both.cautions == cautions({4, 1}));
  CHECK(both.excluded == std::vector<Exclusion>{{"ff-a", "too tall", ""},
                                                {"ff-b", "dear", "before"},
                                                {"ff-b", "late", "after"}});
}

TEST_CASE("JSON holds them, and gives them back") {
  const Notices notices{cautions({2, 1}), {{"ff-a", "too tall", ""}, {"ff-b", "dear", "cheap"}}};
  nlohmann::ordered_json json = nlohmann::ordered_json::object();
  add_notices(json, notices);
  CHECK(json["excluded"][0] == nlohmann::ordered_json({{"id", "ff-a"}, {"reason", "too tall"}}));
  CHECK(json["excluded"][1]["scope"] == "cheap");
  CHECK(json["cautions"].size() == 3);
  const Notices again = notices_in(json);
  CHECK(again.cautions == notices.cautions);
  CHECK(again.excluded == notices.excluded);
  CHECK(notices_in(nlohmann::ordered_json::object()).excluded.empty());
}

#include "options/search/grouping.hpp"

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;

namespace {

std::vector<std::string> names_of(const std::vector<BlockGroup>& groups) {
  std::vector<std::string> names;
  for (const BlockGroup& group : groups) names.push_back(group.name);
  return names;
}

}  // namespace

TEST_CASE("The sink function has eight groups, each block in one of them") {
  const auto groups = group_blocks(tests::demo().study);
  CHECK(names_of(groups) == std::vector<std::string>{"front-end", "line", "framing", "attachment", "message",
                                                     "policy", "host", "pins"});
  std::vector<std::size_t> seen;
  for (const BlockGroup& group : groups) seen.insert(seen.end(), group.blocks.begin(), group.blocks.end());
  std::sort(seen.begin(), seen.end());
  REQUIRE(seen.size() == tests::demo().study.function.blocks.size());
  for (std::size_t i = 0; i < seen.size(); ++i) CHECK(seen[i] == i);
}

TEST_CASE("A block that the study pins or forbids stands alone") {
  study::Study study = tests::demo().study;
  study.assignment.pinned.push_back({"capability-match", "host", {}});
  study.assignment.forbidden.push_back({"timers", "host", {}});
  const auto groups = group_blocks(study);
  CHECK(groups.size() == 10);
  for (const char* alone : {"capability-match", "timers"}) {
    const auto found =
        std::find_if(groups.begin(), groups.end(), [&](const auto& group) { return group.name == alone; });
    REQUIRE(found != groups.end());
    CHECK(found->blocks.size() == 1);
  }
}

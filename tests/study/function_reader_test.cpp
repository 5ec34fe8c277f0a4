// Port functions: those of the catalog read without a mistake and have plausible contents; mistakes of
// blocks, their settings and their state tables are told word for word with their place.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <set>

#include "reading/diagnostic.hpp"
#include "study/function.hpp"
#include "study_texts_fixture.hpp"

namespace portweigh::study {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_after(const std::string& from, const std::string& to) {
  return texts::mistakes_of_study(texts::study(), texts::changed(texts::function(), from, to));
}

PortFunction function_of_catalog(const std::string& name) {
  const std::filesystem::path catalog = PORTWEIGH_CATALOG_DIR;
  try {
    return read_function(catalog / "functions" / (name + ".toml"), catalog);
  } catch (const reading::InputError& error) {
    FAIL(error.what());
    throw;
  }
}

TEST_CASE("the functions of the catalog read without a mistake") {
  for (const char* name :
       {"sink", "source", "dual-role", "host-assisted", "lane-switching", "resistors-only"}) {
    const auto function = function_of_catalog(name);
    CHECK(function.name == name);
    CHECK_FALSE(function.blocks.empty());
    CHECK(function.needs_silicon == (std::string(name) != "resistors-only"));
    for (const auto& block : function.blocks) {
      INFO(name << ": " << block.name);
      REQUIRE(block.kind != nullptr);
    }
  }
}

TEST_CASE("the sink function has every block of the port") {
  const auto function = function_of_catalog("sink");
  std::set<Layer> layers;
  std::multiset<std::string> kinds;
  for (const auto& block : function.blocks) {
    layers.insert(block.layer);
    kinds.insert(block.kind->name);
    CHECK_FALSE(block.feature.empty());
    CHECK_FALSE(block.revision_group.empty());
  }
  CHECK(layers.size() == 6);
  for (const char* kind : {"line-code", "symbol-code", "crc", "framing", "buffer"}) {
    INFO(kind);
    CHECK(kinds.count(kind) == 2);  // one each way
  }
  CHECK(kinds.count("state-machine") == 4);
  CHECK(function.timing.bit_rate.range == figures::Range{270e3, 300e3, 330e3});
}

TEST_CASE("settings of a block are checked against its kind, each at its own place") {
  CHECK(mistakes_after("width = 16", "width = 65") ==
        Lines{"small.toml:17:22: \"width\" is 65, expected an integer from 1 to 64"});
  CHECK(mistakes_after("reflected = false", "reflected = \"no\"") ==
        Lines{"small.toml:17:59: \"reflected\" is a string, expected true or false"});
  const auto unknown = mistakes_after("width = 16", "widht = 16");
  REQUIRE(unknown.size() == 1);
  CHECK(unknown[0].starts_with("small.toml:17:14: unknown key \"widht\", expected one of "));
  CHECK(unknown[0].ends_with("; nearest: \"width\""));
}

TEST_CASE("kinds, layers and deadlines come from closed lists") {
  const auto kind = mistakes_after("kind = \"crc\"", "kind = \"crcc\"");
  REQUIRE(kind.size() == 1);
  CHECK(kind[0].starts_with("small.toml:13:8: unknown block kind \"crcc\", expected one of "));
  CHECK(kind[0].ends_with("; nearest: \"crc\""));
  CHECK(
      mistakes_after("layer = \"physical\"", "layer = \"phisical\"") ==
      Lines{
          "small.toml:14:9: unknown layer \"phisical\", expected one of analogue, physical, message, policy, "
          "host, pins; nearest: \"physical\""});
  CHECK(mistakes_after("deadline = \"response\"", "deadline = \"respons\"") ==
        Lines{"small.toml:23:12: unknown deadline \"respons\", expected one of turn-round, inter-frame-gap, "
              "response, tick; nearest: \"response\""});
  CHECK(mistakes_after("name = \"policy\"", "name = \"check\"") ==
        Lines{"small.toml:19:8: block \"check\" is listed twice, expected a unique name"});
}

TEST_CASE("the half of the traffic that a block works on is told once") {
  CHECK(mistakes_after("kind = \"crc\"", "kind = \"crc\"\ndirection = \"recieve\"") ==
        Lines{"small.toml:14:13: unknown direction \"recieve\", expected one of receive, transmit, both; "
              "nearest: \"receive\""});
  CHECK(mistakes_after("kind = \"crc\"\nlayer = \"physical\"\nfeature = \"crc\"\nrevision_group = \"line\"\n"
                       "settings = { width = 16, polynomial = 0x1021, reflected = false }",
                       "kind = \"line-code\"\nlayer = \"physical\"\ndirection = \"receive\"") ==
        Lines{"small.toml:15:13: kind \"line-code\" has a setting of that name, expected it there"});
}

TEST_CASE("a state table is found beside the function or in the catalog, and checked") {
  CHECK(mistakes_after("lamp.toml", "lamb.toml") ==
        Lines{"small.toml:24:21: unknown file \"lamb.toml\", expected one of lamp.toml, small.toml; nearest: "
              "\"lamp.toml\""});
  const auto unreachable =
      texts::mistakes_of_study(texts::study(), texts::function(),
                               texts::changed(texts::state_table(), "to = \"bright\"", "to = \"dark\""));
  REQUIRE(unreachable.size() == 1);
  CHECK(unreachable[0].starts_with("lamp.toml:"));
  CHECK(unreachable[0].find("bright") != std::string::npos);
  const auto no_reaction =
      texts::mistakes_of_study(texts::study(), texts::function(),
                               texts::changed(texts::state_table(), "press = \"the key is pressed\"",
                                              "press = \"the key is pressed\"\nhold = \"the key is held\""));
  for (const char* state : {"dark", "bright"}) {
    const auto told = std::count_if(no_reaction.begin(), no_reaction.end(), [&](const std::string& line) {
      return line.starts_with("lamp.toml:") &&
             line.find(std::string("state \"") + state + "\" has no reaction to event \"hold\"") !=
                 std::string::npos;
    });
    CHECK(told == 1);
  }
}

}  // namespace
}  // namespace portweigh::study

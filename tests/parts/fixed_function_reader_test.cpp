// Mistakes that only fixed-function controllers and external parts can have, word for word.
#include "parts/fixed_function_reader.hpp"

#include <catch2/catch.hpp>

#include "part_texts_fixture.hpp"

namespace portweigh::parts {
namespace {

using Lines = std::vector<std::string>;

Lines mistakes_after(const std::string& from, const std::string& to) {
  return texts::mistakes(texts::changed(texts::fixed_function(), from, to), [](reading::TableReader& reader) {
    (void)read_fixed_function(reader, texts::context());
  });
}

TEST_CASE("features are names, each once") {
  auto document = reading::Document::parse(texts::fixed_function(), "part.toml");
  auto root = document.root();
  CHECK(read_fixed_function(root, texts::context()).features ==
        std::set<std::string>{"line-code", "policy-sink"});
  CHECK(mistakes_after("\"policy-sink\"", "\"line-code\"") ==
        Lines{"part.toml:12:26: feature \"line-code\" is listed twice, expected each once"});
  CHECK(mistakes_after("\"policy-sink\"", "\"Policy sink\"") ==
        Lines{"part.toml:12:26: \"features[1]\" is \"Policy sink\", expected lower-case words joined by "
              "hyphens, such as \"port-controller\""});
}

TEST_CASE("a controller takes no more detached than attached") {
  CHECK(
      mistakes_after("\"8 uA\"", "\"251 uA\"") ==
      Lines{
          "part.toml:16:20: detached_current above attached_current, expected at most as much at low, typical and "
          "high"});
}

}  // namespace
}  // namespace portweigh::parts

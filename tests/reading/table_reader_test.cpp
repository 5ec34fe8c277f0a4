#include "reading/table_reader.hpp"

#include <catch2/catch.hpp>
#include <functional>

using namespace portweigh::reading;

namespace {

// What the reader says about a text, after `read` has asked its questions.
std::string complaint(const std::string& text, const std::function<void(TableReader&)>& read) {
  try {
    auto document = Document::parse(text, "x.toml");
    auto root = document.root();
    read(root);
    document.throw_if_errors();
  } catch (const InputError& error) {
    return error.what();
  }
  return "no error";
}

}  // namespace

TEST_CASE("an unknown key is told with place, caret and the nearest name") {
  const auto message = complaint("clock = 1\n  leakge = 2\n", [](TableReader& root) {
    (void)root.required_integer("clock", 0, 9);
    (void)root.optional_integer("leakage", 0, 9);
  });
  CHECK(message ==
        "x.toml:2:3: unknown key \"leakge\", expected one of clock, leakage; nearest: \"leakage\"\n"
        "    leakge = 2\n"
        "    ^");
}

TEST_CASE("all mistakes of a file are told in one run, in the order of the file") {
  const auto message = complaint("name = \"No Good\"\ncells = \"many\"\nshare = nan\nflag = 1\nextra = 1\n",
                                 [](TableReader& root) {
                                   CHECK_FALSE(root.required_boolean("flag"));
                                   CHECK(root.required_number("share", 0.0, 1.0) == 0.0);
                                   CHECK(root.required_integer("cells", 1, 9) == 1);
                                   CHECK(root.required_string("name", Pattern::identifier).empty());
                                   CHECK(root.required_string("title").empty());
                                 });
  CHECK(message ==
        "x.toml:1:1: missing key \"title\", expected a text that is not empty\n"
        "  name = \"No Good\"\n"
        "  ^\n"
        "x.toml:1:8: \"name\" is \"No Good\", expected lower-case words joined by hyphens, such as "
        "\"port-controller\"\n"
        "  name = \"No Good\"\n"
        "         ^\n"
        "x.toml:2:9: \"cells\" is a string, expected an integer from 1 to 9\n"
        "  cells = \"many\"\n"
        "          ^\n"
        "x.toml:3:9: \"share\" is nan, expected a number from 0 to 1\n"
        "  share = nan\n"
        "          ^\n"
        "x.toml:4:8: \"flag\" is an integer, expected true or false\n"
        "  flag = 1\n"
        "         ^\n"
        "x.toml:5:1: unknown key \"extra\", expected one of cells, flag, name, share, title\n"
        "  extra = 1\n"
        "  ^");
}

TEST_CASE("good values are read") {
  const auto message = complaint(
      "name = \"pl-2k\"\ncells = 9\nshare = 1\nflag = true\ncode = \"EUR\"\nlist = [\"a\", \"b\"]\n",
      [](TableReader& root) {
        CHECK(root.required_string("name", Pattern::identifier) == "pl-2k");
        CHECK(root.required_integer("cells", 1, 9) == 9);
        CHECK(root.required_number("share", 0.0, 1.0) == 1.0);
        CHECK(root.required_boolean("flag"));
        CHECK(root.optional_string("code", Pattern::currency) == "EUR");
        CHECK(root.required_strings("list") == std::vector<std::string>{"a", "b"});
        CHECK_FALSE(root.optional_string("none").has_value());
        CHECK_FALSE(root.optional_integer("none", 0, 1).has_value());
        CHECK_FALSE(root.optional_boolean("none").has_value());
        CHECK(root.optional_strings("none").empty());
        CHECK_FALSE(root.optional_table("none").has_value());
        CHECK(root.optional_tables("none").empty());
        CHECK(root.has("name"));
        CHECK_FALSE(root.has("none"));
      });
  CHECK(message == "no error");
}

TEST_CASE("identifiers are kebab-case") {
  for (const std::string bad : {"", "A", "a_b", "-a", "a-", "a--b", "1a", "a b", "\u00e4"}) {
    INFO(bad);
    CHECK(complaint("name = \"" + bad + "\"\n", [](TableReader& root) {
            (void)root.required_string("name", Pattern::identifier);
          }) != "no error");
  }
  CHECK(complaint("code = \"MHZ\"\n",
                  [](TableReader& root) { (void)root.required_string("code", Pattern::currency); }) ==
        "x.toml:1:8: \"code\" is \"MHZ\", expected a currency code such as \"USD\"\n  code = \"MHZ\"\n       "
        "  ^");
}

TEST_CASE("a choice out of a list suggests the nearest") {
  enum class Kind { grid, flat };
  const std::vector<std::pair<std::string, Kind>> kinds = {{"grid", Kind::grid}, {"flat", Kind::flat}};
  const auto message = complaint("kind = \"flatt\"\nother = \"flat\"\nthird = 3\n", [&](TableReader& root) {
    CHECK(root.required_choice("kind", kinds) == Kind::grid);
    CHECK(root.optional_choice("other", kinds) == Kind::flat);
    CHECK_FALSE(root.optional_choice("third", kinds).has_value());
    CHECK_FALSE(root.optional_choice("fourth", kinds).has_value());
  });
  CHECK(message ==
        "x.toml:1:8: unknown kind \"flatt\", expected one of grid, flat; nearest: \"flat\"\n"
        "  kind = \"flatt\"\n"
        "         ^\n"
        "x.toml:3:9: \"third\" is an integer, expected one of grid, flat\n"
        "  third = 3\n"
        "          ^");
}

TEST_CASE("sub-tables know their path; their unknown keys are found without being asked") {
  const auto message =
      complaint("[package]\nkid = 1\n\n[[steps]]\nsize = 1\n\n[[steps]]\nsiez = 2\n", [](TableReader& root) {
        auto package = root.required_table("package");
        (void)package.required_integer("kind", 0, 1);
        auto steps = root.required_tables("steps");
        REQUIRE(steps.size() == 2);
        CHECK(steps[1].path() == "steps[1]");
        for (auto& step : steps) (void)step.required_integer("size", 0, 9);
      });
  CHECK(message ==
        "x.toml:1:1: missing key \"kind\" in [package], expected an integer from 0 to 1\n"
        "  [package]\n"
        "  ^\n"
        "x.toml:2:1: unknown key \"kid\", expected kind; nearest: \"kind\"\n"
        "  kid = 1\n"
        "  ^\n"
        "x.toml:7:1: missing key \"size\" in [steps[1]], expected an integer from 0 to 9\n"
        "  [[steps]]\n"
        "  ^\n"
        "x.toml:8:1: unknown key \"siez\", expected size; nearest: \"size\"\n"
        "  siez = 2\n"
        "  ^");
}

TEST_CASE("a missing table is told once; what is asked of it is quiet") {
  CHECK(complaint("", [](TableReader& root) {
          auto package = root.required_table("package");
          (void)package.required_integer("kind", 0, 1);
          (void)package.required_table("inner").required_string("name");
          package.report("never told");
        }) == "x.toml:1:1: missing key \"package\", expected a table");
  CHECK(complaint("package = 3\nsteps = []\nlist = 4\n",
                  [](TableReader& root) {
                    (void)root.required_table("package");
                    (void)root.required_tables("steps");
                    (void)root.required_strings("list");
                  }) ==
        "x.toml:1:11: \"package\" is an integer, expected a table\n"
        "  package = 3\n"
        "            ^\n"
        "x.toml:2:9: \"steps\" is empty, expected at least one table\n"
        "  steps = []\n"
        "          ^\n"
        "x.toml:3:8: \"list\" is an integer, expected an array of strings\n"
        "  list = 4\n"
        "         ^");
}

TEST_CASE("elements of arrays are told by number and place") {
  CHECK(complaint("list = [\"a\", 2]\n", [](TableReader& root) { (void)root.required_strings("list"); }) ==
        "x.toml:1:14: \"list[1]\" is an integer, expected a text that is not empty\n"
        "  list = [\"a\", 2]\n"
        "               ^");
}

TEST_CASE("callers report mistakes of their own at a key, an element or the table") {
  CHECK(complaint("[a]\nb = [1, 2]\n",
                  [](TableReader& root) {
                    auto a = root.required_table("a");
                    a.accept("b");
                    a.report("the table");
                    a.report("b", "the key");
                    a.report("b", 1, "the element");
                  }) ==
        "x.toml:1:1: the table\n  [a]\n  ^\n"
        "x.toml:2:5: the key\n  b = [1, 2]\n      ^\n"
        "x.toml:2:9: the element\n  b = [1, 2]\n          ^");
}

// Family files: the demo's, what a product replaces in its study, and mistakes word for word.
#include "study/family_reader.hpp"

#include <fmt/core.h>

#include <catch2/catch.hpp>

#include "reading/diagnostic.hpp"
#include "study_texts_fixture.hpp"

namespace portweigh::study {
namespace {

using Lines = std::vector<std::string>;

void write_catalog(const texts::Folder& folder) {
  folder.write("study.toml", texts::study());
  folder.write("catalog/functions/small.toml", texts::function());
  folder.write("catalog/functions/other.toml",
               texts::changed(texts::function(), "name = \"small\"", "name = \"other\""));
  folder.write("catalog/state-machines/lamp.toml", texts::state_table());
  for (const char* file : {"cores/32-bit-a", "programmable-logic/pl-a", "microcontrollers/mc-b"}) {
    folder.write(std::string("catalog/") + file + ".toml", "");
  }
}

const std::string head = "name = \"pair\"\nsummary = \"two\"\n";

Lines mistakes(const std::string& text) {
  const texts::Folder folder;
  write_catalog(folder);
  folder.write("family.toml", text);
  Lines lines;
  try {
    (void)read_family(folder.path() / "family.toml", folder.path() / "catalog");
  } catch (const reading::InputError& error) {
    for (const auto& mistake : error.diagnostics().all()) {
      lines.push_back(fmt::format("{}:{}:{}: {}", std::filesystem::path(mistake.file).filename().string(),
                                  mistake.line, mistake.column, mistake.message));
    }
  }
  return lines;
}

TEST_CASE("every family of the project reads without a mistake") {
  std::size_t count = 0;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::filesystem::path(PORTWEIGH_STUDIES_DIR) / "families")) {
    INFO(entry.path());
    CHECK(read_family(entry.path(), PORTWEIGH_CATALOG_DIR).products.size() >= 2);
    ++count;
  }
  CHECK(count >= 1);
}

TEST_CASE("a product is its study with what it replaces") {
  const texts::Folder folder;
  write_catalog(folder);
  folder.write("family.toml", head + R"([[product]]
name = "a"
study = "study.toml"
[[product]]
name = "b"
study = "study.toml"
function = "other"
volume_per_year = 777
years = 3
[[product.budget]]
figure = "active_power"
limit = "50 mW"
[[product.budget]]
figure = "unit_cost"
limit = "2 USD"
)");
  const Family family = read_family(folder.path() / "family.toml", folder.path() / "catalog");
  REQUIRE(family.products.size() == 2);
  CHECK(family.currency == "USD");
  const Study& a = family.products[0].study;
  const Study& b = family.products[1].study;
  CHECK(a.volume_per_year.range.typical == 1000);
  CHECK(b.volume_per_year.range.typical == 777);
  CHECK(b.years.range.typical == 3);
  CHECK(a.function.name == "small");
  CHECK(b.function.name == "other");
  REQUIRE(b.budgets.size() == a.budgets.size() + 1);
  CHECK(b.budgets[0].limit_si == Approx(0.05));
}

TEST_CASE("mistakes of a family are told with their place") {
  CHECK(mistakes(head) == Lines{"family.toml:1:1: missing key \"product\", expected an array of tables"});
  CHECK(mistakes(head + "[[product]]\nname = \"a\"\nstudy = \"study.toml\"\n[[product]]\nname = \"a\"\n"
                        "study = \"study.toml\"\n") ==
        Lines{"family.toml:7:8: product \"a\" is listed twice, expected a unique name"});
  CHECK(mistakes(head + "[[product]]\nname = \"a\"\nstudy = \"study.toml\"\nfunction = \"smal\"\n") ==
        Lines{"family.toml:6:12: unknown port function \"smal\", expected one of other, small; nearest: "
              "\"small\""});
  CHECK(mistakes(head + "[[product]]\nname = \"a\"\nstudy = \"study.toml\"\nvolume_per_year = 0\n") ==
        Lines{"family.toml:6:19: \"volume_per_year\" is 0, expected 1 .. 10000000000"});
  const auto missing = mistakes(head + "[[product]]\nname = \"a\"\nstudy = \"none.toml\"\n");
  REQUIRE(missing.size() == 1);
  CHECK(missing[0].starts_with("family.toml:5:9: no file "));
}

}  // namespace
}  // namespace portweigh::study

// Rates of effort: the catalog's own, and mistakes word for word.
#include "parts/effort.hpp"

#include <unistd.h>
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "reading/atomic_file.hpp"
#include "reading/diagnostic.hpp"
#include "reading/document.hpp"

namespace portweigh::parts {
namespace {

const std::filesystem::path catalog_file = std::filesystem::path(PORTWEIGH_CATALOG_DIR) / "effort.toml";

// Mistakes of the catalog's file after a change, folders cut off.
std::vector<std::string> mistakes_after(const std::string& from, const std::string& to) {
  std::string text = reading::read_text_file(catalog_file);
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  text.replace(at, from.size(), to);
  const auto file =
      std::filesystem::temp_directory_path() / ("effort-test-" + std::to_string(getpid()) + ".toml");
  std::ofstream(file) << text;
  std::vector<std::string> messages;
  try {
    (void)read_effort(file);
  } catch (const reading::InputError& error) {
    for (const auto& mistake : error.diagnostics().all()) messages.push_back(mistake.message);
  }
  std::filesystem::remove(file);
  return messages;
}

using Lines = std::vector<std::string>;

TEST_CASE("the catalog's rates of effort read without a mistake") {
  const Effort effort = read_effort(catalog_file);
  CHECK(effort.model == CocomoModel::intermediate);
  CHECK(effort.mode == CocomoMode::embedded);
  CHECK(effort.cost_drivers.count("product_complexity") == 1);
  CHECK(effort.person_month.range.typical == 152 * 3600.0);
  CHECK(effort.verification_share.range.high < 1);
}

TEST_CASE("cost drivers come from the table of Boehm 1981 and stay within it") {
  CHECK(mistakes_after("product_complexity = { low = 1.0, typical = 1.15, high = 1.3",
                       "product_complexity = { low = 1.0, typical = 1.15, high = 1.9") ==
        Lines{"\"product_complexity.high\" is 1.9, expected 0.7 .. 1.65"});
  const auto unknown = mistakes_after("software_tools =", "software_tool =");
  REQUIRE(unknown.size() == 1);
  CHECK(unknown[0].find("nearest: \"software_tools\"") != std::string::npos);
  CHECK(mistakes_after("\"intermediate\"", "\"basic\"") ==
        Lines{"cost drivers with the basic model, expected cocomo_model = \"intermediate\""});
}

TEST_CASE("a share of verification of all effort would take forever and is refused") {
  CHECK(mistakes_after("high = 0.65", "high = 1") ==
        Lines{"\"verification_share.high\" is 1, expected 0 .. 0.9"});
}

TEST_CASE("the coefficients are those of the basic and the intermediate model") {
  // Boehm, Software Engineering Economics, 1981 [M].
  CHECK(cocomo_coefficients(CocomoModel::basic, CocomoMode::organic).size_factor == 2.4);
  CHECK(cocomo_coefficients(CocomoModel::basic, CocomoMode::embedded).size_factor == 3.6);
  CHECK(cocomo_coefficients(CocomoModel::intermediate, CocomoMode::embedded).size_factor == 2.8);
  CHECK(cocomo_coefficients(CocomoModel::intermediate, CocomoMode::semi_detached).size_exponent == 1.12);
  CHECK(cocomo_coefficients(CocomoModel::basic, CocomoMode::embedded).schedule_exponent == 0.32);
  CHECK(cocomo_drivers().size() == 15);
}

}  // namespace
}  // namespace portweigh::parts

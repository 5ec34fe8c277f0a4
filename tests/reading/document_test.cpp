#include "reading/document.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <functional>
#include <random>

#include "reading/table_reader.hpp"
#include "temporary_folder_fixture.hpp"

using namespace portweigh::reading;
using test::TemporaryFolder;
namespace dimensions = portweigh::figures::dimensions;

namespace {

std::string complaint(const std::function<void()>& action) {
  try {
    action();
  } catch (const InputError& error) {
    return error.what();
  }
  return "no error";
}

void write(const std::filesystem::path& path, const std::string& text) {
  std::ofstream(path, std::ios::binary) << text;
}

// A reader that asks for every kind of value, as a real one does.
void read_everything(Document document) {
  auto root = document.root();
  (void)root.required_string("name", Pattern::identifier);
  (void)root.required_integer("cells", 1, 1000000);
  (void)root.optional_number("share", 0.0, 1.0);
  (void)root.optional_boolean("external");
  (void)root.required_quantity("clock", dimensions::frequency);
  (void)root.required_range("leakage", dimensions::power);
  (void)root.optional_strings("modes");
  (void)root.optional_quantities("steps", dimensions::voltage);
  (void)root.optional_strings("sizes");
  for (auto& price : root.required_tables("prices")) {
    (void)price.required_integer("quantity", 1, 1000000000);
    (void)price.required_quantity("price", dimensions::money);
  }
  auto package = root.required_table("package");
  const std::vector<std::string> kinds = {"grid", "flat", "leaded"};
  (void)package.required_choice("kind", kinds);
  (void)package.optional_range("heat", dimensions::thermal_resistance);
  document.throw_if_errors();
}

const std::string good_text = R"(name = "pl-2k"
source = "measured on the bench"
cells = 2048
share = 0.5
external = false
clock = "48 MHz"
leakage = { low = "1 mW", typical = "2 mW", high = "4 mW", source = "data sheet" }
modes = ["idle", "active"]
steps = ["1.2 V", "1.8 V"]
sizes = ["small", "large"]

[[prices]]
quantity = 100
price = "2.50 USD"

[[prices]]
quantity = 1000
price = "1.80 USD"

[package]
kind = "grid"
heat = "40 K/W"
)";

}  // namespace

TEST_CASE("a good file is read without a word") {
  CHECK(complaint([] { read_everything(Document::parse(good_text, "good.toml")); }) == "no error");
  const TemporaryFolder folder;
  write(folder.path() / "good.toml", good_text);
  CHECK(complaint([&] { read_everything(Document::load(folder.path() / "good.toml")); }) == "no error");
}

TEST_CASE("text that isn't TOML is told with line, column and caret") {
  const auto message = complaint([] { (void)Document::parse("name = \"a\"\nclock = \n", "x.toml"); });
  CHECK(message.starts_with("x.toml:2:"));
  CHECK(message.find("\n  clock = \n") != std::string::npos);
  CHECK(message.ends_with("^"));
  CHECK(complaint([] { (void)Document::parse("a = 1\na = 2\n", "x.toml"); }).starts_with("x.toml:2:"));
  CHECK(complaint([] { (void)Document::parse("a = \"\xff\"\n", "x.toml"); }).starts_with("x.toml:1:"));
}

TEST_CASE("missing files, folders and large files are bad input; they name the file") {
  const TemporaryFolder folder;
  const auto missing = folder.path() / "none.toml";
  CHECK(complaint([&] { (void)Document::load(missing); }) == missing.string() + ": no such file");
  CHECK(complaint([&] { (void)Document::load(folder.path()); }) ==
        folder.path().string() + ": is a folder, expected a file");
  const auto large = folder.path() / "large.toml";
  write(large, std::string(Document::largest_file_bytes + 1, '\n'));
  CHECK(complaint([&] { (void)Document::load(large); }) ==
        large.string() + ": larger than 4194304 bytes, expected a smaller file");
  write(large, std::string(1000, '\n'));
  CHECK(read_text_file(large, 1000).size() == 1000);
  CHECK_THROWS_AS(read_text_file(large, 999), InputError);
  write(large, "");
  CHECK(read_text_file(large).empty());
}

TEST_CASE("thousands of nested tables are refused, not recursed into") {
  std::string deep = "a";
  for (int i = 0; i < 100000; ++i) deep += ".a";
  CHECK(complaint([&] { (void)Document::parse(deep + " = 1\n", "x.toml"); }) ==
        "x.toml:1:1: a line of 200006 bytes, expected at most 16384");
  deep.resize(16001);
  const auto shorter = complaint([&] {
    auto document = Document::parse(deep + " = 1\n", "x.toml");
    (void)document.root();
    document.throw_if_errors();
  });
  CHECK(shorter == "x.toml:1:1: unknown key \"a\", expected no key here");
  CHECK_THROWS_AS(Document::parse("a = " + std::string(10000, '['), "x.toml"), InputError);
}

TEST_CASE("readers outlive a move of the document") {
  auto document = Document::parse("name = \"a\"\n", "x.toml");
  auto root = document.root();
  auto moved = std::move(document);
  CHECK(root.required_string("name") == "a");
  CHECK_NOTHROW(moved.throw_if_errors());
}

TEST_CASE("cut or scrambled text gives success or InputError, nothing else") {
  std::mt19937 random(20240501);
  const std::string alphabet = "\"'[]{}=.,#\n\r\t\\ 0129eE+-_abzK%\xc2\xb5\xff\x01";
  int accepted = 0;
  int refused = 0;
  for (int round = 0; round < 4000; ++round) {
    auto text = good_text;
    if (round % 3 == 0) text.resize(random() % text.size());
    const auto changes = round % 3 == 1 ? 1U : random() % 6;
    for (unsigned i = 0; i < changes && !text.empty(); ++i) {
      const auto at = random() % text.size();
      const char c = alphabet[random() % alphabet.size()];
      switch (random() % 4) {
        case 0:
          text[at] = c;
          break;
        case 1:
          text.insert(at, 1, c);
          break;
        case 2:
          text.erase(at, 1 + random() % 9);
          break;
        default:
          text.insert(at, text.substr(random() % text.size(), random() % 40));
      }
    }
    try {
      read_everything(Document::parse(text, "mutated.toml"));
      ++accepted;
    } catch (const InputError& error) {
      ++refused;
      if (error.diagnostics().is_empty()) FAIL("an error without a diagnostic: " << text);
      for (const auto& diagnostic : error.diagnostics().all()) {
        if (diagnostic.line < 1 || diagnostic.column < 1 || diagnostic.message.empty()) FAIL(error.what());
      }
    }
  }
  CHECK(accepted > 100);
  CHECK(refused > 1000);
}

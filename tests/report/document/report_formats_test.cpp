#include "report/document/report_formats.hpp"

#include <catch2/catch.hpp>
#include <fstream>
#include <nlohmann/json.hpp>

#include "figures/evaluation/evaluate.hpp"
#include "figures/ledger/export.hpp"
#include "report_fixture.hpp"

using namespace portweigh;
using namespace portweigh::report;
using nlohmann::ordered_json;

namespace {

// Records of a CSV text by the rules of RFC 4180; anything else is reported as a failure.
std::vector<std::vector<std::string>> parse_csv(const std::string& text) {
  std::vector<std::vector<std::string>> records(1, std::vector<std::string>(1));
  bool is_quoted = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    std::string& cell = records.back().back();
    if (is_quoted) {
      if (text[i] != '"') {
        cell += text[i];
      } else if (i + 1 < text.size() && text[i + 1] == '"') {
        cell += text[i++];
      } else {
        is_quoted = false;
      }
    } else if (text[i] == '"') {
      REQUIRE(cell.empty());
      is_quoted = true;
    } else if (text[i] == ',') {
      records.back().emplace_back();
    } else if (text[i] == '\r') {
      REQUIRE(text.at(i + 1) == '\n');
    } else if (text[i] == '\n') {
      if (i + 1 < text.size()) records.emplace_back(1);
    } else {
      cell += text[i];
    }
  }
  REQUIRE_FALSE(is_quoted);
  return records;
}

bool has_type(const ordered_json& value, const std::string& type) {
  if (type == "object") return value.is_object();
  if (type == "array") return value.is_array();
  if (type == "string") return value.is_string();
  if (type == "boolean") return value.is_boolean();
  if (type == "null") return value.is_null();
  if (type == "integer") return value.is_number_integer();
  return type == "number" && value.is_number();
}

// The keywords of JSON Schema that the schema of reports uses: type, required, properties,
// additionalProperties, items, enum, const, $ref into $defs. A keyword beyond these is a failure, so that
// none is passed over in silence.
class SchemaCheck {
 public:
  explicit SchemaCheck(const ordered_json& root) : root_(root) {}

  void check(const ordered_json& value, const ordered_json& schema, const std::string& path) {
    INFO(path << " = " << value.dump().substr(0, 200));
    for (const auto& [keyword, rule] : schema.items()) check_keyword(value, schema, keyword, rule, path);
  }

 private:
  void check_keyword(const ordered_json& value, const ordered_json& schema, const std::string& keyword,
                     const ordered_json& rule, const std::string& path) {
    INFO(keyword);
    if (keyword == "$ref") {
      check(value, root_.at(ordered_json::json_pointer(rule.get<std::string>().substr(1))), path);
    } else if (keyword == "type") {
      const ordered_json types = rule.is_array() ? rule : ordered_json::array({rule});
      CHECK(std::any_of(types.begin(), types.end(), [&](const auto& type) { return has_type(value, type); }));
    } else if (keyword == "const") {
      CHECK(value == rule);
    } else if (keyword == "enum") {
      CHECK(std::find(rule.begin(), rule.end(), value) != rule.end());
    } else if (keyword == "required") {
      for (const auto& name : rule) CHECK(value.contains(name.get<std::string>()));
    } else if (keyword == "items") {
      std::size_t index = 0;
      if (value.is_array()) {
        for (const auto& item : value) check(item, rule, path + "/" + std::to_string(index++));
      }
    } else if (keyword == "properties" || keyword == "additionalProperties") {
      if (value.is_object()) check_members(value, schema, keyword == "properties", path);
    } else {
      const bool is_known = keyword == "description" || keyword == "title" || keyword == "$schema" ||
                            keyword == "$id" || keyword == "$defs";
      CHECK(is_known);
    }
  }

  void check_members(const ordered_json& value, const ordered_json& schema, bool named,
                     const std::string& path) {
    const ordered_json none = ordered_json::object();
    const ordered_json& properties = schema.contains("properties") ? schema.at("properties") : none;
    for (const auto& [name, member] : value.items()) {
      if (named && properties.contains(name)) check(member, properties.at(name), path + "/" + name);
      if (named || properties.contains(name)) continue;
      const ordered_json& others = schema.at("additionalProperties");
      INFO(path << "/" << name << " is not in the schema");
      if (others.is_boolean()) {
        CHECK(others.get<bool>());
      } else {
        check(member, others, path + "/" + name);
      }
    }
  }

  const ordered_json& root_;
};

}  // namespace

TEST_CASE("CSV is one table of RFC 4180 without a cell that a spreadsheet would run") {
  const Run run = tests::small_run({.study_name = "=1+1,\"x\"\n<script>", .second_id = "@mc"});
  const auto records = parse_csv(report_csv(make_document(run)));
  REQUIRE(records.size() > 50);
  for (const auto& record : records) {
    CHECK(record.size() == records.front().size());
    for (const std::string& cell : record) {
      INFO(cell);
      const bool is_number = cell.size() > 1 && cell[0] == '-' && std::isdigit(cell[1]) != 0;
      CHECK((cell.empty() || is_number || std::string("=+-@").find(cell[0]) == std::string::npos));
    }
  }
  CHECK(records[1][1] == "'=1+1,\"x\"\n<script>");
}

TEST_CASE("Figures in CSV are those of the ranking, in full precision") {
  const Run run = tests::small_run();
  for (const auto& record : parse_csv(report_csv(make_document(run)))) {
    if (record[0] == "figure" && record[1] == "ff-alpha" && record[2] == "unit_cost")
      CHECK(std::stod(record[3]) == 1.25);
  }
}

TEST_CASE("CSV and the saved run hold the cautions and what was left out") {
  const Run run = tests::small_run();
  const Document document = make_document(run);
  std::vector<std::string> found;
  for (const auto& record : parse_csv(report_csv(document))) {
    if (record[0] == "caution") found.push_back(record[10]);
    if (record[0] == "excluded") CHECK((record[1] == "ff-omega" && record[10] == "one source only"));
  }
  CHECK(found == run.notices.cautions);
  const Notices saved = notices_in(report_json(document));
  CHECK(saved.cautions == run.notices.cautions);
  CHECK(saved.excluded == run.notices.excluded);
}

TEST_CASE("Markdown has every section, and names are text") {
  const Run run = tests::small_run({.study_name = "<script>|x"});
  const std::string text = report_markdown(make_document(run));
  for (const char* title :
       {"## Recommendation", "## Options against budgets", "## What would change the decision",
        "## Rejected options", "## Assumptions", "## Method"}) {
    CHECK(text.find(title) != std::string::npos);
  }
  CHECK(text.find("## Cautions") < text.find("## Options against budgets"));
  CHECK(text.find("Left out by the study: ff-omega: one source only") < text.find("## Power by state"));
  CHECK(text.find("<script>") == std::string::npos);
}

TEST_CASE("Clocks that were not taken are in the saved run and in CSV with their sureness") {
  Run run = tests::small_run();
  run.other_settings = {{"mc-beta", "4 MHz", true, 0.5, 3e-3, 3e-5}};
  const Document document = make_document(run);
  for (const ordered_json& option : report_json(document).at("options")) {
    const bool is_beta = option.at("id") == "mc-beta";
    REQUIRE(option.at("other_settings").size() == (is_beta ? 1 : 0));
    if (is_beta) CHECK(option["other_settings"][0]["probability_meets_budgets"] == 0.5);
  }
  std::vector<double> watts;
  for (const auto& record : parse_csv(report_csv(document))) {
    if (record[0] != "other setting") continue;
    CHECK((record[1] == "mc-beta" && record[4] == "W" && record[9] == "0.5" && record[10] == "4 MHz"));
    watts.push_back(std::stod(record[3]));
  }
  CHECK(watts == std::vector<double>{3e-3, 3e-5});
}

TEST_CASE("The saved run obeys its schema and holds whole ledgers") {
  Run run = tests::small_run();
  run.other_settings = {{"mc-beta", "4 MHz", true, 0.5, 3e-3, 3e-5}};
  const ordered_json json = ordered_json::parse(report_json(make_document(run)).dump());
  std::ifstream file(PORTWEIGH_SOURCE_DIR "/docs/report.schema.json");
  const ordered_json schema = ordered_json::parse(file);
  SchemaCheck(schema).check(json, schema, "");
  for (const options::Option& option : run.considered.options) {
    const figures::Ledger ledger = figures::ledger_from_json(json.at("ledgers").at(option.id));
    CHECK(figures::evaluate_all(ledger) == figures::evaluate_all(option.ledger));
  }
}

TEST_CASE("A run without options is saved and written all the same") {
  const Run run = tests::empty_run();
  const Document document = make_document(run);
  std::ifstream file(PORTWEIGH_SOURCE_DIR "/docs/report.schema.json");
  const ordered_json schema = ordered_json::parse(file);
  SchemaCheck(schema).check(report_json(document), schema, "");
  CHECK(report_markdown(document).find("too small") != std::string::npos);
}

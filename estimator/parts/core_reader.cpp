#include "parts/core_reader.hpp"

#include <fmt/core.h>

#include <algorithm>

namespace portweigh::parts {
namespace {

using namespace reading;

// Tables of a core file, opened once each: "operation.load_static" under its dotted name.
class Tables {
 public:
  explicit Tables(TableReader& root) { opened_.emplace_back("", root); }

  TableReader& open(const std::string& dotted) {
    for (auto& [name, reader] : opened_) {
      if (name == dotted) return reader;
    }
    const auto dot = dotted.rfind('.');
    const std::string parent = dot == std::string::npos ? "" : dotted.substr(0, dot);
    auto reader = open(parent).required_table(dot == std::string::npos ? dotted : dotted.substr(dot + 1));
    return opened_.emplace_back(dotted, std::move(reader)).second;
  }

  // The file's own source stands for each table without one.
  std::map<std::string, std::string> sources() {
    std::map<std::string, std::string> all;
    const auto of_file = opened_.front().second.optional_string("source");
    for (auto& [name, reader] : opened_) {
      const auto own = reader.optional_string("source");
      if (own || of_file) all[name] = own ? *own : *of_file;
    }
    return all;
  }

 private:
  std::vector<std::pair<std::string, TableReader>> opened_;
};

struct Place {
  std::string table;
  std::string key;
};

Place split(const std::string& dotted) {
  const auto dot = dotted.rfind('.');
  if (dot == std::string::npos) return {"", dotted};
  return {dotted.substr(0, dot), dotted.substr(dot + 1)};
}

bool has_physical_unit(const firmware::CoreField& field) {
  return field.unit == "s" || field.unit == "Hz";
}

QuantityRule rule_of(const firmware::CoreField& field) {
  return QuantityRule(figures::parse_unit(field.unit).dimension).between(field.lower, field.upper);
}

Shape shape_of(const firmware::CoreField& field) {
  if (has_physical_unit(field)) return QuantityShape{rule_of(field), field.unit};
  return NumberShape{field.lower, field.upper};
}

// Puts a field under its dotted path, making the tables on the way.
void place(std::vector<FieldInfo>& fields, const std::string& dotted, FieldInfo info) {
  const auto dot = dotted.find('.');
  if (dot == std::string::npos) {
    info.key = dotted;
    fields.push_back(std::move(info));
    return;
  }
  const std::string head = dotted.substr(0, dot);
  auto found =
      std::find_if(fields.begin(), fields.end(), [&](const FieldInfo& field) { return field.key == head; });
  if (found == fields.end()) {
    fields.push_back({head, "", Presence::required, Multiplicity::one, TableShape{}});
    found = std::prev(fields.end());
  }
  place(std::get<TableShape>(found->shape).fields, dotted.substr(dot + 1), std::move(info));
}

}  // namespace

std::vector<FieldInfo> core_infos() {
  std::vector<FieldInfo> infos = {
      {"name", "generic class, the same as the file's name", Presence::required, Multiplicity::one,
       TextShape{}},
      {"text", "one line for people", Presence::required, Multiplicity::one, TextShape{}}};
  for (const auto& choice : firmware::core_choices()) {
    place(infos, choice.key,
          {"", choice.text, Presence::required, Multiplicity::one, ChoiceShape{choice.names}});
  }
  for (const auto& field : firmware::core_fields()) {
    place(infos, field.key,
          {"", fmt::format("{}; {}", field.text, field.unit), Presence::required, Multiplicity::one,
           shape_of(field)});
  }
  return infos;
}

firmware::Core read_core(TableReader& reader, const std::string& expected_name) {
  firmware::Core core;
  core.name = reader.required_string("name");
  core.text = reader.required_string("text");
  if (!core.name.empty() && core.name != expected_name) {
    reader.report("name", fmt::format("name \"{}\" differs from the file's name, expected \"{}\"", core.name,
                                      expected_name));
  }
  Tables tables(reader);
  for (const auto& choice : firmware::core_choices()) {
    const auto [table, key] = split(choice.key);
    choice.assign(core, tables.open(table).required_choice(key, choice.names));
  }
  for (const auto& field : firmware::core_fields()) {
    const auto [table, key] = split(field.key);
    auto& place = tables.open(table);
    field.value(core) = has_physical_unit(field) ? place.required_quantity(key, rule_of(field)).value_si
                                                 : place.required_number(key, field.lower, field.upper);
  }
  core.sources = tables.sources();
  return core;
}

}  // namespace portweigh::parts

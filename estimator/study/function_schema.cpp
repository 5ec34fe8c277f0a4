// The part of a function's schema that depends on another key: which settings a block has follows from its
// kind.
#include <algorithm>
#include <limits>
#include <nlohmann/json.hpp>

#include "blocks/registry.hpp"
#include "reading/schema.hpp"
#include "study/function_reader.hpp"

namespace portweigh::study {
namespace {

using namespace reading;
using Json = nlohmann::ordered_json;

constexpr auto largest = static_cast<std::uint64_t>(std::numeric_limits<std::int64_t>::max());

struct DomainShape {
  Shape operator()(const blocks::IntegerDomain& domain) const {
    return IntegerShape{static_cast<std::int64_t>(std::min(domain.lower, largest)),
                        static_cast<std::int64_t>(std::min(domain.upper, largest))};
  }
  Shape operator()(const blocks::ChoiceDomain& domain) const { return ChoiceShape{domain.options}; }
  Shape operator()(const blocks::FlagDomain& /*domain*/) const { return FlagShape{}; }
  Shape operator()(const blocks::FrequencyDomain& domain) const {
    return QuantityShape{
        QuantityRule(figures::dimensions::frequency).between(domain.lower_hz, domain.upper_hz), "kHz"};
  }
  Shape operator()(const blocks::TextDomain& /*domain*/) const { return TextShape{}; }
};

Json settings_schema(const blocks::Kind& kind) {
  std::vector<FieldInfo> fields;
  for (const auto& setting : kind.settings) {
    fields.push_back({setting.name, setting.meaning, Presence::optional, Multiplicity::one,
                      std::visit(DomainShape{}, setting.domain)});
  }
  return table_schema(fields);
}

}  // namespace

Json function_schema() {
  auto schema = schema_of("function.schema.json", "Port function", function_infos());
  auto& block = schema["properties"]["block"]["items"];
  Json names = Json::array();
  Json rules = Json::array();
  for (const auto& kind : blocks::kinds()) {
    names.push_back(kind.name);
    rules.push_back({{"if", {{"properties", {{"kind", {{"const", kind.name}}}}}}},
                     {"then", {{"properties", {{"settings", settings_schema(kind)}}}}}});
  }
  block["properties"]["kind"] = {{"description", "kind of block"}, {"enum", std::move(names)}};
  block["allOf"] = std::move(rules);
  return schema;
}

}  // namespace portweigh::study

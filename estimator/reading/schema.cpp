#include "reading/schema.hpp"

#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include "figures/units/dimension.hpp"

namespace portweigh::reading {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* number_pattern = "[-+]?([0-9]+([.][0-9]*)?|[.][0-9]+)([eE][-+]?[0-9]+)?";

Json object_schema(const std::vector<FieldInfo>& fields);

std::string bounds_text(const QuantityRule& rule) {
  const std::string unit = figures::to_string(rule.dimension);
  return fmt::format("{} to {}{}", rule.bounds.lower_si, rule.bounds.upper_si, unit == "1" ? "" : " " + unit);
}

Json quantity_schema(const QuantityRule& rule, const std::string& unit) {
  Json text = {{"type", "string"},
               {"pattern", fmt::format("^ *{} *[^ 0-9].*$", number_pattern)},
               {"examples", Json::array({fmt::format("1 {}", unit)})}};
  if (!figures::is_dimensionless(rule.dimension)) return text;
  Json plain = {{"type", "number"}, {"minimum", rule.bounds.lower_si}, {"maximum", rule.bounds.upper_si}};
  if (unit == "1") return plain;
  return {{"anyOf", Json::array({std::move(plain), text})}};
}

Json range_schema(const QuantityRule& rule, const std::string& unit) {
  const Json one = quantity_schema(rule, unit);
  const Json whole = {
      {"type", "object"},
      {"properties",
       {{"low", one}, {"typical", one}, {"high", one}, {"source", {{"type", "string"}, {"minLength", 1}}}}},
      {"required", Json::array({"low", "typical", "high"})},
      {"additionalProperties", false}};
  return {{"anyOf", Json::array({one, whole})}};
}

Json text_schema(Pattern pattern) {
  switch (pattern) {
    case Pattern::identifier:
      return {{"type", "string"}, {"pattern", "^[a-z][a-z0-9]*(-[a-z0-9]+)*$"}};
    case Pattern::currency:
      return {{"type", "string"}, {"pattern", "^[A-Z]{3}$"}};
    case Pattern::any:
      break;
  }
  return {{"type", "string"}, {"minLength", 1}};
}

struct ShapeSchema {
  Json operator()(const TextShape& shape) const { return text_schema(shape.pattern); }
  Json operator()(const ChoiceShape& shape) const { return {{"enum", shape.names}}; }
  Json operator()(const IntegerShape& shape) const {
    return {{"type", "integer"}, {"minimum", shape.lower}, {"maximum", shape.upper}};
  }
  Json operator()(const NumberShape& shape) const {
    return {{"type", "number"}, {"minimum", shape.lower}, {"maximum", shape.upper}};
  }
  Json operator()(const FlagShape& /*shape*/) const { return {{"type", "boolean"}}; }
  Json operator()(const QuantityShape& shape) const { return quantity_schema(shape.rule, shape.unit); }
  Json operator()(const RangeShape& shape) const { return range_schema(shape.rule, shape.unit); }
  Json operator()(const TableShape& shape) const { return object_schema(shape.fields); }
  Json operator()(const AnyScalarShape& /*shape*/) const {
    return {{"type", Json::array({"string", "integer", "boolean"})}};
  }
};

std::string description_of(const FieldInfo& field) {
  if (const auto* shape = std::get_if<QuantityShape>(&field.shape)) {
    return fmt::format("{} ({})", field.meaning, bounds_text(shape->rule));
  }
  if (const auto* shape = std::get_if<RangeShape>(&field.shape)) {
    return fmt::format("{} ({})", field.meaning, bounds_text(shape->rule));
  }
  return field.meaning;
}

Json field_schema(const FieldInfo& field) {
  Json schema = {{"description", description_of(field)}};
  Json one = std::visit(ShapeSchema{}, field.shape);
  switch (field.multiplicity) {
    case Multiplicity::one:
      schema.update(one);
      break;
    case Multiplicity::list:
      schema["type"] = "array";
      schema["items"] = std::move(one);
      if (field.presence == Presence::required) schema["minItems"] = 1;
      break;
    case Multiplicity::named_lists:
      one = {{"type", "array"}, {"items", std::move(one)}, {"minItems", 1}};
      [[fallthrough]];
    case Multiplicity::named:
      schema["type"] = "object";
      schema["properties"] = {{"source", {{"type", "string"}, {"minLength", 1}}}};
      schema["additionalProperties"] = std::move(one);
      break;
  }
  return schema;
}

Json object_schema(const std::vector<FieldInfo>& fields) {
  Json properties = Json::object();
  Json required = Json::array();
  for (const auto& field : fields) {
    properties[field.key] = field_schema(field);
    if (field.presence == Presence::required) required.push_back(field.key);
  }
  if (!properties.contains("source")) {
    properties["source"] = {
        {"description", "where the values of this table come from"}, {"type", "string"}, {"minLength", 1}};
  }
  Json schema = {{"type", "object"}, {"properties", std::move(properties)}};
  if (!required.empty()) schema["required"] = std::move(required);
  schema["additionalProperties"] = false;
  return schema;
}

}  // namespace

Json schema_of(const std::string& file_name, const std::string& title, const std::vector<FieldInfo>& fields) {
  Json schema = {
      {"$schema", "https://json-schema.org/draft/2020-12/schema"}, {"$id", file_name}, {"title", title}};
  schema.update(object_schema(fields));
  return schema;
}

Json table_schema(const std::vector<FieldInfo>& fields) {
  return object_schema(fields);
}

std::string to_text(const Json& schema) {
  return schema.dump(2) + "\n";
}

}  // namespace portweigh::reading

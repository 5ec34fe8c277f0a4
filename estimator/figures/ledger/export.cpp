#include "figures/ledger/export.hpp"

#include <fmt/core.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "figures/evaluation/evaluate.hpp"

namespace portweigh::figures {
namespace {

using nlohmann::json;
constexpr std::string_view format_name = "portweigh-ledger";
constexpr int format_version = 1;

json unit_to_json(const Unit& unit) {
  json result = {{"text", unit.text},
                 {"factor", unit.factor},
                 {"offset", unit.offset},
                 {"dimension", exponents(unit.dimension)}};
  if (!unit.currency.empty()) result["currency"] = unit.currency;
  if (!unit.base_symbol.empty()) result["base"] = unit.base_symbol;
  return result;
}

Unit unit_from_json(const json& from) {
  Unit unit;
  unit.text = from.at("text").get<std::string>();
  unit.factor = from.at("factor").get<double>();
  unit.offset = from.at("offset").get<double>();
  unit.dimension = from_exponents(from.at("dimension").get<std::array<int, 6>>());
  unit.currency = from.value("currency", "");
  unit.base_symbol = from.value("base", "");
  return unit;
}

json table_to_json(const LookupTable& table) {
  return {{"x", table.x},
          {"y", table.y},
          {"x_dimension", exponents(table.x_dimension)},
          {"y_dimension", exponents(table.y_dimension)},
          {"scale", table.scale == Scale::log_log ? "log_log" : "linear"},
          {"label", table.label}};
}

LookupTable table_from_json(const json& from) {
  LookupTable table;
  table.x = from.at("x").get<std::vector<double>>();
  table.y = from.at("y").get<std::vector<double>>();
  table.x_dimension = from_exponents(from.at("x_dimension").get<std::array<int, 6>>());
  table.y_dimension = from_exponents(from.at("y_dimension").get<std::array<int, 6>>());
  const auto scale = from.at("scale").get<std::string>();
  if (scale != "linear" && scale != "log_log") throw ImportError(fmt::format("unknown scale \"{}\"", scale));
  table.scale = scale == "log_log" ? Scale::log_log : Scale::linear;
  table.label = from.at("label").get<std::string>();
  return table;
}

void add_input(json& node, const Input& input) {
  node["low"] = input.range.low;
  node["typical"] = input.range.typical;
  node["high"] = input.range.high;
  node["source"] = {{"text", input.source.text},
                    {"file", input.source.file},
                    {"line", input.source.line},
                    {"column", input.source.column}};
  if (!input.correlation.empty()) node["correlation"] = input.correlation;
}

json node_to_json(const Ledger& ledger, std::uint32_t index, double value) {
  const Node& node = ledger.nodes()[index];
  json result = {{"op", to_string(node.operation)}};
  result["value"] = std::isfinite(value) ? json(value) : json(nullptr);
  if (node.argument_count > 0) {
    result["args"] = std::vector<std::uint32_t>(node.arguments, node.arguments + node.argument_count);
  }
  if (node.operation == Operation::power) result["exponent"] = node.number;
  if (node.operation == Operation::lookup) result["table"] = node.detail;
  if (node.operation == Operation::constant) result["dimension"] = exponents(node.dimension);
  if (const auto* name = ledger.name_of(index)) {
    result["key"] = name->key;
    result["label"] = name->label;
    result["unit"] = unit_to_json(name->unit);
  }
  if (node.operation == Operation::input) add_input(result, ledger.inputs()[node.detail]);
  return result;
}

class Importer {
 public:
  explicit Importer(const json& from) : from_(from) {
    if (from.value("format", "") != format_name || from.value("version", 0) != format_version) {
      throw ImportError(fmt::format("not a {} of version {}", format_name, format_version));
    }
    for (const auto& table : from.at("tables")) tables_.push_back(table_from_json(table));
  }

  [[nodiscard]] Ledger run() {
    std::size_t index = 0;
    for (const auto& node : from_.at("nodes")) {
      try {
        add(node);
      } catch (const std::exception& error) {
        throw ImportError(fmt::format("node {}: {}", index, error.what()));
      }
      ++index;
      if (ledger_.nodes().size() != index)
        throw ImportError(fmt::format("node {}: repeats an input", index - 1));
    }
    return std::move(ledger_);
  }

 private:
  void add(const json& node) {
    const auto text = node.at("op").get<std::string>();
    const auto operation = operation_from_string(text);
    if (!operation) throw ImportError(fmt::format("unknown operation \"{}\"", text));
    const auto key = node.value("key", "");
    if (*operation == Operation::input) {
      add_input_from(node);
    } else if (*operation == Operation::constant) {
      ledger_.constant(node.at("value").get<double>(),
                       from_exponents(node.at("dimension").get<std::array<int, 6>>()),
                       node.value("label", ""));
    } else if (*operation == Operation::same) {
      ledger_.name(argument(node, 0), key, node.at("label").get<std::string>(),
                   unit_from_json(node.at("unit")));
    } else {
      const Figure figure = compute(*operation, node);
      if (!key.empty()) {
        ledger_.name(figure, key, node.at("label").get<std::string>(), unit_from_json(node.at("unit")));
      }
    }
  }

  void add_input_from(const json& node) {
    const auto& source = node.at("source");
    ledger_.input({.key = node.at("key").get<std::string>(),
                   .label = node.at("label").get<std::string>(),
                   .range = {node.at("low").get<double>(), node.at("typical").get<double>(),
                             node.at("high").get<double>()},
                   .unit = unit_from_json(node.at("unit")),
                   .source = {source.at("text").get<std::string>(), source.at("file").get<std::string>(),
                              source.at("line").get<int>(), source.at("column").get<int>()},
                   .correlation = node.value("correlation", "")});
  }

  [[nodiscard]] Figure argument(const json& node, std::size_t i) const {
    return ledger_.figure(node.at("args").at(i).get<std::uint32_t>());
  }

  [[nodiscard]] Figure compute(Operation operation, const json& node) const {
    const auto a = argument(node, 0);
    switch (operation) {
      case Operation::add:
        return a + argument(node, 1);
      case Operation::subtract:
        return a - argument(node, 1);
      case Operation::multiply:
        return a * argument(node, 1);
      case Operation::divide:
        return a / argument(node, 1);
      case Operation::minimum:
        return minimum(a, argument(node, 1));
      case Operation::maximum:
        return maximum(a, argument(node, 1));
      case Operation::power:
        return power(a, node.at("exponent").get<double>());
      case Operation::raise:
        return power(a, argument(node, 1));
      case Operation::log:
        return log(a);
      case Operation::exp:
        return exp(a);
      case Operation::round_up:
        return round_up(a);
      case Operation::round_down:
        return round_down(a);
      case Operation::lookup:
        return lookup(a, tables_.at(node.at("table").get<std::size_t>()));
      case Operation::at_least:
        return at_least(a, argument(node, 1));
      case Operation::select:
        return select(a, argument(node, 1), argument(node, 2));
      case Operation::input:
      case Operation::constant:
      case Operation::same:
        break;
    }
    throw ImportError("not an operation on figures");
  }

  const json& from_;
  std::vector<LookupTable> tables_;
  Ledger ledger_;
};

}  // namespace

nlohmann::json to_json(const Ledger& ledger) {
  json nodes = json::array();
  const auto values = evaluate_all(ledger);
  for (std::uint32_t i = 0; i < values.size(); ++i) nodes.push_back(node_to_json(ledger, i, values[i]));
  json tables = json::array();
  for (const auto& table : ledger.tables()) tables.push_back(table_to_json(table));
  return {{"format", format_name},
          {"version", format_version},
          {"currency", ledger.currency()},
          {"tables", std::move(tables)},
          {"nodes", std::move(nodes)}};
}

Ledger ledger_from_json(const nlohmann::json& from) {
  try {
    return Importer(from).run();
  } catch (const nlohmann::json::exception& error) {
    throw ImportError(error.what());
  } catch (const std::invalid_argument& error) {
    throw ImportError(error.what());
  } catch (const std::out_of_range& error) {
    throw ImportError(error.what());
  }
}

}  // namespace portweigh::figures

#include "report/saved/explain_json.hpp"

#include <nlohmann/json.hpp>

namespace portweigh::report {

nlohmann::ordered_json explain_json(const options::Option& option, const figures::Explanation& explanation) {
  nlohmann::ordered_json lines = nlohmann::ordered_json::array();
  for (const figures::ExplanationLine& line : explanation.lines) {
    nlohmann::ordered_json entry = {{"depth", line.depth},
                                    {"key", line.key},
                                    {"label", line.label},
                                    {"value", line.value_si},
                                    {"shown", line.value}};
    if (!line.formula.empty()) {
      entry["formula"] = line.formula;
      entry["numbers"] = line.numbers;
    }
    if (line.range) {
      entry["low"] = line.range->low;
      entry["high"] = line.range->high;
      entry["source"] = {{"text", line.source.text},
                         {"file", line.source.file},
                         {"line", line.source.line},
                         {"column", line.source.column}};
    }
    entry["repeated"] = line.is_repeated;
    lines.push_back(std::move(entry));
  }
  return {{"option", option.id}, {"lines", std::move(lines)}, {"notes", option.notes}};
}

}  // namespace portweigh::report

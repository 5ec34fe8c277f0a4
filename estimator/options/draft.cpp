#include "options/draft.hpp"

#include <fmt/core.h>

#include "figures/units/unit.hpp"

namespace portweigh::options {

std::vector<const study::FunctionBlock*> Draft::on(EngineKind engine) const {
  std::vector<const study::FunctionBlock*> found;
  const auto& blocks = context.study.function.blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (candidate.engine_of_block[i] == engine) found.push_back(&blocks[i]);
  }
  return found;
}

figures::Figure Draft::input(std::string_view key, std::string_view label, const reading::SourcedRange& range,
                             std::string_view correlation) {
  return ledger().input({.key = std::string(key),
                         .label = std::string(label),
                         .range = range.range,
                         .unit = range.unit,
                         .source = range.source,
                         .correlation = std::string(correlation)});
}

figures::Figure Draft::input(std::string_view key, std::string_view label,
                             const reading::SourcedQuantity& quantity) {
  return ledger().input({.key = std::string(key),
                         .label = std::string(label),
                         .range = figures::exactly(quantity.value_si),
                         .unit = quantity.unit,
                         .source = quantity.source,
                         .correlation = ""});
}

figures::Figure Draft::counted(std::string_view key, std::string_view label, figures::Range range,
                               std::string_view source_text, std::string_view unit) {
  return ledger().input({.key = std::string(key),
                         .label = std::string(label),
                         .range = range,
                         .unit = figures::parse_unit(std::string(unit)),
                         .source = {.text = std::string(source_text), .file = "", .line = 0, .column = 0},
                         .correlation = ""});
}

figures::Figure Draft::executed(std::string_view key, std::string_view label,
                                const firmware::CostRange& range, const std::string& core,
                                std::string_view source_text, std::string_view unit) {
  const figures::Unit parsed = figures::parse_unit(std::string(unit));
  const figures::Figure input =
      ledger().input({.key = fmt::format("{}.{}", key, candidate.id),
                      .label = std::string(label),
                      .range = {range.low, range.typical, range.high},
                      .unit = parsed,
                      .source = {.text = std::string(source_text), .file = "", .line = 0, .column = 0},
                      .correlation = fmt::format("code of {}", core)});
  return ledger().name(input, key, label, parsed);
}

figures::Figure Draft::zero(const figures::Dimension& dimension) {
  return ledger().constant(0, dimension, "none");
}

figures::Figure Draft::name(figures::Figure figure, std::string_view key, std::string_view label,
                            std::string_view unit) {
  return ledger().name(figure, key, label, figures::parse_unit(std::string(unit)));
}

}  // namespace portweigh::options

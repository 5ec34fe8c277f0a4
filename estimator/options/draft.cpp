#include "options/draft.hpp"

#include <fmt/core.h>

#include <stdexcept>

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

figures::Figure Draft::input(const reading::SourcedRange& range) {
  const reading::InputName& name = range.input;
  if (name.key.empty()) throw std::logic_error("a value that its reader gave no name is no input");
  return ledger().input({name.key, name.label, range.range, range.unit, range.source, name.correlation});
}

figures::Figure Draft::input(const reading::SourcedQuantity& quantity) {
  return input({figures::exactly(quantity.value_si), quantity.unit, quantity.source, quantity.input});
}

figures::Figure Draft::input(std::string key, std::string label, const figures::Range& range,
                             figures::Source source, std::string_view unit, std::string correlation) {
  return ledger().input({std::move(key), std::move(label), range, figures::parse_unit(std::string(unit)),
                         std::move(source), std::move(correlation)});
}

figures::Figure Draft::counted(std::string_view key, std::string_view label, figures::Range range,
                               std::string_view source_text, std::string_view unit) {
  return input(std::string(key), std::string(label), range, {std::string(source_text), "", 0, 0}, unit);
}

figures::Figure Draft::executed(std::string_view key, std::string_view label,
                                const firmware::CostRange& range, const std::string& core,
                                std::string_view source_text, std::string_view unit) {
  const figures::Figure of_this_option = input(
      fmt::format("{}.{}", key, candidate.id), std::string(label), {range.low, range.typical, range.high},
      {std::string(source_text), "", 0, 0}, unit, fmt::format("code of {}", core));
  return name(of_this_option, key, label, unit);
}

figures::Figure Draft::zero(const figures::Dimension& dimension) {
  return ledger().constant(0, dimension, "none");
}

figures::Figure Draft::name(figures::Figure figure, std::string_view key, std::string_view label,
                            std::string_view unit) {
  return ledger().name(figure, key, label, figures::parse_unit(std::string(unit)));
}

}  // namespace portweigh::options

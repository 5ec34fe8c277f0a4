// Cells, RAM and clock of the fabric: the sum of the covered blocks, with the spread that independent
// designers show, against what the part holds and how fast it is.
//
//   cells = sum over blocks (cells of the cover x spread of the block's class)
//   path  = clock-to-output + levels (LUT + routing) + longest carry x carry delay + set-up
#include <fmt/core.h>

#include <algorithm>

#include "figures/units/format_quantity.hpp"
#include "options/draft.hpp"
#include "options/fabric/fabric_blocks.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;

std::string run_text(const FabricTraits& traits, const FabricBlock& block) {
  return fmt::format("covering run: {}, {}-input LUTs, {} carry chains", describe(block.use),
                     traits.lut_inputs, traits.has_carry_chain ? "with" : "no");
}

Figure sum_cells(Draft& draft, const std::vector<FabricBlock>& blocks) {
  const FabricTraits traits = traits_of(*draft.candidate.logic);
  std::vector<Figure> cells;
  for (const FabricBlock& block : blocks) {
    if (block.figures->count.cells == 0) continue;
    const Figure count = draft.counted(fmt::format("counts.{}.cells", block.name), block.name + ": cells",
                                       exactly(block.figures->count.cells), run_text(traits, block));
    cells.push_back(draft.name(count * spread_of(draft, *block.use.kind), fmt::format("cells.{}", block.name),
                               block.name + ": cells with spread", "1"));
  }
  return cells.empty() ? draft.zero(figures::dimensions::dimensionless) : figures::sum(cells);
}

Impossible check_capacity(const Draft& draft, const std::vector<FabricBlock>& blocks) {
  const parts::ProgrammableLogic& part = *draft.candidate.logic;
  double cells = 0;
  std::uint64_t ram_bits = 0;
  unsigned ram_blocks = 0;
  for (const FabricBlock& block : blocks) {
    cells += block.figures->count.cells;
    ram_bits += block.figures->count.ram_bits;
    ram_blocks += ram_blocks_of(part, *block.figures);
  }
  const double usable =
      part.cells * part.fill_limit.range.typical * (1 - draft.context.study.capacity_reserve.range.typical);
  if (cells > usable) {
    return Shortfall{fmt::format("needs {:.0f} cells, {:.0f} of its {} can be filled with the reserve kept",
                                 cells, usable, part.cells),
                     cells, usable};
  }
  if (ram_blocks > part.ram_blocks) {
    return Shortfall{
        fmt::format("needs {} RAM blocks for {} bits, it has {}", ram_blocks, ram_bits, part.ram_blocks),
        static_cast<double>(ram_blocks), static_cast<double>(part.ram_blocks)};
  }
  return std::nullopt;
}

void name_capacity(Draft& draft, Figure cells) {
  const parts::ProgrammableLogic& part = *draft.candidate.logic;
  const Figure there = draft.counted(fmt::format("parts.{}.cells", part.part.id), "cells of the part",
                                     exactly(part.cells), "catalog");
  const Figure fill = draft.input(fmt::format("parts.{}.fill_limit", part.part.id),
                                  "share of cells that still routes", part.fill_limit);
  const Figure reserve = draft.input("study.capacity_reserve", "share of capacity to keep free",
                                     draft.context.study.capacity_reserve);
  draft.name(cells / (there * fill * (1.0 - reserve)), "cell_use", "cells used, of what may be filled", "%");
  draft.option.implied_limits.push_back({"cell_use", 1.0, "cells that can be filled with the reserve kept"});
}

Figure attainable_clock(Draft& draft, const std::vector<FabricBlock>& blocks) {
  const parts::ProgrammableLogic& part = *draft.candidate.logic;
  unsigned levels = 1;
  unsigned carry = 0;
  for (const FabricBlock& block : blocks) {
    levels = std::max(levels, block.figures->count.levels);
    carry = std::max(carry, block.figures->count.longest_carry);
  }
  const auto of_part = [&](std::string_view field, std::string_view label, const parts::SourcedRange& range) {
    return draft.input(fmt::format("parts.{}.{}", part.part.id, field), label, range,
                       fmt::format("speed of {}", part.part.id));
  };
  const Figure depth = draft.counted("counts.levels", "LUT levels of the longest path", exactly(levels),
                                     "deepest cover of all blocks");
  const Figure chain = draft.counted("counts.longest_carry", "longest carry chain, bits", exactly(carry),
                                     "deepest cover of all blocks");
  const Figure path = of_part("clock_to_output", "clock to output", part.clock_to_output) +
                      depth * (of_part("lut_delay", "LUT delay", part.lut_delay) +
                               of_part("routing_delay", "routing delay", part.routing_delay)) +
                      chain * of_part("carry_delay", "carry delay", part.carry_delay) +
                      of_part("setup", "set-up", part.setup);
  return draft.name(1.0 / draft.name(path, "longest_path", "longest register-to-register path", "ns"),
                    "attainable_clock", "attainable clock", "MHz");
}

void name_clock(Draft& draft, const std::vector<FabricBlock>& blocks) {
  const study::Timing& timing = draft.context.study.function.timing;
  const double needed_hz = timing.oversampling * timing.bit_rate.range.typical;
  const Figure samples = draft.counted("function.oversampling", "samples for each bit",
                                       exactly(timing.oversampling), "port function");
  const Figure rate =
      draft.counted("function.nominal_bit_rate", "nominal bit rate", exactly(timing.bit_rate.range.typical),
                    timing.bit_rate.source.text, "kHz");
  const Figure required = draft.name(samples * rate, "required_clock", "clock the line needs", "MHz");
  const Figure clock = draft.counted("clock_rate", "clock of the fabric", exactly(needed_hz),
                                     "lowest clock that samples the line often enough", "MHz");
  draft.name(required / clock, "clock_use", "clock needed, of the clock given", "%");
  draft.name(clock / attainable_clock(draft, blocks), "path_use", "clock given, of the clock attainable",
             "%");
  draft.option.implied_limits.push_back({"clock_use", 1.0, "clock that samples the line often enough"});
  draft.option.implied_limits.push_back({"path_use", 1.0, "clock that the longest path allows"});
}

}  // namespace

std::vector<FabricBlock> fabric_blocks(Draft& draft) {
  const FabricTraits traits = traits_of(*draft.candidate.logic);
  std::vector<FabricBlock> blocks;
  for (const study::FunctionBlock* block : draft.on(EngineKind::fabric)) {
    const BlockUse use{block->kind, block->settings};
    blocks.push_back({block->name, use, &draft.context.library.logic(use, traits), false});
  }
  for (const BlockUse& use : draft.added_blocks) {
    blocks.push_back({use.kind->name, use, &draft.context.library.logic(use, traits),
                      use.kind->stage == blocks::Stage::processor});
  }
  return blocks;
}

Figure spread_of(Draft& draft, const blocks::Kind& kind) {
  const auto& spreads = draft.context.catalog.lut_spreads;
  const auto found = spreads.find(kind.spread_class);
  const auto& [name, spread] = found != spreads.end() ? *found : *spreads.find("default");
  return draft.ledger().input({.key = fmt::format("spreads.{}", name),
                               .label = fmt::format("designs of class {} against the estimate", name),
                               .range = {spread.low_factor, 1, spread.high_factor},
                               .unit = figures::parse_unit("1"),
                               .source = spread.source,
                               .correlation = ""});
}

unsigned ram_blocks_of(const parts::ProgrammableLogic& part, const LogicFigures& figures) {
  if (figures.count.ram_blocks > 0) return figures.count.ram_blocks;
  if (figures.count.ram_bits == 0 || part.ram_block_bits == 0) return figures.count.ram_bits > 0 ? 1 : 0;
  return static_cast<unsigned>((figures.count.ram_bits + part.ram_block_bits - 1) / part.ram_block_bits);
}

Impossible count_cells(Draft& draft) {
  if (draft.candidate.logic == nullptr) {
    draft.name(draft.zero(figures::dimensions::dimensionless), "logic_cells", "logic cells", "1");
    return std::nullopt;
  }
  const std::vector<FabricBlock> blocks = fabric_blocks(draft);
  if (auto reason = check_capacity(draft, blocks)) return reason;
  const Figure cells = draft.name(sum_cells(draft, blocks), "logic_cells", "logic cells", "1");
  name_capacity(draft, cells);
  name_clock(draft, blocks);
  return std::nullopt;
}

}  // namespace portweigh::options

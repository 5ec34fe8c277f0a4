#include "options/fabric/count_cells.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "figures/units/format_quantity.hpp"

namespace portweigh::options {
namespace {

using figures::exactly;
using figures::Figure;

std::string run_text(const FabricTraits& traits, const FabricBlock& block) {
  return fmt::format("covering run: {}, {}-input LUTs, {} carry chains", describe(block.use),
                     traits.lut_inputs, traits.has_carry_chain ? "with" : "no");
}

Figure sum_cells(Draft& draft, const std::vector<FabricBlock>& blocks) {
  const FabricTraits traits = traits_of(*draft.candidate.logic());
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
  const parts::ProgrammableLogic& part = *draft.candidate.logic();
  Room needed;
  std::uint64_t ram_bits = 0;
  for (const FabricBlock& block : blocks) {
    needed += room_of(part, *block.figures);
    ram_bits += block.figures->count.ram_bits;
  }
  const auto& [cells, ram_blocks] = needed;
  const double usable = usable_cells(part, draft.context.study);
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
  const parts::ProgrammableLogic& part = *draft.candidate.logic();
  const Figure there = draft.counted(fmt::format("parts.{}.cells", part.part.id), "cells of the part",
                                     exactly(part.cells), "catalog");
  const Figure fill = draft.input(part.fill_limit);
  const Figure reserve = draft.input(draft.context.study.capacity_reserve);
  draft.name(cells / usable_cells(there, fill, reserve), "cell_use", "cells used, of what may be filled",
             "%");
  draft.option.implied_limits.push_back({"cell_use", 1.0, "cells that can be filled with the reserve kept"});
}

Figure attainable_clock(Draft& draft, const std::vector<FabricBlock>& blocks) {
  const parts::ProgrammableLogic& part = *draft.candidate.logic();
  unsigned levels = 1;
  unsigned carry = 0;
  for (const FabricBlock& block : blocks) {
    levels = std::max(levels, block.figures->count.levels);
    carry = std::max(carry, block.figures->count.longest_carry);
  }
  const Figure depth = draft.counted("counts.levels", "LUT levels of the longest path", exactly(levels),
                                     "deepest cover of all blocks");
  const Figure chain = draft.counted("counts.longest_carry", "longest carry chain, bits", exactly(carry),
                                     "deepest cover of all blocks");
  const Figure path = draft.input(part.clock_to_output) +
                      depth * (draft.input(part.lut_delay) + draft.input(part.routing_delay)) +
                      chain * draft.input(part.carry_delay) + draft.input(part.setup);
  return draft.name(1.0 / draft.name(path, "longest_path", "longest register-to-register path", "ns"),
                    "attainable_clock", "attainable clock", "MHz");
}

Figure name_clock(Draft& draft, const std::vector<FabricBlock>& blocks) {
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
  return clock;
}

std::vector<FabricBlock> fabric_blocks(Draft& draft, const Placed& placed) {
  const FabricTraits traits = traits_of(*draft.candidate.logic());
  std::vector<FabricBlock> blocks;
  for (const study::FunctionBlock* block : draft.on(EngineKind::fabric)) {
    const BlockUse use{block->kind, block->settings};
    blocks.push_back({block->name, use, &draft.context.library.logic(use, traits), false});
  }
  for (const BlockUse& use : placed.added_blocks) {
    blocks.push_back({use.kind->name, use, &draft.context.library.logic(use, traits),
                      use.kind->stage == blocks::Stage::processor});
  }
  return blocks;
}

}  // namespace

Figure spread_of(Draft& draft, const blocks::Kind& kind) {
  const auto& spreads = draft.context.catalog.lut_spreads;
  const auto found = spreads.find(kind.spread_class);
  const auto& [name, spread] = found != spreads.end() ? *found : *spreads.find("default");
  return draft.input(fmt::format("spreads.{}", name),
                     fmt::format("designs of class {} against the estimate", name),
                     {spread.low_factor, 1, spread.high_factor}, spread.source);
}

Room& Room::operator+=(const Room& other) {
  cells += other.cells;
  ram_blocks += other.ram_blocks;
  return *this;
}

Room room_of(const parts::ProgrammableLogic& part, const LogicFigures& figures) {
  const logic::FabricCount& count = figures.count;
  unsigned ram_blocks = count.ram_blocks;
  if (ram_blocks == 0 && count.ram_bits > 0) {
    ram_blocks =
        part.ram_block_bits == 0
            ? 1
            : static_cast<unsigned>((count.ram_bits + part.ram_block_bits - 1) / part.ram_block_bits);
  }
  return {static_cast<double>(count.cells), ram_blocks};
}

double usable_cells(const parts::ProgrammableLogic& part, const study::Study& study) {
  return usable_cells<double>(part.cells, part.fill_limit.range.typical,
                              study.capacity_reserve.range.typical);
}

OrShortfall<Cells> count_cells(Draft& draft, const Placed& placed) {
  if (draft.candidate.logic() == nullptr) {
    draft.name(draft.zero(figures::dimensions::dimensionless), "logic_cells", "logic cells", "1");
    return Cells{};
  }
  std::vector<FabricBlock> blocks = fabric_blocks(draft, placed);
  if (auto reason = check_capacity(draft, blocks)) return std::move(*reason);
  const Figure cells = draft.name(sum_cells(draft, blocks), "logic_cells", "logic cells", "1");
  name_capacity(draft, cells);
  const Figure clock_hz = name_clock(draft, blocks);
  return Cells{std::move(blocks), clock_hz};
}

}  // namespace portweigh::options

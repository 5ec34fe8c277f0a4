#include "options/enumerate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "blocks/registry.hpp"

namespace portweigh::options {
namespace {

bool is_wanted(const study::Study& study, const std::string& part) {
  const auto contains = [&](const std::vector<std::string>& list) {
    return std::find(list.begin(), list.end(), part) != list.end();
  };
  return (study.only_parts.empty() || contains(study.only_parts)) && !contains(study.excluded_parts);
}

// Policy is what firmware does best: everything above the message layer.
bool is_policy(const study::FunctionBlock& block) {
  return block.layer == study::Layer::policy;
}

std::vector<EngineKind> assign(const Context& context, EngineKind main, EngineKind policy) {
  std::vector<EngineKind> engines;
  for (const study::FunctionBlock& block : context.study.function.blocks) {
    engines.push_back(is_policy(block) ? policy : main);
  }
  return engines;
}

BlockUse soft_processor() {
  const blocks::Kind& kind = blocks::find_kind("soft-processor");
  blocks::Settings settings = blocks::Settings::standard(kind.settings);
  settings.set("bits", "32");
  settings.set("style", "sequential");
  return {&kind, settings};
}

bool has_policy(const Context& context) {
  const auto& blocks = context.study.function.blocks;
  return std::any_of(blocks.begin(), blocks.end(), is_policy) &&
         !std::all_of(blocks.begin(), blocks.end(), is_policy);
}

void add_logic(const Context& context, const parts::ProgrammableLogic& part,
               std::vector<Candidate>& candidates) {
  const std::string& id = part.part.id;
  Candidate whole;
  whole.id = id;
  whole.kind = OptionKind::programmable_logic;
  whole.logic = &part;
  whole.engine_of_block = assign(context, EngineKind::fabric, EngineKind::fabric);
  candidates.push_back(whole);
  if (!has_policy(context)) return;
  Candidate soft = whole;
  soft.id = id + "+soft";
  soft.kind = OptionKind::split;
  soft.soft_processor = soft_processor();
  soft.engine_of_block = assign(context, EngineKind::fabric, EngineKind::soft_processor);
  candidates.push_back(soft);
  if (context.study.host) {
    Candidate host = whole;
    host.id = id + "+host";
    host.kind = OptionKind::split;
    host.engine_of_block = assign(context, EngineKind::fabric, EngineKind::host);
    candidates.push_back(host);
  }
  for (const parts::Microcontroller& second : context.catalog.microcontrollers) {
    if (!is_wanted(context.study, second.part.id)) continue;
    Candidate pair = whole;
    pair.id = fmt::format("{}+{}", id, second.part.id);
    pair.kind = OptionKind::split;
    pair.microcontroller = &second;
    pair.engine_of_block = assign(context, EngineKind::fabric, EngineKind::microcontroller);
    candidates.push_back(pair);
  }
}

}  // namespace

std::vector<Candidate> enumerate(const Context& context) {
  std::vector<Candidate> candidates;
  if (!context.study.function.needs_silicon) {
    Candidate none;
    none.id = "no-silicon";
    none.kind = OptionKind::no_silicon;
    none.engine_of_block.assign(context.study.function.blocks.size(), EngineKind::external);
    candidates.push_back(none);
  }
  for (const parts::ProgrammableLogic& part : context.catalog.programmable_logic) {
    if (is_wanted(context.study, part.part.id)) add_logic(context, part, candidates);
  }
  for (const parts::Microcontroller& part : context.catalog.microcontrollers) {
    if (!is_wanted(context.study, part.part.id)) continue;
    Candidate candidate;
    candidate.id = part.part.id;
    candidate.kind = OptionKind::microcontroller;
    candidate.microcontroller = &part;
    candidate.engine_of_block = assign(context, EngineKind::microcontroller, EngineKind::microcontroller);
    candidates.push_back(candidate);
  }
  for (const parts::FixedFunction& part : context.catalog.fixed_functions) {
    if (!is_wanted(context.study, part.part.id)) continue;
    Candidate candidate;
    candidate.id = part.part.id;
    candidate.kind = OptionKind::fixed_function;
    candidate.fixed = &part;
    candidate.engine_of_block = assign(context, EngineKind::fixed_function, EngineKind::fixed_function);
    candidates.push_back(candidate);
  }
  return candidates;
}

void prepare_library(const Context& context, const std::vector<Candidate>& candidates, unsigned threads) {
  const auto& blocks = context.study.function.blocks;
  std::vector<BlockLibrary::Wanted> wanted;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    std::set<FabricTraits> fabrics;
    std::set<std::string> cores;
    for (const Candidate& candidate : candidates) {
      switch (candidate.engine_of_block[i]) {
        case EngineKind::fabric:
          fabrics.insert(traits_of(*candidate.logic));
          break;
        case EngineKind::microcontroller:
          cores.insert(candidate.microcontroller->core);
          break;
        case EngineKind::soft_processor:
          cores.insert("32-bit-sequential");
          break;
        case EngineKind::host:
          cores.insert(context.study.host->core);
          break;
        case EngineKind::fixed_function:
        case EngineKind::external:
        case EngineKind::none:
          break;
      }
    }
    wanted.push_back({{blocks[i].kind, blocks[i].settings},
                      {fabrics.begin(), fabrics.end()},
                      {cores.begin(), cores.end()}});
  }
  context.library.prepare(wanted, threads);
}

}  // namespace portweigh::options

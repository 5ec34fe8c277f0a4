#include "options/search/enumerate.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <iterator>
#include <memory>
#include <mutex>
#include <set>

#include "figures/evaluation/parallel.hpp"
#include "options/fabric/soft_processor.hpp"
#include "options/firmware/link.hpp"
#include "options/package/package.hpp"
#include "options/search/split_search.hpp"

namespace portweigh::options {
namespace {

// Policy is what firmware does best: everything above the message layer.
bool is_policy(const study::FunctionBlock& block) {
  return block.layer == study::Layer::policy;
}

// One chip for all, or for all but the policy.
std::vector<EngineKind> assign(const Context& context, EngineKind main, EngineKind policy) {
  std::vector<EngineKind> engines;
  for (const study::FunctionBlock& block : context.study.function.blocks) {
    engines.push_back(is_policy(block) ? policy : main);
  }
  return engines;
}

bool has_policy(const Context& context) {
  const auto& blocks = context.study.function.blocks;
  return std::any_of(blocks.begin(), blocks.end(), is_policy) &&
         !std::all_of(blocks.begin(), blocks.end(), is_policy);
}

class Enumeration {
 public:
  Enumeration(const Context& context, SplitSearch& search) : context_(context), search_(search) {}

  void add(Candidate candidate) { candidates_.push_back(std::move(candidate)); }

  // The best of all assignments to the first engine and `second`, or why there is none.
  void add_best(const Candidate& pair, EngineKind second, bool has_usual = false) {
    auto searched = search_.best(pair, second);
    auto* best = std::get_if<Split>(&searched);
    if (best == nullptr) {
      if (!has_usual) add_impossible(pair, std::get<Shortfall>(std::move(searched)));
      return;
    }
    Candidate& found = best->candidate;
    if (has_usual && found.engine_of_block == candidates_.back().engine_of_block) {
      candidates_.back().search_note = std::move(found.search_note);
      return;
    }
    found.id = fmt::format("{}:{}", pair.id, fmt::join(best->beyond, "/"));
    add(std::move(found));
  }

  // The usual cut above the message layer, and the best of all assignments where that is another one.
  void add_splits(const Candidate& pair, EngineKind second) {
    if (has_policy(context_)) {
      Candidate usual = pair;
      usual.kind = OptionKind::split;
      usual.engine_of_block = assign(context_, EngineKind::fabric, second);
      add(std::move(usual));
    }
    add_best(pair, second, has_policy(context_));
  }

  void add_logic(const parts::ProgrammableLogic& part) {
    Candidate whole = all_on(EngineKind::fabric, OptionKind::programmable_logic, part.part.id);
    whole.add(&part);
    add(whole);
    Candidate soft = whole;
    soft.id += "+soft";
    soft.soft_processor = usual_soft_processor();
    add_splits(soft, EngineKind::soft_processor);
    beside_each(whole, [this](const Candidate& pair, EngineKind second) { add_splits(pair, second); });
  }

  void add_no_silicon() { add(all_on(EngineKind::external, OptionKind::no_silicon, "no-silicon")); }

  void add_microcontroller(const parts::Microcontroller& part) {
    Candidate whole = all_on(EngineKind::microcontroller, OptionKind::microcontroller, part.part.id);
    whole.add(&part);
    add(whole);
  }

  // Fixed function for a part of the blocks, where it can't do all.
  void add_fixed(const parts::FixedFunction& part) {
    Candidate whole = all_on(EngineKind::fixed_function, OptionKind::fixed_function, part.part.id);
    whole.add(&part);
    const auto& blocks = context_.study.function.blocks;
    const bool does_all = std::all_of(blocks.begin(), blocks.end(), [&](const auto& block) {
      return block.feature.empty() || part.features.contains(block.feature);
    });
    add(whole);
    if (!does_all) add_searched_beside(whole);
  }

  std::vector<Candidate> take() { return std::move(candidates_); }

 private:
  // Without its part.
  Candidate all_on(EngineKind engine, OptionKind kind, const std::string& id) const {
    Candidate whole;
    whole.id = id;
    whole.kind = kind;
    whole.engine_of_block.assign(context_.study.function.blocks.size(), engine);
    return whole;
  }

  // `work(pair, second engine)` with the host and with each microcontroller as the second chip.
  template <class Work>
  void beside_each(const Candidate& whole, const Work& work) {
    if (context_.study.host) {
      Candidate host = whole;
      host.id += "+host";
      work(std::move(host), EngineKind::host);
    }
    for (const parts::Microcontroller& second : context_.catalog.microcontrollers) {
      if (!study::is_considered(context_.study, second.part.id)) continue;
      Candidate pair = whole;
      pair.id = fmt::format("{}+{}", whole.id, second.part.id);
      pair.add(&second);
      work(std::move(pair), EngineKind::microcontroller);
    }
  }

  // A pair without any assignment that works is listed with the reason, not left out.
  void add_impossible(Candidate pair, Shortfall reason) {
    pair.kind = OptionKind::split;
    pair.no_assignment = std::move(reason);
    add(std::move(pair));
  }

  void add_searched_beside(const Candidate& whole) {
    for (const parts::ProgrammableLogic& second : context_.catalog.programmable_logic) {
      if (!study::is_considered(context_.study, second.part.id)) continue;
      Candidate pair = whole;
      pair.id = fmt::format("{}+{}", whole.id, second.part.id);
      pair.add(&second);
      add_best(pair, EngineKind::fabric);
    }
    beside_each(whole, [this](const Candidate& pair, EngineKind second) { add_best(pair, second); });
  }

  const Context& context_;
  SplitSearch& search_;
  std::vector<Candidate> candidates_;
};

// A search remembers what it has computed, whatever pair it was for; each thread takes one of its own.
class IdleSearches {
 public:
  std::unique_ptr<SplitSearch> take(const Context& context) {
    const std::scoped_lock lock(mutex_);
    if (idle_.empty()) return std::make_unique<SplitSearch>(context);
    auto search = std::move(idle_.back());
    idle_.pop_back();
    return search;
  }
  void put_back(std::unique_ptr<SplitSearch> search) {
    const std::scoped_lock lock(mutex_);
    idle_.push_back(std::move(search));
  }

 private:
  std::mutex mutex_;
  std::vector<std::unique_ptr<SplitSearch>> idle_;
};

// What is enumerated apart from each other: the candidates of each part, in the order of the catalog.
std::vector<std::function<void(Enumeration&)>> works_of(const Context& context) {
  std::vector<std::function<void(Enumeration&)>> works;
  if (!context.study.function.needs_silicon) {
    works.push_back([](Enumeration& enumeration) { enumeration.add_no_silicon(); });
  }
  const auto add_each = [&](const auto& parts, auto add) {
    for (const auto& part : parts) {
      if (!study::is_considered(context.study, part.part.id)) continue;
      works.push_back([&part, add](Enumeration& enumeration) { (enumeration.*add)(part); });
    }
  };
  add_each(context.catalog.programmable_logic, &Enumeration::add_logic);
  add_each(context.catalog.microcontrollers, &Enumeration::add_microcontroller);
  add_each(context.catalog.fixed_functions, &Enumeration::add_fixed);
  return works;
}

// The ids that the study asks for, if it does.
std::vector<Candidate> only_wanted(const study::Study& study, std::vector<Candidate> candidates) {
  const auto& only = study.assignment.only_options;
  if (only.empty()) return candidates;
  std::erase_if(candidates, [&](const Candidate& candidate) {
    return std::find(only.begin(), only.end(), candidate.id) == only.end();
  });
  return candidates;
}

}  // namespace

std::vector<Candidate> enumerate(const Context& context, unsigned threads) {
  const auto wanted_works = works_of(context);
  std::vector<std::vector<Candidate>> found(wanted_works.size());
  IdleSearches searches;
  figures::for_each_index(wanted_works.size(), threads, [&](std::size_t i) {
    auto search = searches.take(context);
    Enumeration enumeration(context, *search);
    wanted_works[i](enumeration);
    found[i] = enumeration.take();
    searches.put_back(std::move(search));
  });
  std::vector<Candidate> all;
  for (auto& some : found) std::move(some.begin(), some.end(), std::back_inserter(all));
  return only_wanted(context.study, std::move(all));
}

void prepare_library(const Context& context, unsigned threads) {
  const study::Study& study = context.study;
  std::set<FabricTraits> fabrics;
  std::set<std::string> cores;
  for (const auto& part : context.catalog.programmable_logic) {
    if (!study::is_considered(study, part.part.id)) continue;
    // Without a package that can be assembled it is rejected before its cells are counted.
    if (most_usable_pins(part.part, study.assembly) > 0) fabrics.insert(traits_of(part));
    cores.insert("32-bit-sequential");
  }
  for (const auto& part : context.catalog.microcontrollers) {
    if (study::is_considered(study, part.part.id)) cores.insert(part.core);
  }
  if (study.host) cores.insert(study.host->core);
  std::vector<BlockLibrary::Wanted> wanted;
  const auto want = [&](const BlockUse& use) {
    wanted.push_back({use, {fabrics.begin(), fabrics.end()}, {cores.begin(), cores.end()}});
  };
  for (const study::FunctionBlock& block : study.function.blocks) want({block.kind, block.settings});
  for (const LinkRole role : {LinkRole::target, LinkRole::controller}) {
    for (const BlockUse& use : link_blocks({.bus = "i2c"}, role)) want(use);
  }
  std::set<FabricTraits> with_oscillator;
  for (const auto& part : context.catalog.programmable_logic) {
    const bool may_have_soft = study::is_considered(study, part.part.id) && part.oscillator_frequency &&
                               part.ram_blocks > 0 && most_usable_pins(part.part, study.assembly) > 0;
    if (may_have_soft) with_oscillator.insert(traits_of(part));
  }
  wanted.push_back({usual_soft_processor(), {with_oscillator.begin(), with_oscillator.end()}, {}});
  context.library.prepare(wanted, threads);
}

}  // namespace portweigh::options

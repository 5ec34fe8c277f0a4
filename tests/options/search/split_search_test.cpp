#include "options/search/split_search.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"
#include "options/fabric/soft_processor.hpp"
#include "options/firmware/link.hpp"
#include "options/firmware/processor_estimate.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

Candidate pair_of(const std::string& logic, const std::string& microcontroller) {
  const parts::Catalog& catalog = demo().catalog;
  Candidate pair;
  pair.id = logic + "+" + microcontroller;
  pair.kind = OptionKind::split;
  for (const auto& part : catalog.programmable_logic) {
    if (part.part.id == logic) pair.add(&part);
  }
  for (const auto& part : catalog.microcontrollers) {
    if (part.part.id == microcontroller) pair.add(&part);
  }
  return pair;
}

double average_w(const Option& option) {
  return figures::evaluate(option.ledger, option.ledger.at("average_power"));
}

Option realised(const Context& context, const Candidate& candidate) {
  Realised result = realise(context, candidate);
  INFO(candidate.id);
  if (const auto* rejection = std::get_if<Rejection>(&result)) FAIL(rejection->reason);
  return std::move(std::get<Option>(result));
}

// The groups of these names on the second engine, the others on the fabric.
struct Divided {
  Assigned assigned;
  Candidate candidate;
};

Divided divided(const Context& context, const Candidate& pair, const std::vector<std::string>& beyond,
                EngineKind second = EngineKind::microcontroller) {
  const auto groups = group_blocks(context.study);
  Divided split{Assigned(groups.size(), 0), pair};
  split.candidate.engine_of_block.assign(context.study.function.blocks.size(), EngineKind::fabric);
  for (std::size_t i = 0; i < groups.size(); ++i) {
    if (std::find(beyond.begin(), beyond.end(), groups[i].name) == beyond.end()) continue;
    split.assigned[i] = 1;
    for (const std::size_t block : groups[i].blocks) {
      split.candidate.engine_of_block[block] = second;
    }
  }
  return split;
}

}  // namespace

TEST_CASE("The search finds the best of all assignments of real pairs") {
  for (const auto& [logic, microcontroller] :
       {std::pair{"pl-flash-b", "mcu-8b-timer"}, std::pair{"pl-flash-d", "mcu-16b-lp"},
        std::pair{"pl-sram-b", "mcu-32b-turbo"}}) {
    const Candidate pair = pair_of(logic, microcontroller);
    SplitSearch search(demo().context());
    const PartitionProblem problem = search.problem(pair, EngineKind::microcontroller);
    const PartitionResult all = try_all_partitions(problem);
    const PartitionResult found = search_partition(problem);
    INFO(pair.id);
    REQUIRE(found.best);
    REQUIRE(all.best);
    CHECK(found.cost == all.cost);
    CHECK(*found.best == *all.best);
    CHECK(found.completed <= all.completed);
  }
}

namespace {

// From the groups `first` on the second engine to `other`: the difference as the search estimates it, and as it is
// realised.
std::pair<double, double> differences_w(const Context& context, const Candidate& pair, EngineKind second,
                                        const std::vector<std::string>& first,
                                        const std::vector<std::string>& other) {
  SplitSearch search(context);
  const PartitionProblem problem = search.problem(pair, second);
  const Divided before = divided(context, pair, first, second);
  const Divided after = divided(context, pair, other, second);
  return {problem.complete_cost(after.assigned).value() - problem.complete_cost(before.assigned).value(),
          average_w(realised(context, after.candidate)) - average_w(realised(context, before.candidate))};
}

}  // namespace

// The estimate that the search compares leaves out only what two assignments of a pair share.
TEST_CASE("The difference of two assignments is that of the realised options") {
  const auto [estimated_w, realised_w] =
      differences_w(demo().context(), pair_of("pl-flash-d", "mcu-16b-lp"), EngineKind::microcontroller,
                    {"policy"}, {"policy", "attachment", "host"});
  // What leakage adds through heat is not in the estimate.
  CHECK(estimated_w == Approx(realised_w).epsilon(0.02).margin(2e-7));
}

// Every clock of the soft processor moves what its tree and its own state take.
TEST_CASE("So it is with a soft processor, clocked as its deadlines ask") {
  Candidate pair = pair_of("pl-flash-d", "");
  pair.soft_processor = usual_soft_processor();
  const auto [estimated_w, realised_w] =
      differences_w(demo().context(), pair, EngineKind::soft_processor, {"policy"}, {"attachment"});
  CHECK(estimated_w == Approx(realised_w).epsilon(0.02).margin(2e-7));
}

// Outputs such as those of a pulse-width modulator need the clock all the time; on the other chip they don't keep the
// fabric's running.
TEST_CASE("An assignment that keeps a fabric's clocks running pays for it in the search as in the ledger") {
  study::Study study = demo().study;
  blocks::Kind running;
  for (study::FunctionBlock& block : study.function.blocks) {
    if (block.name != "pins") continue;
    running = *block.kind;
    running.runs_while_quiet = true;
    block.kind = &running;
  }
  const Context context{demo().catalog, demo().effort, study, demo().library};
  const Candidate pair = pair_of("pl-flash-d", "mcu-16b-lp");
  const auto [estimated_w, realised_w] =
      differences_w(context, pair, EngineKind::microcontroller, {"policy", "pins"}, {"policy"});
  CHECK(realised_w > 100e-6);  // of some 4 mW in 6 % of the time
  CHECK(estimated_w == Approx(realised_w).epsilon(0.03));
}

TEST_CASE("The clock with the lowest average power is taken, and the estimate is that of the ledger") {
  const Context context = demo().context();
  Candidate pair = pair_of("", "mcu-16b-lp");
  const auto& fixed = demo().catalog.fixed_functions;
  pair.add(
      &*std::find_if(fixed.begin(), fixed.end(), [](const auto& part) { return part.part.id == "ff-line"; }));
  SplitSearch search(context);
  const auto searched = search.best(pair, EngineKind::microcontroller);
  const auto* split = std::get_if<Split>(&searched);
  REQUIRE(split != nullptr);
  const Option realised_option = realised(context, split->candidate);
  const Option* option = &realised_option;
  std::vector<const study::FunctionBlock*> blocks;
  for (std::size_t i = 0; i < context.study.function.blocks.size(); ++i) {
    if (split->candidate.engine_of_block[i] == EngineKind::microcontroller)
      blocks.push_back(&context.study.function.blocks[i]);
  }
  Processor processor = processor_of(context, *pair.microcontroller());
  const auto link = std::get<Link>(choose_link(context, split->candidate));
  processor.link = LinkTask{link_controller(link), link.byte_s, link.answer_s, link.bytes_per_message};
  const Schedule schedule = make_schedule(context, blocks, processor);
  const auto powers = average_power_by_clock(context, *pair.microcontroller(), schedule, processor);
  REQUIRE(powers.size() > 1);
  const auto least = std::min_element(powers.begin(), powers.end(),
                                      [](const auto& a, const auto& b) { return a.average_w < b.average_w; });
  CHECK(figures::evaluate(option->ledger, option->ledger.at("clock_rate")) == Approx(least->clock_hz));
  // The processor's own share: contributors that are the processor, and its wake-ups.
  double ledger_w = 0;
  for (const study::PortState& state : context.study.states) {
    const double share = state.share.range.typical;
    for (const std::uint32_t node : option->ledger.named_nodes()) {
      const std::string& key = option->ledger.name_of(node)->key;
      const std::string prefix = "state_power." + state.name + ".";
      if (key == prefix + "processor" || key.starts_with(prefix + "wake_ups")) {
        ledger_w += share * figures::evaluate(option->ledger, option->ledger.at(key));
      }
    }
  }
  CHECK(least->average_w == Approx(ledger_w).epsilon(1e-6));
}

TEST_CASE("Pinned and forbidden blocks are where the study wants them, in every option") {
  study::Study study = demo().study;
  study.only_parts = {"pl-flash-d", "mcu-16b-lp", "mcu-32b-turbo", "ff-line"};
  study.assignment.pinned.push_back({"capability-match", "microcontroller", {}});
  study.assignment.forbidden.push_back({"attachment", "microcontroller", {}});
  const Context context{demo().catalog, demo().effort, study, demo().library};
  const Considered considered = consider(context, 2);
  REQUIRE_FALSE(considered.options.empty());
  for (const Option& option : considered.options) {
    INFO(option.id);
    for (const auto& [block, engine] : option.assignment) {
      if (block == "capability-match") CHECK(engine == to_string(EngineKind::microcontroller));
      if (block == "attachment") CHECK(engine != to_string(EngineKind::microcontroller));
    }
  }
  const auto& rejections = considered.rejections;
  CHECK(std::any_of(rejections.begin(), rejections.end(), [](const Rejection& one) {
    return one.reason.find("pins capability-match to microcontroller") != std::string::npos;
  }));
}

TEST_CASE("A study can ask for one option only") {
  study::Study study = demo().study;
  study.assignment.only_options = {"pl-flash-d+mcu-16b-lp"};
  const Considered considered = consider({demo().catalog, demo().effort, study, demo().library}, 2);
  REQUIRE(considered.options.size() + considered.rejections.size() == 1);
  CHECK(considered.options.front().id == "pl-flash-d+mcu-16b-lp");
}

TEST_CASE(
    "A controller that passes its messages on is joined to logic, one that keeps them is told why not") {
  const auto& all = demo().considered;
  const auto beside_logic = [](const auto& one) {
    return one.parts.size() == 2 && one.parts[0].starts_with("pl-") && one.parts[1].starts_with("ff-");
  };
  const auto found = std::find_if(all.options.begin(), all.options.end(), beside_logic);
  REQUIRE(found != all.options.end());
  INFO(found->id);
  std::size_t in_logic = 0;
  std::size_t in_controller = 0;
  for (const auto& [block, engine] : found->assignment) {
    in_logic += engine == to_string(EngineKind::fabric) ? 1U : 0U;
    in_controller += engine == to_string(EngineKind::fixed_function) ? 1U : 0U;
  }
  CHECK(in_logic > 0);
  CHECK(in_controller > 0);
  CHECK(in_logic + in_controller == found->assignment.size());
  // Both bodies on the board, and a link that costs cells.
  CHECK(found->bill.size() >= 2);
  CHECK(found->ledger.find("counts.host-interface.cells"));
  CHECK(std::any_of(all.rejections.begin(), all.rejections.end(), [](const Rejection& one) {
    return one.id == "ff-source+pl-flash-d" && one.reason.find("message-passing") != std::string::npos;
  }));
}

TEST_CASE("Every pair of a fixed function that can't do all is an option or has a reason") {
  std::size_t pairs = 0;
  const auto count = [&](const std::vector<std::string>& parts) {
    pairs += parts.size() == 2 && parts.back() == "ff-line" ? 1U : 0U;
  };
  for (const Option& option : demo().considered.options) count(option.parts);
  for (const Rejection& rejection : demo().considered.rejections) {
    count(rejection.parts);
    // Where the search finds nothing, realising what it asks least of the second engine fails too.
    INFO(rejection.id << ": " << rejection.reason);
    CHECK_FALSE(rejection.reason.starts_with("0 of all assignments"));
  }
  CHECK(pairs == demo().catalog.programmable_logic.size() + demo().catalog.microcontrollers.size());
}

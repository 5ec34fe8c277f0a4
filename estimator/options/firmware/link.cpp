#include "options/firmware/link.hpp"

#include <fmt/core.h>

#include <algorithm>

#include "blocks/registry.hpp"
#include "figures/units/format_quantity.hpp"
#include "options/firmware/event_rules.hpp"

namespace portweigh::options {
namespace {

using figures::format_quantity;
namespace dimensions = figures::dimensions;

using blocks::Stage;

Stage stage_of(const study::FunctionBlock& block) {
  switch (block.layer) {
    case study::Layer::analogue:
      return Stage::line;
    case study::Layer::physical:
      return block.kind->stage == Stage::line ? Stage::line : Stage::packet;
    case study::Layer::message:
      return block.revision_group == "message" ? Stage::message : Stage::anywhere;
    case study::Layer::policy:
      return Stage::policy;
    case study::Layer::host:
    case study::Layer::pins:
      return Stage::anywhere;
  }
  return Stage::anywhere;
}

// The engine that carries the most blocks of a stage; none if the function has no such stage.
std::optional<EngineKind> engine_of(const study::PortFunction& function,
                                    const std::vector<EngineKind>& engine_of_block, Stage stage) {
  for (std::size_t i = function.blocks.size(); i-- > 0;) {
    if (stage_of(function.blocks[i]) == stage) return engine_of_block[i];
  }
  return std::nullopt;
}

bool is_beyond(EngineKind engine, const Candidate& candidate) {
  if (engine == EngineKind::host) return true;
  if (engine == EngineKind::fabric) return candidate.fixed() != nullptr;
  return engine == EngineKind::microcontroller &&
         (candidate.logic() != nullptr || candidate.fixed() != nullptr);
}

double latency_s(const Context& context, const Candidate& candidate) {
  return candidate.uses(EngineKind::host) ? context.study.host->latency.range.high : 0;
}

// The block that a bus would make late, with its deadline.
struct Late {
  const study::FunctionBlock* block = nullptr;
  double deadline_s = 0;
};

std::optional<Late> late_block(const Context& context, const Candidate& candidate, double answer_s) {
  const auto& function = context.study.function;
  std::optional<Late> latest;
  for (std::size_t i = 0; i < function.blocks.size(); ++i) {
    const study::FunctionBlock& block = function.blocks[i];
    if (!is_beyond(candidate.engine_of_block[i], candidate) || block.kind->methods.empty()) continue;
    if (block.layer != study::Layer::message && block.layer != study::Layer::policy) continue;
    const bool is_tick = block.kind->event(block.settings) == blocks::Event::tick;
    const double deadline_s = is_tick ? function.timing.response.value_si
                                      : rule_for(function, block, blocks::Event::step).deadline_s;
    if (deadline_s > answer_s || (latest && latest->deadline_s <= deadline_s)) continue;
    latest = Late{&block, deadline_s};
  }
  return latest;
}

BlockUse use_of(const blocks::Kind& kind, const std::vector<std::pair<const char*, const char*>>& set) {
  blocks::Settings settings = blocks::Settings::standard(kind.settings);
  for (const auto& [name, value] : set) settings.set(name, value);
  return {&kind, std::move(settings)};
}

BlockUse interface_of(const std::string& bus, const char* role) {
  return use_of(blocks::host_interface(), {{"bus", bus.c_str()}, {"role", role}});
}

}  // namespace

std::vector<std::string> buses_between(const Context& context, const Candidate& candidate) {
  if (candidate.uses(EngineKind::host)) {
    return {candidate.fixed() != nullptr ? "i2c" : context.study.host->interface};
  }
  if (candidate.microcontroller() == nullptr) return {"i2c"};
  std::vector<std::string> buses;
  for (const char* bus : {"i2c", "spi"}) {
    if (candidate.fixed() != nullptr && std::string(bus) != "i2c") continue;
    if (candidate.microcontroller()->peripherals.contains(std::string(bus) + "-controller")) {
      buses.emplace_back(bus);
    }
  }
  // By hand, on any two pins.
  if (buses.empty()) buses.emplace_back("i2c");
  return buses;
}

LinkTraffic link_traffic(const Context& context, const std::vector<EngineKind>& engine_of_block) {
  const study::PortFunction& function = context.study.function;
  const double bits = function.timing.message_bits.range.typical;
  constexpr double policy_bytes = 12;  // header of 2, two objects of 4, status of 2: chosen
  constexpr double aside_bytes = 1;    // at most one state byte for each message: chosen
  struct Step {
    Stage stage;
    double bytes;  // from the stage before
    bool is_at_line_rate = false;
  };
  const Step way[] = {{Stage::line, 0},
                      {Stage::packet, bits / 8, true},
                      {Stage::message, bits / symbols_of(function).wire_bits_per_byte, true},
                      {Stage::policy, policy_bytes}};
  LinkTraffic traffic;
  std::optional<EngineKind> before;
  for (const Step& step : way) {
    const auto engine = engine_of(function, engine_of_block, step.stage);
    if (!engine) continue;
    if (before && *before != *engine) {
      traffic.bytes += step.bytes;
      if (step.is_at_line_rate) traffic.bytes_at_line_rate += step.bytes;
    }
    before = engine;
  }
  for (std::size_t i = 0; i < function.blocks.size(); ++i) {
    const bool is_aside = stage_of(function.blocks[i]) == Stage::anywhere;
    if (is_aside && before && engine_of_block[i] != *before) traffic.bytes += aside_bytes;
  }
  return traffic;
}

std::variant<std::monostate, Link, NoLink> choose_link(const Context& context, const Candidate& candidate) {
  const auto& engines = candidate.engine_of_block;
  const bool is_needed = std::any_of(engines.begin(), engines.end(),
                                     [&](EngineKind engine) { return is_beyond(engine, candidate); });
  if (!is_needed) return std::monostate{};
  const LinkTraffic traffic = link_traffic(context, engines);
  const study::Timing& timing = context.study.function.timing;
  const double message_s = timing.message_bits.range.typical / timing.bit_rate.range.high;
  NoLink none;
  for (const std::string& bus : buses_between(context, candidate)) {
    const BlockUse controller = interface_of(bus, "controller");
    const double byte_s = controller.kind->bus(controller.settings).byte_s();
    const double answer_s = latency_s(context, candidate) + answer_bytes * byte_s;
    const auto late = late_block(context, candidate, answer_s);
    if (late) {
      none = {fmt::format("{} must answer within {}, but the way through the {} bus alone takes {}",
                          late->block->name, format_quantity(late->deadline_s, dimensions::time), bus,
                          format_quantity(answer_s, dimensions::time)),
              answer_s, late->deadline_s};
      continue;
    }
    const double transfer_s = traffic.bytes_at_line_rate * byte_s;
    if (transfer_s > message_s) {
      none = {fmt::format("a message of {} needs {:.0f} bytes over the {} bus, which take {}",
                          format_quantity(message_s, dimensions::time), traffic.bytes_at_line_rate, bus,
                          format_quantity(transfer_s, dimensions::time)),
              transfer_s, message_s};
      continue;
    }
    // With one line to ask for attention.
    return Link{bus, controller.kind->pins(controller.settings).total() + 1, byte_s, answer_s, traffic.bytes};
  }
  return none;
}

bool needs_link_blocks(const Context& context, const Candidate& candidate) {
  if (candidate.logic() == nullptr) return false;
  const auto& blocks = context.study.function.blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const bool is_interface =
        blocks[i].kind->stage == Stage::host_bus && candidate.engine_of_block[i] == EngineKind::fabric;
    if (is_interface && candidate.uses(EngineKind::host)) return false;
  }
  return true;
}

std::vector<BlockUse> link_blocks(const Link& link, LinkRole role) {
  return {interface_of(link.bus, role == LinkRole::target ? "target" : "controller"),
          use_of(blocks::register_bank(), {{"registers", "16"}, {"bits", "8"}, {"writable", "8"}})};
}

LinkRole role_of_fabric(const Candidate& candidate) {
  return candidate.fixed() != nullptr ? LinkRole::controller : LinkRole::target;
}

study::FunctionBlock link_controller(const Link& link) {
  const BlockUse use = interface_of(link.bus, "controller");
  study::FunctionBlock block;
  block.name = "link";
  block.kind = use.kind;
  block.settings = use.settings;
  block.layer = study::Layer::host;
  return block;
}

}  // namespace portweigh::options

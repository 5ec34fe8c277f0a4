// The kind `state-machine`: settings, choice of encoding, traffic and firmware run.
#include "blocks/state_machine/state_machine.hpp"

#include <fmt/core.h>

#include <memory>
#include <utility>

#include "blocks/event_recorder.hpp"
#include "blocks/state_machine/state_traffic.hpp"
#include "logic/cover/pack.hpp"

namespace portweigh::blocks {
namespace {

constexpr std::uint64_t firmware_steps = 4000;
constexpr std::uint64_t firmware_seed = 11;
// Messages come every few hundred microseconds; this is far denser, so activity is on the safe side.
constexpr std::uint64_t clocks_between_events = 16;

std::vector<Setting> declare_settings() {
  return {
      {"file", "state table (TOML); without it the sizes below describe the machine", TextDomain{""}},
      {"states", "number of states", IntegerDomain{2, 8, 250}},
      {"inputs", "inputs, the strobe that lets it step included", IntegerDomain{1, 8, 32}},
      {"outputs", "outputs, half levels of states and half strobes", IntegerDomain{0, 8, 64}},
      {"transitions", "arrows between states", IntegerDomain{1, 20, 2000}},
      {"encoding", "auto: binary in the ordinary style; the smaller of both in the factored one",
       ChoiceDomain{{"auto", "binary", "one-hot"}, "auto"}},
      {"style",
       "ordinary: state by state, as nested case statements; factored: what states have in common once",
       ChoiceDomain{{"ordinary", "factored"}, "ordinary"}},
  };
}

// The fewer logic cells with 4-input tables.
logic::Network smaller_network(const StateTable& table, StateMachineStyle style) {
  logic::Network binary = state_machine_network(table, StateEncoding::binary, style);
  logic::Network one_hot = state_machine_network(table, StateEncoding::one_hot, style);
  logic::Fabric fabric;
  fabric.lut_inputs = 4;
  fabric.carry_chain = logic::CarryChain::none;
  const auto size_of = [&](const logic::Network& network) {
    const logic::FabricCount count = logic::fit(network, fabric).count;
    return std::pair{count.cells, count.registers};
  };
  return size_of(one_hot) < size_of(binary) ? std::move(one_hot) : std::move(binary);
}

logic::Network network_of(const Settings& settings) {
  const StateTable table = state_table_of(settings);
  const std::string& encoding = settings.choice("encoding");
  const auto style =
      settings.choice("style") == "factored" ? StateMachineStyle::factored : StateMachineStyle::ordinary;
  if (encoding == "binary") return state_machine_network(table, StateEncoding::binary, style);
  if (encoding == "one-hot") return state_machine_network(table, StateEncoding::one_hot, style);
  // A synthesiser may recode to one-hot, but sources written in binary take no fewer tables for it
  // (docs/validation.md).
  if (style == StateMachineStyle::ordinary) {
    return state_machine_network(table, StateEncoding::binary, style);
  }
  return smaller_network(table, style);
}

// Drives a machine's inputs; every stream walks through the table by itself.
class MachineDrive {
 public:
  MachineDrive(StateTable table, TrafficState state, std::uint64_t seed)
      : table_(std::make_unique<StateTable>(std::move(table))), state_(state) {
    for (unsigned i = 0; i < logic::Simulator::streams; ++i) {
      walks_.emplace_back(*table_, seed * logic::Simulator::streams + i);
    }
  }

  void operator()(logic::Simulator& simulator, std::uint64_t clock) {
    if (clock == 0) find_inputs(simulator.network());
    simulator.set_lanes(reset_, clock == 0 ? ~std::uint64_t{0} : 0);
    if (state_ == TrafficState::idle || clock == 0) return;
    const std::uint64_t phase = clock % clocks_between_events;
    if (phase == 1) set_events(simulator);
    if (phase == 2) {
      for (const logic::Literal event : events_) simulator.set_lanes(event, 0);
    }
  }

 private:
  void find_inputs(const logic::Network& network) {
    const auto find = [&](const std::string& name) {
      for (const logic::NamedLiteral& input : network.inputs()) {
        if (input.name == name) return input.literal;
      }
      throw std::logic_error(fmt::format("no input {}", name));
    };
    reset_ = find("reset");
    events_.clear();
    conditions_.clear();
    for (const NamedItem& event : table_->events) events_.push_back(find(signal_name("event", event.name)));
    for (std::size_t i = 0; i < table_->external_conditions(); ++i) {
      conditions_.push_back(find(signal_name("is", table_->conditions[i].name)));
    }
  }

  void set_events(logic::Simulator& simulator) {
    std::vector<std::uint64_t> event_lanes(events_.size(), 0);
    std::vector<std::uint64_t> condition_lanes(conditions_.size(), 0);
    for (std::size_t stream = 0; stream < walks_.size(); ++stream) {
      const StateTraffic::Step step = walks_[stream].next();
      event_lanes[step.event] |= std::uint64_t{1} << stream;
      for (std::size_t i = 0; i < conditions_.size(); ++i) {
        condition_lanes[i] |= ((step.conditions >> i) & 1U) << stream;
      }
    }
    for (std::size_t i = 0; i < events_.size(); ++i) simulator.set_lanes(events_[i], event_lanes[i]);
    for (std::size_t i = 0; i < conditions_.size(); ++i)
      simulator.set_lanes(conditions_[i], condition_lanes[i]);
  }

  std::unique_ptr<StateTable> table_;  // the walks point at it
  TrafficState state_;
  std::vector<StateTraffic> walks_;
  logic::Literal reset_;
  std::vector<logic::Literal> events_;
  std::vector<logic::Literal> conditions_;
};

Drive drive_of(const Settings& settings, TrafficState state, std::uint64_t seed) {
  auto drive = std::make_shared<MachineDrive>(state_table_of(settings), state, seed);
  return [drive](logic::Simulator& simulator, std::uint64_t clock) { (*drive)(simulator, clock); };
}

FirmwareRun run_of(const Settings& settings, std::string_view method) {
  const StateTable table = state_table_of(settings);
  const auto form = method == "table" ? StateMachineMethod::flash_table : StateMachineMethod::nested_switch;
  EventRecorder recorder(state_machine_routine(table, form));
  StateTraffic traffic(table, firmware_seed);
  for (std::uint64_t i = 0; i < firmware_steps; ++i) {
    const StateTraffic::Step step = traffic.next();
    const auto event = static_cast<std::uint32_t>(step.event);
    if (table.external_conditions() > 0) {
      recorder.run({event, static_cast<std::uint32_t>(step.conditions)});
    } else {
      recorder.run({event});
    }
  }
  return std::move(recorder).finish();
}

}  // namespace

StateTable state_table_of(const Settings& settings) {
  const std::string& file = settings.choice("file");
  if (file.empty()) {
    const MachineSize size{settings.integer("states"), settings.integer("inputs"),
                           settings.integer("outputs"), settings.integer("transitions")};
    if (size.transitions + 1 < size.states) {
      throw SettingError(
          fmt::format("setting \"transitions\": {} can't reach {} states, expected at least {}",
                      size.transitions, size.states, size.states - 1));
    }
    return generate_state_table(size);
  }
  for (const char* const name : {"states", "inputs", "outputs", "transitions"}) {
    if (settings.was_set(name)) {
      throw SettingError(fmt::format(
          "setting \"{}\": the file \"{}\" says this, expected either \"file\" or sizes", name, file));
    }
  }
  return load_state_table(file);
}

Kind state_machine_kind() {
  Kind kind;
  kind.name = "state-machine";
  kind.summary = "state machine from a table of states, events, timers and actions, or by its size";
  kind.spread_class = "fsm";
  kind.settings = declare_settings();
  kind.network = network_of;
  kind.traffic = drive_of;
  kind.methods = {{"switch", {}}, {"table", {}}};
  kind.run = run_of;
  kind.check_files = [](const Settings& settings) {
    const std::filesystem::path file = settings.choice("file");
    if (std::filesystem::is_regular_file(file)) (void)load_state_table(file);
  };
  kind.event = always(Event::step);
  kind.pace = [](const Settings&) { return Pace{Event::step, clocks_between_events}; };
  kind.pins = [](const Settings&) { return Pins{}; };
  return kind;
}

}  // namespace portweigh::blocks

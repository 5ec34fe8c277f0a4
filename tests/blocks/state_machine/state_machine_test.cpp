// Network and routines of state machines do, step by step, what the plain interpreter StateWalk does.
#include "blocks/state_machine/state_machine.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>
#include <map>
#include <set>

#include "blocks/state_machine/state_traffic.hpp"
#include "firmware/execute.hpp"
#include "logic/cover/cover.hpp"
#include "logic/simulation/simulate.hpp"

using namespace portweigh;
using namespace portweigh::blocks;

namespace {

constexpr unsigned streams = logic::Simulator::streams;

const std::vector<std::string> catalog_tables = {
    "attachment-sink", "attachment-source", "attachment-dual-role", "message-transmit", "message-receive",
    "policy-sink",     "policy-source",     "alternate-mode",       "video-switch"};

StateTable load(const std::string& name) {
  return load_state_table(fmt::format("{}/state-machines/{}.toml", PORTWEIGH_CATALOG_DIR, name));
}

struct Form {
  StateEncoding encoding;
  StateMachineStyle style;
};

constexpr std::array<Form, 4> all_forms = {{{StateEncoding::binary, StateMachineStyle::ordinary},
                                            {StateEncoding::one_hot, StateMachineStyle::ordinary},
                                            {StateEncoding::binary, StateMachineStyle::factored},
                                            {StateEncoding::one_hot, StateMachineStyle::factored}}};

// A network with its inputs and outputs at hand.
class NetworkTwin {
 public:
  NetworkTwin(const StateTable& table, Form form)
      : table_(table),
        encoding_(form.encoding),
        net_(state_machine_network(table, form.encoding, form.style)),
        sim_(net_, logic::ToggleCounting::off) {
    sim_.set("reset", 1);
    sim_.clock();
    sim_.set("reset", 0);
    sim_.clock(4);
  }

  void set_event(std::size_t event, std::uint64_t lanes) {
    sim_.set_lanes(input(signal_name("event", table_.events[event].name)), lanes);
  }
  void set_condition(std::size_t condition, std::uint64_t lanes) {
    sim_.set_lanes(input(signal_name("is", table_.conditions[condition].name)), lanes);
  }
  // Runs until enter commands are out; notes which strobes came and which timers paused on the way.
  void settle() {
    strobes_.assign(table_.actions.size(), 0);
    pauses_.assign(table_.timers.size(), 0);
    for (int clock = 0; clock < 3; ++clock) {
      sim_.clock();
      for (std::size_t i = 0; i < table_.events.size(); ++i) set_event(i, 0);
      for (std::size_t i = 0; i < strobes_.size(); ++i) {
        strobes_[i] |= sim_.lanes(output(signal_name("do", table_.actions[i].name)));
      }
      for (std::size_t i = 0; i < pauses_.size(); ++i) {
        pauses_[i] |= ~sim_.lanes(output(signal_name("run", table_.timers[i].name)));
      }
    }
  }

  std::size_t state(unsigned stream) const {
    std::size_t binary = 0;
    std::size_t ones = 0;
    for (std::size_t i = 0; i < state_bits(); ++i) {
      if (!bit(output(state_name(i)), stream)) continue;
      ++ones;
      binary = encoding_ == StateEncoding::one_hot ? i : binary | std::size_t{1} << i;
    }
    if (encoding_ == StateEncoding::one_hot) REQUIRE(ones == 1);
    return binary;
  }
  std::set<std::size_t> strobes(unsigned stream) const {
    std::set<std::size_t> seen;
    for (std::size_t i = 0; i < strobes_.size(); ++i) {
      if (((strobes_[i] >> stream) & 1U) != 0) seen.insert(i);
    }
    return seen;
  }
  bool paused(std::size_t timer, unsigned stream) const { return ((pauses_[timer] >> stream) & 1U) != 0; }
  bool runs(std::size_t timer, unsigned stream) const {
    return bit(output(signal_name("run", table_.timers[timer].name)), stream);
  }
  bool holds_output(std::size_t index, unsigned stream) const {
    return bit(output(signal_name("set", table_.outputs[index].name)), stream);
  }
  logic::Simulator& sim() { return sim_; }

 private:
  std::size_t state_bits() const {
    return static_cast<std::size_t>(
        std::count_if(net_.outputs().begin(), net_.outputs().end(),
                      [](const auto& o) { return o.name.starts_with("state["); }));
  }
  static std::string state_name(std::size_t i) { return fmt::format("state[{}]", i); }
  bool bit(logic::Literal literal, unsigned stream) const {
    return ((sim_.lanes(literal) >> stream) & 1U) != 0;
  }
  static logic::Literal find(std::span<const logic::NamedLiteral> list, const std::string& name) {
    for (const auto& item : list) {
      if (item.name == name) return item.literal;
    }
    FAIL("no signal " << name);
    return {};
  }
  logic::Literal input(const std::string& name) { return cached(inputs_, net_.inputs(), name); }
  logic::Literal output(const std::string& name) const { return cached(outputs_, net_.outputs(), name); }
  static logic::Literal cached(std::map<std::string, logic::Literal>& known,
                               std::span<const logic::NamedLiteral> list, const std::string& name) {
    const auto found = known.find(name);
    return found != known.end() ? found->second : known.emplace(name, find(list, name)).first->second;
  }

  const StateTable& table_;
  StateEncoding encoding_;
  logic::Network net_;
  logic::Simulator sim_;
  std::vector<std::uint64_t> strobes_;
  std::vector<std::uint64_t> pauses_;
  std::map<std::string, logic::Literal> inputs_;
  mutable std::map<std::string, logic::Literal> outputs_;
};

void compare_stream(const StateTable& table, const NetworkTwin& twin, const StateTraffic& traffic,
                    const StateTraffic::Step& step, unsigned stream) {
  const State& state = table.states[traffic.walk().state()];
  std::set<std::size_t> expected;
  for (const Command& command : step.commands) {
    if (command.kind == CommandKind::act) expected.insert(command.index);
    if (command.kind == CommandKind::start) REQUIRE(twin.paused(command.index, stream));
  }
  REQUIRE(twin.state(stream) == traffic.walk().state());
  REQUIRE(twin.strobes(stream) == expected);
  for (std::size_t i = 0; i < table.timers.size(); ++i) {
    CAPTURE(table.timers[i].name);
    REQUIRE(twin.runs(i, stream) == traffic.walk().is_running(i));
  }
  for (std::size_t i = 0; i < table.outputs.size(); ++i) {
    const bool is_held = std::find(state.outputs.begin(), state.outputs.end(), i) != state.outputs.end();
    REQUIRE(twin.holds_output(i, stream) == is_held);
  }
}

// `rounds` events in each of 64 independent walks. Gives the states seen.
std::size_t compare_network(const StateTable& table, Form form, int rounds) {
  NetworkTwin twin(table, form);
  std::vector<StateTraffic> traffic;
  for (unsigned stream = 0; stream < streams; ++stream) traffic.emplace_back(table, 1000 + stream);
  std::set<std::size_t> seen;
  for (int round = 0; round < rounds; ++round) {
    std::vector<StateTraffic::Step> steps;
    std::vector<std::uint64_t> events(table.events.size(), 0);
    std::vector<std::uint64_t> conditions(table.external_conditions(), 0);
    for (unsigned stream = 0; stream < streams; ++stream) {
      const std::size_t before = traffic[stream].walk().state();
      steps.push_back(traffic[stream].next());
      events[steps.back().event] |= std::uint64_t{1} << stream;
      for (std::size_t i = 0; i < conditions.size(); ++i) {
        conditions[i] |= ((steps.back().conditions >> i) & 1U) << stream;
      }
      seen.insert(before);
    }
    for (std::size_t i = 0; i < events.size(); ++i) twin.set_event(i, events[i]);
    for (std::size_t i = 0; i < conditions.size(); ++i) twin.set_condition(i, conditions[i]);
    twin.settle();
    for (unsigned stream = 0; stream < streams; ++stream) {
      CAPTURE(round, stream, table.events[steps[stream].event].name);
      compare_stream(table, twin, traffic[stream], steps[stream], stream);
    }
  }
  return seen.size();
}

// Port writes of one step: which port, what was written.
using Writes = std::vector<std::pair<CommandKind, std::size_t>>;

Writes expected_writes(const std::vector<Command>& commands) {
  Writes writes;
  for (const Command& command : commands) {
    if (command.kind != CommandKind::count && command.kind != CommandKind::clear) {
      writes.emplace_back(command.kind, command.index);
    }
  }
  return writes;
}

void compare_routine(const StateTable& table, StateMachineMethod method, int rounds) {
  const firmware::Routine routine = state_machine_routine(table, method);
  firmware::Machine machine(routine);
  Writes writes;
  const auto note = [&](CommandKind kind) {
    return [&writes, kind](std::uint32_t value) { writes.emplace_back(kind, value); };
  };
  if (!table.actions.empty()) machine.on_write("action", note(CommandKind::act));
  if (!table.timers.empty()) {
    machine.on_write("timer_start", note(CommandKind::start));
    machine.on_write("timer_stop", note(CommandKind::stop));
  }
  std::uint32_t levels = 0;
  for (const std::size_t output : table.states[0].outputs) levels |= 1U << output;
  if (!table.outputs.empty()) machine.on_write("outputs", [&](std::uint32_t value) { levels = value; });
  StateTraffic traffic(table, 77);
  for (int round = 0; round < rounds; ++round) {
    const StateTraffic::Step step = traffic.next();
    CAPTURE(round, table.events[step.event].name);
    writes.clear();
    std::vector<std::uint32_t> arguments = {static_cast<std::uint32_t>(step.event)};
    if (table.external_conditions() > 0) arguments.push_back(static_cast<std::uint32_t>(step.conditions));
    machine.run(arguments);
    const State& state = table.states[traffic.walk().state()];
    REQUIRE(machine.get("state") == traffic.walk().state());
    REQUIRE(writes == expected_writes(step.commands));
    std::uint32_t expected_levels = 0;
    for (const std::size_t output : state.outputs) expected_levels |= 1U << output;
    REQUIRE(levels == expected_levels);
    for (std::size_t i = 0; i < table.counters.size(); ++i) {
      const std::uint32_t counter = method == StateMachineMethod::nested_switch
                                        ? machine.get("counter_" + table.counters[i].name)
                                        : machine.element("counters", i);
      REQUIRE(counter == traffic.walk().counters()[i]);
    }
  }
}

Settings settings_with(const std::vector<std::pair<std::string, std::string>>& values) {
  Settings settings = Settings::standard(state_machine_kind().settings);
  for (const auto& [name, value] : values) settings.set(name, std::string_view(value));
  return settings;
}

}  // namespace

TEST_CASE("Networks of all tables follow the interpreter and reach nearly all states") {
  for (const std::string& name : catalog_tables) {
    const StateTable table = load(name);
    for (const Form form : all_forms) {
      CAPTURE(name, form.encoding == StateEncoding::one_hot, form.style == StateMachineStyle::ordinary);
      const std::size_t seen = compare_network(table, form, 150);
      CHECK(10 * seen >= 8 * table.states.size());
    }
  }
}

TEST_CASE("Routines of all tables follow the interpreter") {
  for (const std::string& name : catalog_tables) {
    const StateTable table = load(name);
    CAPTURE(name);
    compare_routine(table, StateMachineMethod::nested_switch, 3000);
    compare_routine(table, StateMachineMethod::flash_table, 3000);
  }
}

TEST_CASE("Machines by size work over the whole range") {
  const std::vector<MachineSize> sizes = {{2, 1, 0, 1},    {2, 1, 1, 2},    {2, 32, 64, 2},
                                          {4, 9, 4, 10},   {8, 8, 8, 20},   {9, 1, 3, 8},
                                          {16, 8, 16, 60}, {33, 12, 1, 90}, {250, 32, 64, 2000}};
  for (const MachineSize& size : sizes) {
    CAPTURE(size.states, size.inputs, size.outputs, size.transitions);
    const StateTable table = generate_state_table(size);
    CHECK(table.states.size() == size.states);
    CHECK(table.outputs.size() + table.actions.size() == size.outputs);
    CHECK(table.reaction_count() == std::min(size.transitions, size.states * size.inputs));
    const int rounds = size.states > 100 ? 30 : 80;
    for (const Form form : all_forms) compare_network(table, form, rounds);
    compare_routine(table, StateMachineMethod::nested_switch, 500);
    compare_routine(table, StateMachineMethod::flash_table, 500);
  }
}

TEST_CASE("An event goes before a timer that expires in the same clock, and the stale timer does nothing") {
  const StateTable table = load("message-transmit");
  for (const Form form : all_forms) {
    NetworkTwin twin(table, form);
    const std::uint64_t all = ~std::uint64_t{0};
    twin.set_condition(table.condition("may-start"), all);
    twin.set_condition(table.condition("number-fits"), all);
    for (const char* const event : {"message-wanted", "line-idle", "frame-sent"}) {
      twin.set_event(table.event(event), all);
      twin.settle();
    }
    REQUIRE(twin.state(0) == table.state("waiting-for-acknowledge"));
    // A level that stays up until the run signal has fallen.
    twin.set_event(table.event("acknowledge-wait-timeout"), all);
    twin.set_event(table.event("acknowledge"), all);
    twin.sim().clock();
    twin.set_event(table.event("acknowledge"), 0);
    CHECK(twin.state(0) == table.state("idle"));
    CHECK(twin.sim().value("do_report_sent") == 1);
    CHECK(twin.sim().value("run_acknowledge_wait") == 0);
    twin.sim().clock();
    CHECK(twin.state(0) == table.state("idle"));
    CHECK(twin.sim().value("do_report_failed") == 0);
  }
}

TEST_CASE("A timer's level from before a restart doesn't count") {
  const StateTable table = load("attachment-sink");
  for (const Form form : all_forms) {
    NetworkTwin twin(table, form);
    const std::uint64_t all = ~std::uint64_t{0};
    twin.set_event(table.event("source-seen"), all);
    twin.settle();
    REQUIRE(twin.runs(0, 0));
    twin.set_event(table.event("debounce-timeout"), all);
    twin.sim().clock();  // no bus voltage: the state is entered anew, the level is still up
    twin.set_condition(table.condition("vbus-present"), all);
    twin.sim().clock();
    twin.set_event(table.event("debounce-timeout"), 0);
    twin.sim().clock();
    CHECK(twin.state(0) == table.state("attach-wait"));
    twin.set_event(table.event("debounce-timeout"), all);
    twin.settle();
    CHECK(twin.state(0) == table.state("attached"));
  }
}

namespace {

// What no table of the catalog has: a count beyond the limit, a timer whose expiry stays in its state, an
// action of the first state.
const char* const corner_table = R"(name = "corner"
summary = "corner cases"
source = "invented"
initial = "rest"
[events]
go = "go"
back = "back"
[conditions]
really = "really"
[actions]
hello = "on entering"
blink = "on expiry"
full = "counter at its limit"
[timers.tick]
duration = "1 s"
[counters.n]
limit = 2
[[state]]
name = "rest"
enter = ["hello"]
on = [{ event = "go", to = "work", do = ["clear n"] }]
ignore = ["back"]
[[state]]
name = "work"
timers = ["tick"]
on = [
  { event = "tick-timeout", do = ["blink"] },
  { event = "go", when = "n-reached and really", do = ["full", "count n"] },
  { event = "go", when = "not n-reached", do = ["count n"] },
  { event = "go", when = "n-reached and not really", do = ["count n"] },
  { event = "back", to = "rest" },
]
)";

}  // namespace

TEST_CASE("Counters stay at their limit, and a timer that expired rests until it is started again") {
  const StateTable table = parse_state_table(corner_table, "corner.toml");
  CHECK_FALSE(table.timers[0].is_scoped);
  for (const Form form : all_forms) compare_network(table, form, 300);
  compare_routine(table, StateMachineMethod::nested_switch, 3000);
  compare_routine(table, StateMachineMethod::flash_table, 3000);
}

TEST_CASE("A counter at its limit doesn't wrap in any twin") {
  const StateTable table = parse_state_table(corner_table, "corner.toml");
  for (const Form form : all_forms) {
    NetworkTwin twin(table, form);
    const std::uint64_t all = ~std::uint64_t{0};
    twin.set_condition(0, all);
    const auto go = [&] {
      twin.set_event(table.event("go"), all);
      twin.settle();
    };
    for (int i = 0; i < 3; ++i) go();  // into the state, then to the limit
    CHECK(twin.strobes(0).empty());
    for (int i = 0; i < 3; ++i) {
      go();
      CHECK(twin.strobes(0) == std::set<std::size_t>{2});
    }
  }
}

TEST_CASE("Reset brings the machine back and carries out the first state's enter commands") {
  const StateTable table = parse_state_table(corner_table, "corner.toml");
  for (const Form form : all_forms) {
    NetworkTwin twin(table, form);
    twin.set_event(table.event("go"), ~std::uint64_t{0});
    twin.settle();
    CHECK(twin.state(5) == table.state("work"));
    CHECK(twin.runs(0, 5));
    twin.sim().set("reset", 1);
    twin.sim().clock();
    twin.sim().set("reset", 0);
    CHECK(twin.state(5) == 0);
    CHECK_FALSE(twin.runs(0, 5));
    CHECK(twin.sim().value("do_hello") == 0);
    twin.settle();
    CHECK(twin.strobes(5) == std::set<std::size_t>{0});
  }
}

TEST_CASE("The encoding that takes fewer cells is kept") {
  const Kind kind = state_machine_kind();
  const auto registers = [&](const char* encoding) {
    return kind.network(settings_with({{"encoding", encoding}, {"states", "12"}, {"transitions", "30"}}))
        .registers()
        .size();
  };
  CHECK(registers("binary") == 4 + 8);
  CHECK(registers("one-hot") == 12 + 8);
  const auto luts = [&](const char* encoding) {
    const logic::Network net =
        kind.network(settings_with({{"encoding", encoding}, {"states", "12"}, {"transitions", "30"}}));
    return logic::cover(net, {}).luts.size();
  };
  CHECK(luts("auto") <= std::max(luts("binary"), luts("one-hot")));
}

TEST_CASE("Settings of a state machine that contradict each other are refused") {
  const Kind kind = state_machine_kind();
  CHECK_THROWS_WITH(kind.network(settings_with({{"states", "20"}, {"transitions", "10"}})),
                    "setting \"transitions\": 10 can't reach 20 states, expected at least 19");
  CHECK_THROWS_WITH(kind.network(settings_with({{"file", "x.toml"}, {"states", "20"}})),
                    "setting \"states\": the file \"x.toml\" says this, expected either \"file\" or sizes");
}

TEST_CASE("Traffic reaches the machine, and an idle machine rests") {
  const Kind kind = state_machine_kind();
  const std::string file = std::string(PORTWEIGH_CATALOG_DIR) + "/state-machines/policy-sink.toml";
  const Settings settings = settings_with({{"file", file}});
  const logic::Network net = kind.network(settings);
  const auto toggles = [&](TrafficState state) {
    logic::Simulator sim(net);
    const Drive drive = kind.traffic(settings, state, 1);
    std::uint64_t sum = 0;
    for (std::uint64_t clock = 0; clock < 600; ++clock) {
      drive(sim, clock);
      sim.clock();
      if (clock == 10) sim.reset_toggles();
    }
    for (std::uint32_t node = 0; node < net.size(); ++node) sum += sim.toggles(node);
    return sum;
  };
  CHECK(toggles(TrafficState::idle) == 0);
  CHECK(toggles(TrafficState::active) > 10000);
}

TEST_CASE("The firmware run counts steps and the longest one") {
  const Kind kind = state_machine_kind();
  for (const Method& method : kind.methods) {
    const FirmwareRun run = kind.run(settings_with({}), method.name);
    CHECK(run.events == 4000);
    CHECK(run.counts.events == run.events);
    CHECK(run.paths.front().events == 1);
  }
}

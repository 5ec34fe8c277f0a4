// Line codes: settings, traffic, runs, pins. Networks in line_code_network.cpp and line_code_encoder.cpp,
// routines in line_code_routine.cpp and line_code_send_routine.cpp.
//
// Tested by tests/blocks/line/line_code_test.cpp and line_code_routine_test.cpp.
#include "blocks/line/line_code.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <memory>
#include <random>
#include <utility>
#include <vector>

#include "blocks/event_recorder.hpp"
#include "blocks/line/line_source.hpp"
#include "blocks/random_traffic.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned recorded_bits = 4 * 429;

bool is_encoder(const Settings& settings) {
  return settings.choice("direction") == "encode";
}

unsigned oversampling_of(const Settings& settings) {
  return static_cast<unsigned>(settings.integer("oversampling"));
}

std::vector<Setting> line_code_settings() {
  return {{"code", "how bits become transitions",
           ChoiceDomain{{"biphase-mark", "manchester", "nrzi", "nrz"}, "biphase-mark"}},
          {"direction", "to the wire or from it", ChoiceDomain{{"encode", "decode"}, "decode"}},
          {"oversampling", "samples a bit, of the decoder; the clock of both", IntegerDomain{4, 8, 64}},
          {"bit_rate", "bits a second on the wire", FrequencyDomain{1e3, 300e3, 100e6}}};
}

// Every stream its own frames, sampled by a clock of `oversampling` times the bit rate.
Drive decoder_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  const LineCode code = line_code(settings);
  const unsigned oversampling = oversampling_of(settings);
  std::vector<LineSource> sources;
  for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
    sources.emplace_back(code, seed * logic::Simulator::streams + stream);
  }
  return [=, sources = std::move(sources)](logic::Simulator& simulator, std::uint64_t clock) mutable {
    const bool is_running = state == TrafficState::active && clock != 0;
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("enable", is_running ? 1 : 0);
    const std::uint64_t phase = (clock + oversampling - 1) % oversampling;
    if (!is_running || (phase != 0 && phase != oversampling / 2)) return;
    for (unsigned stream = 0; stream < sources.size(); ++stream) {
      simulator.set("line", stream, sources[stream].next_half() ? 1 : 0);
    }
  };
}

// A tick every half cell (or bit), data renewed in time for the next bit.
Drive encoder_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  const unsigned period = oversampling_of(settings) / half_cells(line_code(settings));
  return [=, random = std::mt19937_64(seed), data = RandomInput("data")](logic::Simulator& simulator,
                                                                         std::uint64_t clock) mutable {
    const bool is_running = state == TrafficState::active && clock != 0;
    simulator.set("reset", clock == 0 ? 1 : 0);
    simulator.set("transmit", is_running ? 1 : 0);
    const bool is_tick = is_running && clock % period == 0;
    simulator.set("enable", is_tick ? 1 : 0);
    if (is_tick) data.set(simulator, random);
  };
}

struct Edge {
  std::uint32_t time = 0;  // timer counts
  bool level = false;      // after it
};

std::vector<Edge> record_edges(LineCode code) {
  constexpr unsigned start = 1000;
  LineSource source(code, 1);
  std::vector<Edge> edges;
  bool level = false;
  for (unsigned half = 0; half < 2 * recorded_bits; ++half) {
    const bool next = source.next_half();
    if (next != level) edges.push_back({(start + half * timer_counts_per_bit / 2) & 0xFFFFU, next});
    level = next;
  }
  return edges;
}

FirmwareRun run_edges(LineCode code, std::string_view method) {
  EventRecorder recorder(line_decode_routine(code, method));
  Edge edge;
  recorder.machine().on_read(method == "capture" ? "capture" : "timer", [&] { return edge.time; });
  if (code == LineCode::manchester || code == LineCode::nrz) {
    recorder.machine().on_read("pin", [&] { return edge.level ? 1U : 0U; });
  }
  for (const Edge& next : record_edges(code)) {
    edge = next;
    recorder.run();
  }
  return std::move(recorder).finish();
}

// One activation serves `events` events: counts per event follow by division.
FirmwareRun shared_among(FirmwareRun run, unsigned events) {
  run.events *= events;
  run.counts.events *= events;
  for (firmware::Counts& counts : run.paths) counts.events *= events;
  return run;
}

FirmwareRun run_batches(LineCode code) {
  EventRecorder recorder(line_decode_routine(code, "capture-dma"));
  const std::vector<Edge> edges = record_edges(code);
  for (std::size_t at = 0; at + edges_per_batch <= edges.size(); at += edges_per_batch) {
    for (std::size_t i = 0; i < edges_per_batch; ++i) {
      recorder.machine().set_element("stamps", i, edges[at + i].time);
    }
    recorder.run({edges_per_batch});
  }
  return shared_among(std::move(recorder).finish(), edges_per_batch);
}

void take_off(firmware::Counts& counts, const firmware::Counts& once, std::uint64_t times) {
  for (std::size_t i = 0; i < counts.statements.size(); ++i)
    counts.statements[i] -= times * once.statements[i];
  for (std::size_t i = 0; i < counts.sites.size(); ++i) counts.sites[i] -= times * once.sites[i];
}

// The loop as it turns: without what it does once for a message. Each edge comes just after the line was looked
// at, so a turn in vain goes before it.
FirmwareRun run_polling(LineCode code) {
  EventRecorder recorder(line_decode_routine(code, "polled"));
  Edge edge;
  unsigned looks = 0;
  recorder.machine().on_read("timer", [&] { return edge.time; });
  recorder.machine().on_read("pin", [&] { return (++looks > 1) == edge.level ? 1U : 0U; });
  for (const Edge& next : record_edges(code)) {
    edge = next;
    looks = 0;
    recorder.run({1});
  }
  FirmwareRun run = std::move(recorder).finish();
  firmware::Machine idle(run.routine);
  idle.run({0});
  take_off(run.counts, idle.counts(), run.events);
  for (firmware::Counts& path : run.paths) take_off(path, idle.counts(), 1);
  return run;
}

FirmwareRun run_half_cells(LineCode code, std::string_view method) {
  EventRecorder recorder(line_encode_routine(code, method));
  std::mt19937_64 random(1);
  firmware::Machine& machine = recorder.machine();
  const bool is_serial = method == "bit-serial-port";
  const unsigned events = recorded_bits * half_cells(code) / (is_serial ? 8 : 1);
  for (unsigned i = 0; i < events; ++i) {
    if (machine.get("head") == machine.get("tail")) {
      const std::uint32_t head = machine.get("head");
      machine.set_element("queue", head % line_queue_bytes, static_cast<std::uint32_t>(random() & 0xFFU));
      machine.set("head", (head + 1) & 0xFFU);
    }
    recorder.run();
  }
  FirmwareRun run = std::move(recorder).finish();
  return shared_among(std::move(run), is_serial ? 8 : 1);
}

FirmwareRun run_line_code(const Settings& settings, std::string_view method) {
  const LineCode code = line_code(settings);
  if (is_encoder(settings)) return run_half_cells(code, method);
  if (method == "polled") return run_polling(code);
  return method == "capture-dma" ? run_batches(code) : run_edges(code, method);
}

bool offers_method(const Settings& settings, std::string_view method) {
  const bool is_sending =
      method == "timer-compare" || method == "bit-serial-port" || method == "timer-interrupt";
  return is_sending == is_encoder(settings);
}

}  // namespace

LineCode line_code(const Settings& settings) {
  const std::string& name = settings.choice("code");
  if (name == "biphase-mark") return LineCode::biphase_mark;
  if (name == "manchester") return LineCode::manchester;
  return name == "nrzi" ? LineCode::nrzi : LineCode::nrz;
}

LineFacts facts_of(LineCode code) {
  switch (code) {
    case LineCode::biphase_mark:
      return {.cells = 2, .edges_of_bit = 1, .edges_of_one = 1, .most_edges_of_0 = 1, .most_edges_of_1 = 2};
    case LineCode::manchester:
      return {
          .cells = 2, .edges_of_bit = 2, .edges_of_change = -1, .most_edges_of_0 = 2, .most_edges_of_1 = 2};
    case LineCode::nrzi:
      return {.cells = 1, .edges_of_bit = 1, .edges_of_one = -1, .most_edges_of_0 = 1, .most_edges_of_1 = 0};
    case LineCode::nrz:
      break;
  }
  return {.cells = 1, .edges_of_change = 1, .most_edges_of_0 = 1, .most_edges_of_1 = 1};
}

unsigned half_cells(LineCode code) {
  return code == LineCode::biphase_mark || code == LineCode::manchester ? 2 : 1;
}

Kind line_code_kind() {
  Kind kind;
  kind.name = "line-code";
  kind.summary = "bits to transitions on a wire and back: biphase-mark, manchester, nrzi, nrz";
  kind.spread_class = "line-code";
  kind.settings = line_code_settings();
  kind.network = [](const Settings& settings) {
    return is_encoder(settings) ? line_encoder(line_code(settings))
                                : line_decoder(line_code(settings), oversampling_of(settings));
  };
  kind.traffic = [](const Settings& settings, TrafficState state, std::uint64_t seed) {
    return is_encoder(settings) ? encoder_traffic(settings, state, seed)
                                : decoder_traffic(settings, state, seed);
  };
  kind.methods = {{"per-edge", {"edge-interrupt"}},        {"capture", {"capture"}},
                  {"capture-dma", {"capture", "dma"}},     {"polled", {}, true},
                  {"timer-compare", {"compare-output"}},   {"timer-interrupt", {}},
                  {"bit-serial-port", {"bit-serial-port"}}};
  kind.offers = offers_method;
  kind.run = run_line_code;
  kind.event = [](const Settings& settings) { return is_encoder(settings) ? Event::half_cell : Event::edge; };
  kind.pace = [](const Settings& settings) {
    const LineFacts facts = facts_of(line_code(settings));
    const double clocks_per_bit = oversampling_of(settings);
    if (is_encoder(settings)) return Pace{Event::half_cell, clocks_per_bit / facts.cells};
    return Pace{Event::edge, clocks_per_bit / mean_edges(facts, {})};
  };
  kind.stage = Stage::line;
  kind.line = [](const Settings& settings) { return facts_of(line_code(settings)); };
  kind.pins = [](const Settings& settings) {
    // The wire itself belongs to the analogue front end where several blocks share it.
    return is_encoder(settings) ? Pins{.digital_outputs = 2} : Pins{.digital_inputs = 1};
  };
  return kind;
}

}  // namespace portweigh::blocks

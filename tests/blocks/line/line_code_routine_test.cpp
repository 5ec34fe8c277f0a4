// Line codes in firmware against the bits on the wire, and against the networks on the same wire.
#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <random>
#include <string>
#include <vector>

#include "blocks/line/line_code.hpp"
#include "blocks/line/line_source.hpp"
#include "firmware/execute.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

const std::vector<LineCode> all_codes{LineCode::biphase_mark, LineCode::manchester, LineCode::nrzi,
                                      LineCode::nrz};

struct Edge {
  std::uint32_t time;
  bool level;
};

struct Traffic {
  std::vector<Edge> edges;
  std::vector<bool> samples;  // 8 a bit
  std::string bits;
};

// `scale` stretches the wire's bit, in parts of the nominal one; every edge moves by up to `jitter` counts.
Traffic make_traffic(LineCode code, unsigned bits, double scale, unsigned jitter) {
  LineSource source(code, 21);
  std::mt19937_64 random(22);
  Traffic traffic;
  traffic.samples.assign(200, false);
  bool level = false;
  for (unsigned half = 0; half < 2 * bits; ++half) {
    const bool next = source.next_half();
    if (next != level) {
      const double time = 2000 + half * (timer_counts_per_bit / 2.0) * scale;
      traffic.edges.push_back(
          {static_cast<std::uint32_t>(time + static_cast<double>(random() % (jitter + 1))) & 0xFFFFU, next});
    }
    traffic.samples.insert(traffic.samples.end(), 4, next);
    level = next;
  }
  for (const bool bit : source.bits()) traffic.bits += bit ? '1' : '0';
  return traffic;
}

class Receiver {
 public:
  Receiver(LineCode code, std::string_view method)
      : routine_(line_decode_routine(code, method)),
        machine_(routine_),
        is_batch_(method == "capture-dma"),
        is_polling_(method == "polled") {
    if (is_batch_) return;
    // Three looks in vain before each edge.
    if (is_polling_) machine_.on_read("pin", [this] { return (++looks_ > 3) == edge_.level ? 1U : 0U; });
    machine_.on_read(method == "capture" ? "capture" : "timer", [this] { return edge_.time; });
    const bool asks_level = code == LineCode::manchester || code == LineCode::nrz;
    if (asks_level && !is_polling_) machine_.on_read("pin", [this] { return edge_.level ? 1U : 0U; });
  }

  std::string receive(const std::vector<Edge>& edges) {
    std::vector<Edge> batch;
    for (const Edge& edge : edges) {
      if (!is_batch_) {
        edge_ = edge;
        looks_ = 0;
        is_polling_ ? machine_.run({1}) : machine_.run();
        collect();
        continue;
      }
      machine_.set_element("stamps", batch.size(), edge.time);
      batch.push_back(edge);
      if (batch.size() == edges_per_batch || &edge == &edges.back()) {
        machine_.run({static_cast<std::uint32_t>(batch.size())});
        batch.clear();
        collect();
      }
    }
    return bits_;
  }
  std::uint32_t violations() const { return machine_.get("violations"); }

 private:
  void collect() {
    for (; tail_ != machine_.get("head"); tail_ = (tail_ + 1) & 0xFFU) {
      const auto byte = machine_.element("queue", tail_ % line_queue_bytes);
      for (unsigned i = 0; i < 8; ++i) bits_ += (byte >> i & 1U) != 0 ? '1' : '0';
    }
  }

  firmware::Routine routine_;
  firmware::Machine machine_;
  bool is_batch_;
  bool is_polling_;
  unsigned looks_ = 0;
  Edge edge_{0, false};
  std::uint32_t tail_ = 0;
  std::string bits_;
};

std::string through_network(LineCode code, const std::vector<bool>& samples) {
  const auto network = line_decoder(code, 8);
  logic::Simulator simulator(network, logic::ToggleCounting::off);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  simulator.set("enable", 1);
  std::string bits;
  for (const bool sample : samples) {
    simulator.set("line", sample);
    simulator.clock();
    if (simulator.value("bit_valid") != 0) bits += simulator.value("bit") != 0 ? '1' : '0';
  }
  return bits;
}

class Sender {
 public:
  Sender(LineCode code, std::string_view method)
      : routine_(line_encode_routine(code, method)),
        machine_(routine_),
        is_serial_(method == "bit-serial-port") {
    const char* port = is_serial_ ? "data" : method == "timer-compare" ? "action" : "output";
    machine_.on_write(port, [this](std::uint32_t value) {
      for (unsigned i = 0; i < (is_serial_ ? 8U : 1U); ++i) levels_ += (value >> i & 1U) != 0 ? '1' : '0';
    });
    if (method == "timer-compare") {
      machine_.on_read("compare", [this] { return compare_; });
      machine_.on_write("compare", [this](std::uint32_t value) {
        steps_.push_back((value - compare_) & 0xFFFFU);
        compare_ = value;
      });
    }
  }

  // All levels from the first event to the end of the frame.
  std::string send(const std::vector<unsigned>& bytes) {
    std::size_t next = 0;
    machine_.set("active", 1);
    while (machine_.get("active") != 0) {
      while (next < bytes.size() &&
             ((machine_.get("head") - machine_.get("tail")) & 0xFFU) < line_queue_bytes) {
        const std::uint32_t head = machine_.get("head");
        machine_.set_element("queue", head % line_queue_bytes, bytes[next++]);
        machine_.set("head", (head + 1) & 0xFFU);
      }
      machine_.run();
    }
    machine_.run();  // puts out what the last event prepared
    return levels_;
  }
  const std::vector<std::uint32_t>& steps() const { return steps_; }

 private:
  firmware::Routine routine_;
  firmware::Machine machine_;
  bool is_serial_;
  std::string levels_;
  std::uint32_t compare_ = 0xFFF0;
  std::vector<std::uint32_t> steps_;
};

// Levels by the definitions: halves of a bit, or bits for nrzi and nrz.
std::string levels_of(LineCode code, const std::vector<unsigned>& bytes) {
  std::string levels;
  bool level = false;
  const auto put = [&](bool next) {
    level = next;
    levels += next ? '1' : '0';
  };
  for (std::size_t i = 0; i < 8 * bytes.size(); ++i) {
    const bool bit = (bytes[i / 8] >> (i % 8) & 1U) != 0;
    switch (code) {
      case LineCode::biphase_mark:
        put(!level);
        put(level != bit);
        break;
      case LineCode::manchester:
        put(!bit);
        put(bit);
        break;
      case LineCode::nrzi:
        put(level == bit);
        break;
      case LineCode::nrz:
        put(bit);
        break;
    }
  }
  return levels;
}

}  // namespace

TEST_CASE("the edge handlers and the batch loop recover the bits, as the networks do") {
  for (const LineCode code : all_codes) {
    const Traffic traffic = make_traffic(code, 1000, 1.0, 0);
    const std::string from_network = through_network(code, traffic.samples);
    for (const char* method : {"per-edge", "capture", "capture-dma", "polled"}) {
      CAPTURE(static_cast<int>(code), method);
      Receiver receiver(code, method);
      const std::string bits = receiver.receive(traffic.edges);
      CHECK(bits.size() > 980);
      CHECK(receiver.violations() == 0);
      CHECK(traffic.bits.find(bits.substr(0, 976)) < 3);
      CHECK(from_network.substr(0, 976) == bits.substr(0, 976));
    }
  }
}

TEST_CASE("ten percent of rate error and jitter of five counts in 48") {
  for (const LineCode code : {LineCode::biphase_mark, LineCode::manchester}) {
    for (const double scale : {300.0 / 270, 300.0 / 330}) {
      const Traffic traffic = make_traffic(code, 1000, scale, 5);
      Receiver receiver(code, "capture");
      CHECK(traffic.bits.find(receiver.receive(traffic.edges).substr(0, 976)) < 3);
      CHECK(receiver.violations() == 0);
    }
  }
}

TEST_CASE("a missing transition is a violation in firmware too") {
  const Traffic traffic = make_traffic(LineCode::biphase_mark, 200, 1.0, 0);
  auto edges = traffic.edges;
  edges.erase(edges.begin() + 40);  // the start of a 1 in the preamble: 0, 1 have three edges
  Receiver receiver(LineCode::biphase_mark, "per-edge");
  receiver.receive(edges);
  CHECK(receiver.violations() >= 1);
}

TEST_CASE("senders put out the levels of their code, by timer or by byte") {
  std::vector<unsigned> bytes;
  std::mt19937_64 random(31);
  for (unsigned i = 0; i < 100; ++i) bytes.push_back(static_cast<unsigned>(random() & 0xFFU));
  for (const LineCode code : all_codes) {
    const std::string expected = levels_of(code, bytes);
    for (const char* method : {"timer-interrupt", "timer-compare", "bit-serial-port"}) {
      CAPTURE(static_cast<int>(code), method);
      Sender sender(code, method);
      const std::string levels = sender.send(bytes);
      // The first event puts out the idle level: one half cell, or eight through the serial port.
      const std::size_t lead = std::string_view(method) == "bit-serial-port" ? 8 : 1;
      CHECK(levels.substr(0, lead).find('1') == std::string::npos);
      CHECK(levels.substr(lead, expected.size()) == expected);
      if (code == LineCode::biphase_mark) {
        REQUIRE(levels.size() > lead + expected.size());
        CHECK(levels[lead + expected.size()] != expected.back());  // clocks the last bit in
      }
      for (const std::uint32_t step : sender.steps()) CHECK(step == timer_counts_per_bit / half_cells(code));
    }
  }
}

TEST_CASE("each direction offers its own methods") {
  const Kind kind = line_code_kind();
  auto settings = Settings::standard(kind.settings);
  CHECK(kind.offered_methods(settings).front().name == "per-edge");
  CHECK(kind.offered_methods(settings).size() == 4);
  settings.set("direction", "encode");
  CHECK(kind.offered_methods(settings).front().name == "timer-compare");
  CHECK(kind.offered_methods(settings).size() == 3);
  CHECK_THROWS_AS(kind.run(settings, "per-edge"), SettingError);
  const FirmwareRun serial = kind.run(settings, "bit-serial-port");
  CHECK(serial.counts.events == serial.events);
  CHECK(serial.paths.front().events == 8);
}

TEST_CASE("an edge that is polled for is charged one look in vain, and nothing that is done once a message") {
  const Kind kind = line_code_kind();
  const FirmwareRun run = kind.run(Settings::standard(kind.settings), "polled");
  firmware::Machine machine(run.routine);
  machine.run({0});
  const firmware::Counts once = machine.counts();
  bool level = true;
  unsigned looks = 0;
  machine.on_read("pin", [&] { return (++looks > 1) == level ? 1U : 0U; });
  machine.on_read("timer", [&] { return 1000U; });
  machine.clear_counts();
  machine.run({1});
  // The first edge after silence; with what is done once it is one of the run's paths.
  std::vector<std::uint64_t> first = machine.counts().statements;
  for (std::size_t i = 0; i < first.size(); ++i) first[i] -= once.statements[i];
  const bool is_found = std::any_of(run.paths.begin(), run.paths.end(),
                                    [&](const firmware::Counts& path) { return path.statements == first; });
  CHECK(is_found);
  CHECK(run.order.size() == run.events);
}

}  // namespace portweigh::blocks

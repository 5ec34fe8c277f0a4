// What kinds tell of the protocol: against the definitions of the codes, counted on their networks and tables.
#include "blocks/protocol_facts.hpp"

#include <algorithm>
#include <bit>
#include <catch2/catch.hpp>
#include <random>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/line/line_code.hpp"
#include "blocks/line/symbol_code.hpp"
#include "blocks/registry.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

Settings settings_of(const Kind& kind, const std::vector<std::pair<std::string, std::string>>& set) {
  Settings settings = Settings::standard(kind.settings);
  for (const auto& [name, value] : set) settings.set(name, value);
  return settings;
}

const Kind& line_code_kind_listed() {
  return find_kind("line-code");
}

// Edges for each bit that the encoder's network makes of the data, in all streams.
template <class NextData>
double encoded_edges(LineCode code, NextData next_data) {
  constexpr unsigned bits = 2000;
  constexpr unsigned settling_bits = 8;
  const logic::Network network = line_encoder(code);
  logic::Simulator simulator(network);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  simulator.set("enable", 1);
  simulator.set("transmit", 1);
  const auto named = [](const auto& ports, std::string_view name) {
    return std::find_if(ports.begin(), ports.end(), [&](const auto& port) { return port.name == name; })
        ->literal;
  };
  const logic::Literal data = named(network.inputs(), "data");
  const logic::Literal line = named(network.outputs(), "line");
  std::uint64_t before = 0;
  std::uint64_t edges = 0;
  for (unsigned bit = 0; bit < bits + settling_bits; ++bit) {
    simulator.set_lanes(data, next_data());
    for (unsigned half = 0; half < half_cells(code); ++half) {
      simulator.clock();
      const std::uint64_t level = simulator.lanes(line);
      if (bit >= settling_bits) edges += static_cast<unsigned>(std::popcount(level ^ before));
      before = level;
    }
  }
  return static_cast<double>(edges) / (64.0 * bits);
}

double share_of_ones(unsigned symbol, int bits) {
  return static_cast<double>(std::popcount(symbol)) / bits;
}

}  // namespace

TEST_CASE("Line codes tell the edges that their encoders make") {
  // NRZ .5, NRZI .5, Manchester 1.5 (1..2), biphase mark 1.5 edges a bit at random data: exact, computed from
  // the definitions of the codes [C].
  struct Row {
    const char* code;
    double mean;
    double cells;
  };
  for (const Row& row :
       {Row{"biphase-mark", 1.5, 2}, Row{"manchester", 1.5, 2}, Row{"nrzi", 0.5, 1}, Row{"nrz", 0.5, 1}}) {
    CAPTURE(row.code);
    const Kind& kind = line_code_kind_listed();
    const Settings settings = settings_of(kind, {{"code", row.code}});
    const LineFacts facts = kind.line(settings);
    CHECK(mean_edges(facts, {}) == row.mean);
    CHECK(facts.cells == row.cells);
    const LineCode code = line_code(settings);
    std::mt19937_64 random(1);
    CHECK(encoded_edges(code, [&] { return random(); }) == Approx(row.mean).epsilon(0.01));
    const auto zeros = [] { return std::uint64_t{0}; };
    const auto ones = [] { return ~std::uint64_t{0}; };
    const auto alternating = [data = std::uint64_t{0}]() mutable { return data = ~data; };
    const double most =
        std::max({encoded_edges(code, zeros), encoded_edges(code, ones), encoded_edges(code, alternating)});
    CHECK(most_edges(facts, {}) == Approx(most));
    if (code == LineCode::biphase_mark || code == LineCode::nrzi) {
      CHECK(facts.most_edges_of_0 == Approx(encoded_edges(code, zeros)));
      CHECK(facts.most_edges_of_1 == Approx(encoded_edges(code, ones)));
    }
  }
}

TEST_CASE("4b5b symbols bound the edges of what follows") {
  double ones = 0;
  double zeros = 0;
  const auto count = [&](unsigned symbol) {
    ones = std::max(ones, share_of_ones(symbol, 5));
    zeros = std::max(zeros, 1 - share_of_ones(symbol, 5));
  };
  for (const unsigned symbol : nibble_symbols) count(symbol);
  for (const unsigned symbol : control_symbols) count(symbol);
  CHECK(facts_4b5b.most_ones == Approx(ones));
  CHECK(facts_4b5b.most_zeros == Approx(zeros));
  // One edge for a bit and one more for a one, of which there are four in five at the most.
  CHECK(most_edges(facts_of(LineCode::biphase_mark), facts_4b5b) == Approx(1.8));
  CHECK(most_edges(facts_of(LineCode::nrzi), facts_4b5b) == Approx(0.6));
  CHECK(most_edges(facts_of(LineCode::manchester), facts_4b5b) == 2);
}

TEST_CASE("8b10b symbols hold four to six ones") {
  EightTenEncoder encoder;
  double ones = 0;
  double zeros = 0;
  for (unsigned round = 0; round < 4; ++round) {
    for (unsigned byte = 0; byte < 256; ++byte) {
      const double share = share_of_ones(encoder.encode(byte, false), 10);
      ones = std::max(ones, share);
      zeros = std::max(zeros, 1 - share);
    }
  }
  CHECK(facts_8b10b.most_ones == Approx(ones));
  CHECK(facts_8b10b.most_zeros == Approx(zeros));
}

TEST_CASE("Bytes and messages take the bits that their codes give them") {
  const Kind& symbol_code = find_kind("symbol-code");
  for (const char* code : {"4b5b", "8b10b"}) {  // two symbols of five bits; one of ten
    CHECK(symbol_code.symbols(settings_of(symbol_code, {{"code", code}})).wire_bits_per_byte == 10);
  }
  // 228.75 + 64.5 N edges, 1.53523 a bit for N = 0 and 1.58566 for N = 7 objects of four bytes behind a header
  // of two [C]: 149 and 429 bits.
  const Kind& framing = find_kind("framing");
  const auto bits = [&](const char* bytes) {
    return framing.message_bits(settings_of(framing, {{"payload_bytes", bytes}}));
  };
  CHECK(bits("2") == 149);
  CHECK(228.75 / bits("2") == Approx(1.53523).epsilon(1e-5));
  CHECK((228.75 + 64.5 * 7) / bits("30") == Approx(1.58566).epsilon(1e-5));
}

TEST_CASE("Host buses take their clocks for a byte") {
  const Kind& kind = host_interface();
  const auto byte_s = [&](const char* bus) { return kind.bus(settings_of(kind, {{"bus", bus}})).byte_s(); };
  CHECK(byte_s("i2c") == Approx(90e-6));  // eight bits and the acknowledgement at 100 kHz, UM10204 [M]
  CHECK(byte_s("spi") == Approx(8e-6));   // eight bits at 1 MHz
  CHECK(byte_s("uart") == Approx(10 / 115.2e3));  // 8N1, ten bits at 115.2 kb/s
}

TEST_CASE("Facts are told by those kinds that have them") {
  for (const Kind& kind : kinds()) {
    INFO(kind.name);
    CHECK((kind.stage == Stage::line) == static_cast<bool>(kind.line));
    CHECK((kind.stage == Stage::host_bus) == static_cast<bool>(kind.bus));
    for (const std::string& name : kind.contained_kinds) {
      CHECK(kind.contains(find_kind(name)));
      CHECK_FALSE(find_kind(name).contains(kind));
    }
  }
  CHECK(soft_processor().stage == Stage::processor);
  CHECK(register_bank().network);
  const Kind& line_code = line_code_kind_listed();
  CHECK(line_code.event(settings_of(line_code, {{"direction", "decode"}})) == Event::edge);
  CHECK(line_code.event(settings_of(line_code, {{"direction", "encode"}})) == Event::half_cell);
  CHECK(name_of(Event::half_cell) == "half-cell");
  CHECK(name_of(Event::tick) == "tick");
}

}  // namespace portweigh::blocks

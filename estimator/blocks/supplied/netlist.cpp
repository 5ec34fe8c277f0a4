// Netlist: the user's own logic, read from AIGER (ascii or binary, with latches) or BLIF (one flat model).
//
// It is covered, packed and simulated like every other network; nothing is known about its protocol, so
// active traffic is random on all inputs and idle traffic leaves them still. It has no firmware. All inputs
// and outputs may be inside the chip, so it takes no pins. Without a file it is a small example: a four-bit
// counter with an enable. Mistakes of the file are reading::InputError, with line and column, or byte. Tested by
// tests/blocks/supplied/netlist_test.cpp.
#include "blocks/supplied/netlist.hpp"

#include <fmt/core.h>

#include <filesystem>
#include <fstream>
#include <random>
#include <string_view>

#include "logic/files/logic_file.hpp"
#include "reading/diagnostic.hpp"

namespace portweigh::blocks {
namespace {

constexpr std::string_view example_netlist = R"(.model counter
.inputs enable
.outputs q0 q1 q2 q3 wrap
.latch d0 q0 re clk 0
.latch d1 q1 re clk 0
.latch d2 q2 re clk 0
.latch d3 q3 re clk 0
.names enable q0 d0
01 1
10 1
.names enable q0 c1
11 1
.names c1 q1 d1
01 1
10 1
.names c1 q1 c2
11 1
.names c2 q2 d2
01 1
10 1
.names c2 q2 c3
11 1
.names c3 q3 d3
01 1
10 1
.names c3 q3 wrap
11 1
.end
)";

void check_readable(const std::string& path) {
  const auto refuse = [&](std::string what) {
    throw reading::InputError(reading::Diagnostic{path, 0, 0, std::move(what), ""});
  };
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (status.type() == std::filesystem::file_type::not_found) refuse("no such file");
  if (error) throw reading::FileError(fmt::format("{}: cannot read: {}", path, error.message()));
  if (std::filesystem::is_directory(status)) refuse("is a folder, expected an AIGER or BLIF file");
  if (!std::filesystem::is_regular_file(status)) refuse("is no regular file, expected an AIGER or BLIF file");
  if (!std::ifstream(path)) throw reading::FileError(fmt::format("{}: cannot read", path));
}

logic::Network load_netlist(const std::string& path) {
  check_readable(path);
  try {
    return logic::read_netlist(path);
  } catch (const logic::LogicFileError& error) {
    throw reading::InputError(
        reading::Diagnostic{path, error.place().line, error.place().column, error.message(), ""});
  }
}

logic::Network netlist_network(const Settings& settings) {
  const std::string& path = settings.choice("file");
  return path.empty() ? logic::parse_blif(example_netlist, "example") : load_netlist(path);
}

Drive netlist_traffic(const Settings&, TrafficState state, std::uint64_t seed) {
  return [state, random = std::mt19937_64(seed)](logic::Simulator& simulator, std::uint64_t) mutable {
    if (state == TrafficState::idle) return;
    for (const logic::NamedLiteral& input : simulator.network().inputs()) {
      simulator.set_lanes(input.literal, random());
    }
  };
}

}  // namespace

Kind netlist_kind() {
  Kind kind;
  kind.name = "netlist";
  kind.summary = "the user's own logic from an AIGER or BLIF file";
  kind.spread_class = "netlist";
  kind.settings = {
      {"file", "AIGER or BLIF file; without one, a four-bit counter as an example", TextDomain{""}}};
  kind.network = netlist_network;
  kind.traffic = netlist_traffic;
  kind.check_files = [](const Settings& settings) { (void)netlist_network(settings); };
  kind.note = [](const Settings& settings) {
    const bool is_sample = settings.choice("file").empty();
    return std::string(is_sample ? "no file given: a built-in sample, a four-bit counter with enable" : "");
  };
  return kind;
}

}  // namespace portweigh::blocks

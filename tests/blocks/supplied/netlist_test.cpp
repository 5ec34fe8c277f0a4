// The netlist kind reads the user's file, counts like the example says, and drives every input.
#include "blocks/supplied/netlist.hpp"

#include <fmt/core.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>

#include "reading/diagnostic.hpp"

namespace portweigh::blocks {
namespace {

class ScratchFile {
 public:
  ScratchFile(const std::string& name, const std::string& text)
      : path_(std::filesystem::temp_directory_path() / name) {
    std::ofstream(path_, std::ios::binary) << text;
  }
  ~ScratchFile() { std::filesystem::remove(path_); }
  ScratchFile(const ScratchFile&) = delete;
  ScratchFile& operator=(const ScratchFile&) = delete;
  std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

Settings with_file(const std::string& path) {
  auto settings = Settings::standard(netlist_kind().settings);
  settings.set("file", SettingValue(path));
  return settings;
}

}  // namespace

TEST_CASE("the example netlist counts the clocks in which it is enabled") {
  const Kind kind = netlist_kind();
  const auto network = kind.network(Settings::standard(kind.settings));
  logic::Simulator simulator(network);
  unsigned count = 0;
  for (unsigned clock = 0; clock < 100; ++clock) {
    const bool is_enabled = clock % 3 != 0;
    simulator.set("enable", is_enabled ? 1 : 0);
    for (unsigned bit = 0; bit < 4; ++bit) {
      REQUIRE(simulator.value(fmt::format("q{}", bit)) == ((count >> bit) & 1U));
    }
    REQUIRE(simulator.value("wrap") == (is_enabled && count == 15 ? 1U : 0U));
    simulator.clock();
    if (is_enabled) count = (count + 1) % 16;
  }
}

TEST_CASE("AIGER and BLIF files become networks") {
  const Kind kind = netlist_kind();
  // And of two inputs, in both formats.
  const ScratchFile aiger("portweigh_netlist_and.aag", "aag 3 2 0 1 1\n2\n4\n6\n6 4 2\n");
  const ScratchFile blif("portweigh_netlist_and.blif",
                         ".model m\n.inputs i0 i1\n.outputs o0\n.names i0 i1 o0\n11 1\n.end\n");
  for (const auto& path : {aiger.path(), blif.path()}) {
    CAPTURE(path);
    const auto network = kind.network(with_file(path));
    logic::Simulator simulator(network);
    for (unsigned a = 0; a < 2; ++a) {
      for (unsigned b = 0; b < 2; ++b) {
        simulator.set("i0", a);
        simulator.set("i1", b);
        CHECK(simulator.value("o0") == (a & b));
      }
    }
  }
}

TEST_CASE("active traffic moves every input, idle traffic none") {
  const Kind kind = netlist_kind();
  const auto settings = Settings::standard(kind.settings);
  const auto network = kind.network(settings);
  for (const auto state : {TrafficState::idle, TrafficState::active}) {
    logic::Simulator simulator(network);
    const Drive drive = kind.traffic(settings, state, 5);
    for (std::uint64_t clock = 0; clock < 50; ++clock) {
      drive(simulator, clock);
      simulator.clock();
    }
    const auto toggles = simulator.toggles(network.inputs()[0].literal.node());
    CHECK((toggles > 0) == (state == TrafficState::active));
  }
}

TEST_CASE("a missing or malformed netlist is an input error with its place") {
  const Kind kind = netlist_kind();
  const auto message_of = [&](const std::string& path) {
    try {
      (void)kind.network(with_file(path));
    } catch (const reading::InputError& error) {
      return std::string(error.what());
    }
    return std::string("no input error");
  };
  CHECK(message_of("/nonexistent/no.aig") == "/nonexistent/no.aig: no such file");
  const std::string folder = std::filesystem::temp_directory_path().string();
  CHECK(message_of(folder) == folder + ": is a folder, expected an AIGER or BLIF file");
  CHECK(message_of("/dev/null") == "/dev/null: is no regular file, expected an AIGER or BLIF file");

  const ScratchFile cover("portweigh_netlist_broken.blif",
                          ".model m\n.inputs a\n.outputs q\n.names a q\n2 1\n.end\n");
  CHECK_THAT(message_of(cover.path()), Catch::StartsWith(cover.path() + ":5:1: "));
  const ScratchFile gate("portweigh_netlist_broken.aag", "aag 3 2 0 1 1\n2\n4\n6\n6 4 x\n");
  CHECK_THAT(message_of(gate.path()), Catch::StartsWith(gate.path() + ":5:5: "));
  // Two ANDs promised, the first one's second delta cut off.
  const ScratchFile binary("portweigh_netlist_broken.aig", "aig 4 2 0 1 2\n6\n\x02");
  CHECK_THAT(message_of(binary.path()), Catch::StartsWith(binary.path() + ": byte "));
  const ScratchFile other("portweigh_netlist_broken.txt", "module m; endmodule\n");
  CHECK_THAT(message_of(other.path()), Catch::StartsWith(other.path() + ":1:1: expected an AIGER header"));
}

}  // namespace portweigh::blocks

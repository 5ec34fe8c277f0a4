#include "logic/files/logic_file.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "circuits.hpp"
#include "logic/simulation/simulate.hpp"
#include "netlist_writers_fixture.hpp"

using namespace portweigh::logic;

namespace {

std::string message_of(std::string_view text) {
  try {
    parse_blif(text, "x.blif");
  } catch (const LogicFileError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("networks survive being written to BLIF and read") {
  Network counter;
  const Bit tick = add_input(counter, "n1");
  const Word count = add_registers(counter, "count", 4);
  connect(count, count + 1U, {.enable = tick, .reset_value = 6});
  add_output(count, "count");
  for (const Network& net : {counter, circuits::random_logic(4, 10, 200)}) {
    const Network copy = parse_blif(write_blif(net, "top"), "x");
    Simulator first(net);
    Simulator second(copy);
    std::mt19937_64 random(5);
    for (unsigned clock = 0; clock < 30; ++clock) {
      for (std::size_t i = 0; i < net.inputs().size(); ++i) {
        const std::uint64_t lanes = random();
        first.set_lanes(net.inputs()[i].literal, lanes);
        second.set_lanes(copy.inputs()[i].literal, lanes);
      }
      for (std::size_t i = 0; i < net.outputs().size(); ++i) {
        REQUIRE(first.lanes(net.outputs()[i].literal) == second.lanes(copy.outputs()[i].literal));
      }
      first.clock();
      second.clock();
    }
  }
}

TEST_CASE("comments, continued lines, don't cares, zeros, constants and latch forms are read") {
  const Network net = parse_blif(
      "# a comment\n.model m\n.inputs a b \\\n c\n.outputs y z one zero q r\n"
      ".names a b c y # sum of products\n11- 1\n--1 1\n.names a b z\n11 0\n"
      ".names one\n1\n.names zero\n.latch y q re clk 1\n.latch z r\n.end\n",
      "m.blif");
  Simulator sim(net);
  CHECK(sim.value("q") == 1);
  CHECK(sim.value("r") == 0);
  for (unsigned x = 0; x < 8; ++x) {
    sim.set("a", x & 1U);
    sim.set("b", x >> 1U & 1U);
    sim.set("c", x >> 2U);
    const unsigned both = x & 1U & (x >> 1U);
    CHECK(sim.value("y") == (both | x >> 2U));
    CHECK(sim.value("z") == 1 - both);
    CHECK(sim.value("one") == 1);
    CHECK(sim.value("zero") == 0);
  }
}

TEST_CASE("malformed BLIF files are refused with their line") {
  const std::string start = ".model m\n.inputs a b\n.outputs y\n";
  CHECK(message_of(start + ".names a c y\n11 1\n") == "x.blif:4:10: c is used but never defined");
  CHECK(message_of(start + ".names a b y\n111 1\n") == "x.blif:5:1: a cube of 3 inputs for .names of 2");
  CHECK(message_of(start + ".names a b y\n1x 1\n") == "x.blif:5:1: cube 1x: expected 0, 1 or -");
  CHECK(message_of(start + ".names a b y\n11 1\n00 0\n") ==
        "x.blif:6:1: one .names lists both its ones and its zeros");
  CHECK(message_of(start + ".names a y y\n11 1\n") == "x.blif:4:12: y depends on itself");
  CHECK(message_of(start + ".names a y\n1 1\n.names b y\n1 1\n") == "x.blif:6:10: y is defined twice");
  CHECK(message_of(start) == "x.blif:3:10: y is used but never defined");
  CHECK(message_of(start + ".subckt cell x=a\n") ==
        "x.blif:4:1: .subckt: one flat model is read; flatten the hierarchy before writing the file");
  CHECK(message_of(start + ".gate nand2 a=a\n") ==
        "x.blif:4:1: .gate needs a cell library; write .names and .latch");
  CHECK(message_of(start + ".latch a\n") ==
        "x.blif:4:1: expected .latch input output [type control] [initial]");
  CHECK(message_of(start + ".nonsense\n") ==
        "x.blif:4:1: .nonsense is unknown; expected .inputs, .outputs, .names, .latch or .end");
  CHECK(message_of(start + ".names a y\n1 1\n.end\n.model n\n") ==
        "x.blif:7:1: one flat model is read; flatten the hierarchy before writing the file");
  CHECK(message_of("11 1\n") == "x.blif:1:1: a line that follows no .names and starts with no dot");
}

TEST_CASE("mutated BLIF files never crash the reader") {
  const std::string good = write_blif(circuits::adder(3), "top");
  std::mt19937_64 random(17);
  std::size_t refused = 0;
  for (unsigned trial = 0; trial < 3000; ++trial) {
    std::string text = good;
    for (unsigned change = 0; change <= random() % 4 && !text.empty(); ++change) {
      const std::size_t place = random() % text.size();
      switch (random() % 4) {
        case 0:
          text[place] = static_cast<char>(random());
          break;
        case 1:
          text.erase(place, random() % 8);
          break;
        case 2:
          text.insert(place, text.substr(random() % text.size(), random() % 12));
          break;
        default:
          text.resize(place + 1);
          break;
      }
    }
    try {
      parse_blif(text, "mutated").check_complete();
    } catch (const LogicFileError&) {
      ++refused;
    }
  }
  CHECK(refused > 1500);
}

TEST_CASE("a file that can't be read or has no known form is refused") {
  CHECK_THROWS_AS(read_netlist("/nonexistent/file.aig"), LogicFileError);
  CHECK_THROWS_AS(read_netlist("/dev/null"), LogicFileError);
}

#include "logic/files/logic_file.hpp"

#include <catch2/catch.hpp>
#include <random>

#include "circuits.hpp"
#include "logic/cover/cover.hpp"
#include "logic/simulation/simulate.hpp"
#include "netlist_writers_fixture.hpp"

using namespace portweigh::logic;

namespace {

Network sequential_example() {
  Network net;
  const Bit tick = add_input(net, "tick");
  const Bit clear = add_input(net, "clear");
  const Word count = add_registers(net, "count", 5);
  connect(count, count + 3U, {.enable = tick, .reset = clear, .reset_value = 17});
  add_output(count, "count");
  add_output(parity(count) ^ tick, "odd");
  return net;
}

void require_same(const Network& a, const Network& b) {
  REQUIRE(a.inputs().size() == b.inputs().size());
  REQUIRE(a.outputs().size() == b.outputs().size());
  Simulator first(a, ToggleCounting::off);
  Simulator second(b, ToggleCounting::off);
  std::mt19937_64 random(3);
  for (unsigned clock = 0; clock < 30; ++clock) {
    for (std::size_t i = 0; i < a.inputs().size(); ++i) {
      const std::uint64_t lanes = random();
      first.set_lanes(a.inputs()[i].literal, lanes);
      second.set_lanes(b.inputs()[i].literal, lanes);
    }
    for (std::size_t i = 0; i < a.outputs().size(); ++i) {
      REQUIRE(a.outputs()[i].name == b.outputs()[i].name);
      REQUIRE(first.lanes(a.outputs()[i].literal) == second.lanes(b.outputs()[i].literal));
    }
    first.clock();
    second.clock();
  }
}

std::string message_of(std::string_view text) {
  try {
    parse_aiger(text, "x.aag");
  } catch (const LogicFileError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("networks survive being written and read, in both forms") {
  for (const Network& net :
       {sequential_example(), circuits::random_logic(2, 12, 300), circuits::multiplier(4)}) {
    for (const AigerForm form : {AigerForm::ascii, AigerForm::binary}) {
      require_same(net, parse_aiger(write_aiger(net, form), "x"));
    }
  }
}

TEST_CASE("the half adder and toggle flip-flop of the format's description are read") {
  // Examples of Biere's description of AIGER, 2007 [M].
  const Network half_adder = parse_aiger(
      "aag 7 2 0 2 3\n2\n4\n6\n12\n6 13 15\n12 2 4\n14 3 5\ni0 x\ni1 y\no0 s\no1 c\n", "half.aag");
  Simulator sim(half_adder);
  for (unsigned x = 0; x < 2; ++x) {
    for (unsigned y = 0; y < 2; ++y) {
      sim.set("x", x);
      sim.set("y", y);
      CHECK(sim.value("s") == (x ^ y));
      CHECK(sim.value("c") == (x & y));
    }
  }
  const Network toggle = parse_aiger("aag 1 0 1 2 0\n2 3\n2\n3\n", "toggle.aag");
  Simulator toggling(toggle);
  CHECK(toggling.value("o0") == 0);
  toggling.clock();
  CHECK(toggling.value("o0") == 1);
  // Version 1.9: initial values.
  const Network set = parse_aiger("aag 2 0 2 2 0\n2 3 1\n4 2 4\n2\n4\n", "set.aag");
  CHECK(Simulator(set).value("o0") == 1);
  CHECK(Simulator(set).value("o1") == 0);
}

TEST_CASE("malformed AIGER files are refused with their place") {
  CHECK(message_of("") == "x.aag:1:1: expected an AIGER header, aag or aig");
  CHECK(message_of("aag 1 1 0\n") == "x.aag:1:10: expected a space and another number");
  CHECK(message_of("aag 1 1 0 1 0\n2\n4\n") == "x.aag:3:1: literal 4 is above the largest, 3");
  CHECK(message_of("aag 1 1 0 1 0\n2\n") != "");
  CHECK(message_of("aag 2 1 0 1 0\n2\n4\n") == "x.aag:1:1: literal 4 is used but never defined");
  CHECK(message_of("aag 3 1 0 1 2\n2\n4\n4 6 2\n6 4 2\n") == "x.aag:1:1: the AND 4 depends on itself");
  CHECK(message_of("aag 2 1 0 1 1\n2\n4\n2 2 2\n") == "x.aag:1:1: literal 2 is defined twice");
  CHECK(message_of("aag 1 0 1 0 0\n2 3 5\n") == "x.aag:2:5: literal 5 is above the largest, 3");
  CHECK(message_of("aag 1 1 0 0 0\n2\nq0 a\n") == "x.aag:3:1: a symbol starts with i, l or o, not with q");
  const std::string binary = write_aiger(circuits::adder(4), AigerForm::binary);
  const std::string cut = binary.substr(0, binary.find("i0 a[0]") - 3);
  CHECK(message_of(cut).find("x.aag: byte ") == 0);
}

TEST_CASE("a header that claims more than the file can hold is refused before anything is allocated") {
  for (const char* header : {"aig 4000000000 0 0 0 4000000000\n", "aig 4000000000 4000000000 0 0 0\n",
                             "aag 4000000000 0 0 0 0\n", "aag 100000 0 0 0 100000\n",
                             "aag 0 0 0 0 0 0 0 4294967295 0\n", "aig 99999999999999999999 0 0 0 0\n"}) {
    INFO(header);
    CHECK(message_of(header) != "");
  }
}

TEST_CASE("mutated AIGER files never crash the reader") {
  std::mt19937_64 random(99);
  std::size_t refused = 0;
  for (const AigerForm form : {AigerForm::ascii, AigerForm::binary}) {
    const std::string good = write_aiger(sequential_example(), form);
    for (unsigned trial = 0; trial < 3000; ++trial) {
      std::string text = good;
      for (unsigned change = 0; change <= random() % 4 && !text.empty(); ++change) {
        const std::size_t place = random() % text.size();
        switch (random() % 4) {
          case 0:
            text[place] = static_cast<char>(random());
            break;
          case 1:
            text.erase(place, random() % 5);
            break;
          case 2:
            text.insert(place, 1, static_cast<char>('0' + random() % 10));
            break;
          default:
            text.resize(place + 1);
            break;
        }
      }
      try {
        const Network net = parse_aiger(text, "mutated");
        net.check_complete();
      } catch (const LogicFileError&) {
        ++refused;
      }
    }
  }
  CHECK(refused > 3000);
}

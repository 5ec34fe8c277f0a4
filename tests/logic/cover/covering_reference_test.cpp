// The covering beside berkeley-abc on generated circuits.
#include <fmt/core.h>

#include <catch2/catch.hpp>

#include "circuits.hpp"
#include "logic/cover/cover.hpp"
#include "logic_fixture.hpp"

using namespace portweigh::logic;

namespace {

struct Circuit {
  std::string name;
  Network net;
};

std::vector<Circuit> generated_circuits() {
  std::vector<Circuit> list;
  list.push_back({"adder 64", circuits::adder(64)});
  list.push_back({"multiplier 12", circuits::multiplier(12)});
  list.push_back({"barrel shifter 32", circuits::barrel_shifter(5)});
  list.push_back({"priority encoder 64", circuits::priority_encoder(64)});
  list.push_back({"CRC-32, 8 bits", circuits::crc_next_state(32, 0x04C11DB7, 8)});
  list.push_back({"CRC-32, 32 bits", circuits::crc_next_state(32, 0x04C11DB7, 32)});
  list.push_back({"CRC-16, 16 bits", circuits::crc_next_state(16, 0x8005, 16)});
  list.push_back({"multiplexer 64", circuits::multiplexer(6)});
  list.push_back({"comparator 32", circuits::less_than(32)});
  list.push_back({"random logic 2000", circuits::random_logic(5, 64, 2000)});
  list.push_back({"random logic 6000", circuits::random_logic(6, 128, 6000)});
  return list;
}

}  // namespace

TEST_CASE("covering needs no more LUTs in total and no more levels anywhere than berkeley-abc") {
  for (const unsigned k : {4U, 6U}) {
    std::size_t ours = 0;
    std::size_t theirs = 0;
    for (const Circuit& circuit : generated_circuits()) {
      const ReferenceCover reference = reference_cover(circuit.net, fmt::format("strash; if -K {}", k));
      const Cover covered = cover(circuit.net, {.lut_inputs = k, .effort = Effort::covering_only});
      INFO(circuit.name << ", K " << k << ": " << covered.luts.size() << "/" << covered.levels << " against "
                        << reference.luts << "/" << reference.levels);
      CHECK(covered.levels <= reference.levels);
      ours += covered.luts.size();
      theirs += reference.luts;
    }
    INFO("K " << k);
    CHECK(ours <= theirs);
  }
}

TEST_CASE("restructured covers come close to optimisation before covering in berkeley-abc") {
  for (const unsigned k : {4U, 6U}) {
    std::size_t ours = 0;
    std::size_t theirs = 0;
    for (const Circuit& circuit : generated_circuits()) {
      const ReferenceCover reference =
          reference_cover(circuit.net, fmt::format("strash; dc2; strash; if -K {}; mfs2", k));
      const Cover covered = cover(circuit.net, {.lut_inputs = k});
      ours += covered.luts.size();
      theirs += reference.luts;
    }
    INFO("K " << k << ": " << ours << " against " << theirs);
    CHECK(static_cast<double>(ours) <= 1.05 * static_cast<double>(theirs));
  }
}

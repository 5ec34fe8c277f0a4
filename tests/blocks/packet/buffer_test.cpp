// The buffer against std::deque, and network against routine.
#include "blocks/packet/buffer.hpp"

#include <catch2/catch.hpp>
#include <deque>
#include <random>
#include <vector>

#include "firmware/execute.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

std::uint64_t mask_of_bits(unsigned bits) {
  return bits == 64 ? ~std::uint64_t{0} : (std::uint64_t{1} << bits) - 1;
}

struct Operation {
  bool writes = false;
  bool reads = false;
  std::uint64_t word = 0;
};

// Long stretches of mostly writing and mostly reading, so that full and empty both happen.
Operation drawn(std::mt19937_64& random, unsigned turn, const BufferShape& shape) {
  const bool is_filling = turn / (2 * shape.words + 3) % 2 == 0;
  return {.writes = random() % 8 < (is_filling ? 7U : 2U),
          .reads = random() % 8 < (is_filling ? 2U : 7U),
          .word = random() & mask_of_bits(shape.bits)};
}

void apply(logic::Simulator& simulator, const Operation& operation) {
  simulator.set("write", operation.writes ? 1 : 0);
  simulator.set("read", operation.reads ? 1 : 0);
  simulator.set("write_data", operation.word);
}

const std::vector<BufferShape> corners{{2, 1}, {3, 8}, {16, 8}, {34, 8}, {128, 16}, {200, 40}, {64, 64}};

// A queue whose words become visible and free their room packet by packet.
struct PacketModel {
  std::deque<std::uint64_t> stored;  // from the released word on
  std::size_t committed = 0;
  std::size_t read = 0;
};

}  // namespace

TEST_CASE("a plain buffer gives back what was written, in order, and knows its level") {
  for (const BufferShape& shape : corners) {
    CAPTURE(shape.words, shape.bits);
    const auto network = buffer_network(shape);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    std::mt19937_64 random(shape.words);
    std::deque<std::uint64_t> model;
    bool was_full = false;
    bool has_overflown = false;
    bool has_underflown = false;
    simulator.set("reset", 1);
    simulator.clock();
    simulator.set("reset", 0);
    for (unsigned turn = 0; turn < 1500; ++turn) {
      const Operation operation = drawn(random, turn, shape);
      has_overflown = has_overflown || (operation.writes && model.size() == shape.words);
      has_underflown = has_underflown || (operation.reads && model.empty());
      const bool is_read = operation.reads && !model.empty();
      const bool is_written = operation.writes && model.size() < shape.words;
      const std::uint64_t expected = is_read ? model.front() : 0;
      if (is_read) model.pop_front();
      if (is_written) model.push_back(operation.word);
      apply(simulator, operation);
      simulator.clock();
      REQUIRE(simulator.value("read_valid") == (is_read ? 1U : 0U));
      if (is_read) REQUIRE(simulator.value("read_data") == expected);
      REQUIRE(simulator.value("level") == model.size());
      REQUIRE(simulator.value("full") == (model.size() == shape.words ? 1U : 0U));
      REQUIRE(simulator.value("empty") == (model.empty() ? 1U : 0U));
      REQUIRE(simulator.value("overflow") == (has_overflown ? 1U : 0U));
      REQUIRE(simulator.value("underflow") == (has_underflown ? 1U : 0U));
      was_full = was_full || model.size() == shape.words;
    }
    CHECK(was_full);
  }
}

TEST_CASE("packets are seen after commit, forgotten by abandon, kept until release, read again by repeat") {
  for (BufferShape shape : corners) {
    shape.style = BufferStyle::packets;
    CAPTURE(shape.words, shape.bits);
    const auto network = buffer_network(shape);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    std::mt19937_64 random(shape.bits);
    PacketModel model;
    for (unsigned turn = 0; turn < 2000; ++turn) {
      const Operation operation = drawn(random, turn, shape);
      const std::uint64_t command = random() % 24;
      const bool commits = command == 0 || command == 1;
      const bool abandons = command == 2;
      const bool releases = command == 3 || command == 4;
      const bool repeats = command == 5;
      const bool is_read = operation.reads && model.read < model.committed && !repeats;
      const bool is_written = operation.writes && model.stored.size() < shape.words && !abandons;
      const std::uint64_t expected = is_read ? model.stored[model.read] : 0;
      const std::size_t freed = model.read;
      if (commits) model.committed = model.stored.size();
      if (abandons) model.stored.resize(model.committed);
      if (is_written) model.stored.push_back(operation.word);
      if (is_read) ++model.read;
      if (repeats) model.read = 0;
      if (releases) {
        model.stored.erase(model.stored.begin(), model.stored.begin() + static_cast<std::ptrdiff_t>(freed));
        model.committed -= freed;
        model.read -= freed;
      }
      apply(simulator, operation);
      simulator.set("commit", commits ? 1 : 0);
      simulator.set("abandon", abandons ? 1 : 0);
      simulator.set("release", releases ? 1 : 0);
      simulator.set("repeat", repeats ? 1 : 0);
      simulator.clock();
      REQUIRE(simulator.value("read_valid") == (is_read ? 1U : 0U));
      if (is_read) REQUIRE(simulator.value("read_data") == expected);
      REQUIRE(simulator.value("empty") == (model.read == model.committed ? 1U : 0U));
      REQUIRE(simulator.value("full") == (model.stored.size() == shape.words ? 1U : 0U));
    }
  }
}

TEST_CASE("network and routine take and refuse the same words") {
  for (const BufferShape& shape : corners) {
    CAPTURE(shape.words, shape.bits);
    const auto network = buffer_network(shape);
    const auto routine = buffer_routine(shape, BufferEvent::chosen);
    logic::Simulator simulator(network, logic::ToggleCounting::off);
    firmware::Machine machine(routine);
    std::mt19937_64 random(shape.words + 7);
    for (unsigned turn = 0; turn < 1000; ++turn) {
      Operation operation = drawn(random, turn, shape);
      // The network does both at once, the routine one after the other: one at a time here.
      operation.reads = operation.reads && !operation.writes;
      const bool was_full = simulator.value("full") != 0;
      apply(simulator, operation);
      simulator.clock();
      const std::uint32_t asked = (operation.writes ? 1U : 0U) | (operation.reads ? 2U : 0U);
      const auto low = static_cast<std::uint32_t>(operation.word & 0xFFFFFFFFU);
      const std::uint32_t refused =
          shape.bits > 32 ? machine.run({asked, low, static_cast<std::uint32_t>(operation.word >> 32U)})
                          : machine.run({asked, low});
      REQUIRE((refused & 4U) == (operation.writes && was_full ? 4U : 0U));
      const bool is_read = simulator.value("read_valid") != 0;
      REQUIRE((refused & 8U) == (operation.reads && !is_read ? 8U : 0U));
      if (!is_read) continue;
      std::uint64_t taken = machine.get("taken");
      if (shape.bits > 32) taken |= std::uint64_t{machine.get("taken_high")} << 32U;
      REQUIRE(taken == simulator.value("read_data"));
    }
  }
}

TEST_CASE("the packet ring hides words that are not committed and keeps those not released") {
  for (const unsigned words : {4U, 5U}) {
    const auto routine = buffer_routine({words, 8, BufferStyle::packets}, BufferEvent::chosen);
    firmware::Machine machine(routine);
    for (std::uint32_t i = 0; i < words; ++i) CHECK(machine.run({1, 10 + i}) == 0);
    CHECK(machine.run({1, 99}) == 4);
    CHECK(machine.run({2, 0}) == 8);
    machine.set("committed", machine.get("head"));
    for (std::uint32_t i = 0; i < words; ++i) {
      CHECK(machine.run({2, 0}) == 0);
      CHECK(machine.get("taken") == 10 + i);
    }
    CHECK(machine.run({1, 99}) == 4);
    machine.set("released", machine.get("tail"));
    CHECK(machine.run({1, 99}) == 0);
  }
}

TEST_CASE("reset empties the buffer") {
  const auto network = buffer_network({8, 8});
  logic::Simulator simulator(network);
  apply(simulator, {.writes = true, .reads = false, .word = 0x55});
  simulator.clock(3);
  CHECK(simulator.value("level") == 3);
  simulator.set("reset", 1);
  simulator.clock();
  CHECK(simulator.value("empty") == 1);
}

}  // namespace portweigh::blocks

// Bit stuffing: network and routine against a model over strings of bits, and against each other.
#include "blocks/line/bit_stuffing.hpp"

#include <catch2/catch.hpp>
#include <random>
#include <string>

#include "firmware/execute.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

std::string random_bits(std::size_t count, std::uint64_t seed) {
  std::mt19937_64 random(seed);
  std::string bits;
  // Ones twice as likely as zeros in one half, the other way round in the other: long runs of both kinds.
  for (std::size_t i = 0; i < count; ++i) {
    const bool is_likely = random() % 4 != 0;
    bits += is_likely == (i % 512 < 256) ? '1' : '0';
  }
  return bits;
}

// Looks at the last `run` characters sent, rather than counting.
std::string stuffed(const BitStuffing& code, const std::string& data) {
  std::string sent;
  std::size_t fresh = 0;  // zero insertion: characters since the last inserted bit
  for (const char bit : data) {
    sent += bit;
    ++fresh;
    const std::string ones(code.run, '1');
    const std::string zeros(code.run, '0');
    if (code.insertion == Insertion::zero && fresh >= code.run && sent.ends_with(ones)) {
      sent += '0';
      fresh = 0;
    } else if (code.insertion == Insertion::complement && sent.ends_with(ones)) {
      sent += '0';
    } else if (code.insertion == Insertion::complement && sent.ends_with(zeros)) {
      sent += '1';
    }
  }
  return sent;
}

std::string encode_in_network(const BitStuffing& code, const std::string& data, const std::string& raw = "") {
  const auto network = bit_stuffing_network({code.run, code.insertion, Direction::encode});
  logic::Simulator simulator(network);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  std::string sent;
  std::size_t at = 0;
  std::mt19937_64 random(3);
  while (at < data.size() || simulator.value("ready") == 0) {
    const bool is_enabled = random() % 3 != 0;
    simulator.set("enable", is_enabled);
    simulator.set("data_valid", at < data.size());
    simulator.set("data", at < data.size() && data[at] == '1');
    simulator.set("raw", at < raw.size() && raw[at] == '1');
    const bool is_taken = is_enabled && at < data.size() && simulator.value("ready") != 0;
    simulator.clock();
    if (is_taken) ++at;
    REQUIRE((simulator.value("output_valid") != 0) <= is_enabled);
    if (simulator.value("output_valid") != 0) sent += simulator.value("output") != 0 ? '1' : '0';
  }
  return sent;
}

struct Received {
  std::string bits;
  unsigned violations = 0;
};

Received decode_in_network(const BitStuffing& code, const std::string& stream) {
  const auto network = bit_stuffing_network({code.run, code.insertion, Direction::decode});
  logic::Simulator simulator(network);
  simulator.set("reset", 1);
  simulator.clock();
  simulator.set("reset", 0);
  Received received;
  for (const char bit : stream) {
    simulator.set("enable", 0);
    simulator.clock();
    REQUIRE(simulator.value("output_valid") == 0);
    REQUIRE(simulator.value("violation") == 0);
    simulator.set("enable", 1);
    simulator.set("data", bit == '1');
    simulator.clock();
    if (simulator.value("output_valid") != 0) received.bits += simulator.value("output") != 0 ? '1' : '0';
    received.violations += simulator.value("violation") != 0 ? 1U : 0U;
  }
  return received;
}

Received through_routine(const BitStuffing& code, const std::string& bits) {
  const auto routine = bit_stuffing_routine(code);
  firmware::Machine machine(routine);
  Received received;
  std::uint32_t tail = 0;
  for (std::size_t at = 0; at + 8 <= bits.size(); at += 8) {
    std::uint32_t byte = 0;
    for (unsigned i = 0; i < 8; ++i) byte |= static_cast<std::uint32_t>(bits[at + i] == '1') << i;
    received.violations += machine.run({byte});
    for (; tail != machine.get("head"); tail = (tail + 1) & 0xFFU) {
      const auto word = machine.element("queue", tail % 32);
      for (unsigned i = 0; i < 8; ++i) received.bits += (word >> i & 1U) != 0 ? '1' : '0';
    }
  }
  return received;
}

}  // namespace

TEST_CASE("stuffing and its removal, network and routine alike") {
  for (const auto insertion : {Insertion::zero, Insertion::complement}) {
    for (const unsigned run : {2U, 3U, 5U, 6U, 7U, 8U, 15U}) {
      DYNAMIC_SECTION("run " << run << (insertion == Insertion::zero ? " zero" : " complement")) {
        const BitStuffing encode{run, insertion, Direction::encode};
        const BitStuffing decode{run, insertion, Direction::decode};
        const std::string data = random_bits(2048, run);
        const std::string line = stuffed(encode, data);
        CHECK(line.size() > data.size());
        CHECK(encode_in_network(encode, data) == line);
        const Received decoded = decode_in_network(decode, line);
        CHECK(decoded.bits == data);
        CHECK(decoded.violations == 0);

        const Received sent = through_routine(encode, data);
        CHECK(sent.bits == line.substr(0, line.size() / 8 * 8));
        const Received recovered = through_routine(decode, line);
        CHECK(recovered.bits == data.substr(0, recovered.bits.size()));
        CHECK(recovered.bits.size() + 16 > data.size());
        CHECK(recovered.violations == 0);
      }
    }
  }
}

// One bit too many is a violation; a flag of run + 1 ones is passed by `raw` and found by the decoder.
TEST_CASE("violations and raw bits") {
  const BitStuffing decode{5, Insertion::zero, Direction::decode};
  CHECK(decode_in_network(decode, "0111110").violations == 0);
  CHECK(decode_in_network(decode, "01111110").violations == 1);
  CHECK(decode_in_network(decode, "011111111").violations == 3);
  CHECK(decode_in_network(decode, "0111111011").bits == "01111111");
  CHECK(through_routine(decode, "01111110").violations == 1);
  const BitStuffing complement{5, Insertion::complement, Direction::decode};
  CHECK(decode_in_network(complement, "000000").violations == 1);
  CHECK(decode_in_network(complement, "00000111110").bits == "000001111");
  CHECK(decode_in_network(complement, "00000111110").violations == 0);

  const BitStuffing encode{5, Insertion::zero, Direction::encode};
  CHECK(encode_in_network(encode, "011111101111110", "111111110000000") == "0111111011111010");
}

}  // namespace portweigh::blocks

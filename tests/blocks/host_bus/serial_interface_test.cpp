// SPI and UART networks against models of the other side that look at the lines alone.
#include <catch2/catch.hpp>
#include <deque>
#include <optional>
#include <random>
#include <vector>

#include "blocks/host_bus/host_interface.hpp"

namespace portweigh::blocks {
namespace {

// Shifts bytes in and out on given edges of SCK, as the mode's definition says.
class SpiPeer {
 public:
  SpiPeer(bool polarity, bool phase) : samples_rising_(polarity == phase), phase_(phase), sck_(polarity) {}
  std::vector<unsigned> received;
  std::deque<unsigned> to_send;
  unsigned selections = 0;

  bool see(bool selected, bool sck, bool data_in) {
    if (selected && !selected_) {
      ++selections;
      bits_ = 0;
      out_bits_ = 0;
      if (!phase_) shift_out();
    }
    selected_ = selected;
    if (selected && sck != sck_) {
      if (sck == samples_rising_) {
        sample(data_in);
      } else {
        shift_out();
      }
    }
    sck_ = sck;
    return out_;
  }

 private:
  void sample(bool data_in) {
    in_ = (in_ << 1U | (data_in ? 1U : 0U)) & 0xFFU;
    if (++bits_ % 8 != 0) return;
    received.push_back(in_);
    if (!to_send.empty()) to_send.pop_front();
  }
  void shift_out() {
    if (out_bits_ % 8 == 0) sending_ = to_send.empty() ? 0 : to_send.front();
    out_ = ((sending_ >> (7 - out_bits_ % 8)) & 1U) != 0;
    ++out_bits_;
  }

  bool samples_rising_;
  bool phase_;
  bool sck_;
  bool selected_ = false;
  bool out_ = false;
  unsigned bits_ = 0;
  unsigned out_bits_ = 0;
  unsigned in_ = 0;
  unsigned sending_ = 0;
};

std::vector<unsigned> random_bytes(std::size_t count, unsigned seed) {
  std::mt19937_64 random(seed);
  std::vector<unsigned> bytes(count);
  for (auto& byte : bytes) byte = static_cast<unsigned>(random() % 256);
  return bytes;
}

// Levels of a UART line, `clocks_per_bit` clocks a bit.
std::vector<bool> uart_line(const std::vector<unsigned>& bytes, double clocks_per_bit) {
  std::vector<bool> bits(3, true);
  for (const unsigned byte : bytes) {
    bits.push_back(false);
    for (unsigned i = 0; i < 8; ++i) bits.push_back(((byte >> i) & 1U) != 0);
    bits.push_back(true);
  }
  bits.insert(bits.end(), 3, true);
  std::vector<bool> levels;
  const auto clocks = static_cast<std::size_t>(clocks_per_bit * static_cast<double>(bits.size()));
  for (std::size_t i = 0; i < clocks; ++i) {
    levels.push_back(bits[static_cast<std::size_t>(static_cast<double>(i) / clocks_per_bit)]);
  }
  return levels;
}

std::vector<unsigned> received_bytes(const std::vector<bool>& levels, unsigned divider) {
  const auto network = uart_network(UartDirection::decode);
  logic::Simulator simulator(network);
  simulator.set("divider", divider);
  simulator.set("rxd", 1);
  simulator.set("received_take", 0);
  simulator.clock(5);
  std::vector<unsigned> bytes;
  for (const bool level : levels) {
    simulator.set("rxd", level ? 1 : 0);
    const bool is_valid = simulator.value("received_valid") != 0;
    if (is_valid) bytes.push_back(static_cast<unsigned>(simulator.value("received")));
    simulator.set("received_take", is_valid ? 1 : 0);
    simulator.clock();
  }
  CHECK(simulator.value("overrun") == 0);
  return bytes;
}

}  // namespace

TEST_CASE("an SPI controller exchanges bytes in all four modes") {
  const auto network = spi_controller_network();
  for (unsigned mode = 0; mode < 4; ++mode) {
    for (const unsigned divider : {0U, 1U, 7U}) {
      CAPTURE(mode, divider);
      const bool polarity = mode / 2 != 0;
      const bool phase = mode % 2 != 0;
      logic::Simulator simulator(network);
      SpiPeer peer(polarity, phase);
      const auto sent = random_bytes(12, mode + 1);
      const auto returned = random_bytes(12, mode + 10);
      peer.to_send.assign(returned.begin(), returned.end());
      simulator.set("polarity", polarity ? 1 : 0);
      simulator.set("phase", phase ? 1 : 0);
      simulator.set("divider", divider);
      simulator.clock(3);
      std::vector<unsigned> received;
      std::size_t next = 0;
      for (int clock = 0; clock < 5000 && received.size() < sent.size(); ++clock) {
        const bool is_free = simulator.value("busy") == 0 && next < sent.size();
        simulator.set("start", is_free ? 1 : 0);
        if (is_free) {
          simulator.set("transmit", sent[next]);
          simulator.set("last", next % 3 == 2 ? 1 : 0);
          ++next;
        }
        const bool miso = peer.see(simulator.value("select_n") == 0, simulator.value("sck") != 0,
                                   simulator.value("mosi") != 0);
        simulator.set("miso", miso ? 1 : 0);
        simulator.clock();
        if (simulator.value("done") != 0) {
          received.push_back(static_cast<unsigned>(simulator.value("received")));
        }
      }
      REQUIRE(peer.received == sent);
      REQUIRE(received == returned);
      REQUIRE(peer.selections == 4);
    }
  }
}

TEST_CASE("an SPI target answers in modes 0 and 3") {
  const auto network = spi_target_network();
  for (const bool idle_high : {false, true}) {
    CAPTURE(idle_high);
    logic::Simulator simulator(network);
    const auto sent = random_bytes(9, 21);
    const auto answers = random_bytes(20, 22);
    std::size_t next_answer = 0;
    std::vector<unsigned> received;
    std::vector<unsigned> returned;
    const auto run = [&](bool selected, bool sck, bool mosi) {
      simulator.set("select_n", selected ? 0 : 1);
      simulator.set("sck", sck ? 1 : 0);
      simulator.set("mosi", mosi ? 1 : 0);
      for (int clock = 0; clock < 4; ++clock) {
        simulator.set("transmit", answers[next_answer]);
        simulator.clock();
        if (simulator.value("transmit_taken") != 0) ++next_answer;
        if (simulator.value("received_valid") != 0) {
          received.push_back(static_cast<unsigned>(simulator.value("received")));
        }
      }
    };
    run(false, idle_high, false);
    for (std::size_t byte = 0; byte < sent.size(); ++byte) {
      if (byte % 3 == 0) run(true, idle_high, false);
      unsigned in = 0;
      for (unsigned i = 8; i-- > 0;) {
        const bool bit = ((sent[byte] >> i) & 1U) != 0;
        run(true, false, bit);
        in = in << 1U | static_cast<unsigned>(simulator.value("miso"));
        run(true, true, bit);
      }
      returned.push_back(in);
      if (byte % 3 != 2) continue;
      run(true, idle_high, false);
      CHECK(simulator.value("miso_enable") == 1);
      run(false, idle_high, false);
      run(false, idle_high, false);
      CHECK(simulator.value("miso_enable") == 0);
    }
    REQUIRE(received == sent);
    // Each selection takes one answer more than bytes: the last is loaded but never clocked out.
    for (std::size_t i = 0; i < returned.size(); ++i) REQUIRE(returned[i] == answers[i + i / 3]);
  }
}

TEST_CASE("a UART receives what the line says, also at two per cent off the nominal rate") {
  const auto bytes = random_bytes(40, 31);
  for (const unsigned divider : {0U, 1U, 5U}) {
    for (const double rate : {0.98, 1.0, 1.02}) {
      CAPTURE(divider, rate);
      REQUIRE(received_bytes(uart_line(bytes, 16.0 * (divider + 1) * rate), divider) == bytes);
    }
  }
}

TEST_CASE("a short low pulse is no start bit, and a missing stop bit is told") {
  std::vector<bool> glitch(200, true);
  for (std::size_t i = 40; i < 44; ++i) glitch[i] = false;
  CHECK(received_bytes(glitch, 0).empty());

  const auto network = uart_network(UartDirection::decode);
  logic::Simulator simulator(network);
  simulator.set("divider", 0);
  simulator.set("rxd", 1);
  simulator.clock(10);
  simulator.set("rxd", 0);
  simulator.clock(16 * 9 + 14);
  simulator.set("rxd", 1);
  simulator.clock(40);
  CHECK(simulator.value("framing_error") == 1);
  CHECK(simulator.value("received_valid") == 0);
}

TEST_CASE("a byte that is not taken is overrun by the next") {
  const auto network = uart_network(UartDirection::decode);
  logic::Simulator simulator(network);
  simulator.set("divider", 0);
  simulator.set("received_take", 0);
  for (const bool level : uart_line({0x12, 0x34}, 16)) {
    simulator.set("rxd", level ? 1 : 0);
    simulator.clock();
  }
  CHECK(simulator.value("overrun") == 1);
  CHECK(simulator.value("received") == 0x34);
  simulator.set("received_take", 1);
  simulator.clock();
  CHECK(simulator.value("overrun") == 0);
  CHECK(simulator.value("received_valid") == 0);
}

TEST_CASE("a UART sends frames that a plain receiver understands, back to back") {
  const auto network = uart_network(UartDirection::both);
  logic::Simulator simulator(network);
  const unsigned divider = 2;
  const unsigned clocks_per_bit = 16 * (divider + 1);
  const auto bytes = random_bytes(20, 41);
  simulator.set("divider", divider);
  simulator.set("reset", 1);
  simulator.set("rxd", 1);
  simulator.clock();
  simulator.set("reset", 0);
  std::vector<bool> line;
  std::vector<unsigned> looped_back;
  std::size_t next = 0;
  for (unsigned clock = 0; clock < bytes.size() * 11 * clocks_per_bit; ++clock) {
    const bool is_free = simulator.value("transmit_ready") != 0 && next < bytes.size();
    simulator.set("transmit_valid", is_free ? 1 : 0);
    if (is_free) simulator.set("transmit", bytes[next++]);
    line.push_back(simulator.value("txd") != 0);
    simulator.set("rxd", simulator.value("txd"));
    const bool is_valid = simulator.value("received_valid") != 0;
    if (is_valid) looped_back.push_back(static_cast<unsigned>(simulator.value("received")));
    simulator.set("received_take", is_valid ? 1 : 0);
    simulator.clock();
  }
  CHECK(looped_back == bytes);
  std::vector<unsigned> seen;
  for (std::size_t i = 1; i + 10 * clocks_per_bit < line.size();) {
    if (!(line[i - 1] && !line[i])) {
      ++i;
      continue;
    }
    unsigned byte = 0;
    for (unsigned bit = 0; bit < 8; ++bit) {
      if (line[i + clocks_per_bit * (2 * bit + 3) / 2]) byte |= 1U << bit;
    }
    CHECK(line[i + clocks_per_bit * 19 / 2]);  // stop bit
    seen.push_back(byte);
    i += clocks_per_bit * 19 / 2;
  }
  CHECK(seen == bytes);
}

}  // namespace portweigh::blocks

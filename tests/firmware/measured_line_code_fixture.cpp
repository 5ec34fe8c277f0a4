#include <fmt/core.h>

#include <array>
#include <random>
#include <stdexcept>

#include "measured_routines.hpp"

namespace portweigh::firmware {

namespace {

void require(bool is_right, const std::string& what) {
  if (!is_right) throw std::runtime_error(what + " gives a wrong result");
}

MeasuredRoutine manchester_encode() {
  Routine r("manch_enc");
  const auto byte = r.parameter_u8("byte");
  const auto out = r.local_u16("out");
  const auto i = r.local_u8("i");
  r.set(out, 0);
  r.for_count(i, 8, [&] {
    r.set(out, out << 2);
    r.if_else((byte & 0x80) != 0, [&] { r.set(out, out | 2); }, [&] { r.set(out, out | 1); });
    r.set(byte, byte << 1);
  });
  r.return_(out);
  return {.name = "manch_enc",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                for (std::uint32_t b = 0; b < 256; ++b) m.run({b});
              },
          .check = [](RecordingMachine& m) { require(m.run({0xA5}) == 0x9966, "manch_enc"); }};
}

MeasuredRoutine manchester_decode() {
  Routine r("manch_dec");
  const auto halves = r.parameter_u16("halves");
  const auto byte = r.local_u8("byte");
  const auto pair = r.local_u8("pair");
  const auto i = r.local_u8("i");
  r.set(byte, 0);
  r.for_count(i, 8, [&] {
    r.set(pair, cast_u8(halves >> 14));
    r.set(halves, halves << 2);
    r.set(byte, byte << 1);
    r.if_else(
        pair == 2, [&] { r.set(byte, byte | 1); }, [&] { r.if_(pair != 1, [&] { r.return_(0xFFFF); }); });
  });
  r.return_(cast_u16(byte));
  return {.name = "manch_dec",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                for (std::uint32_t b = 0; b < 256; ++b) {
                  std::uint32_t word = 0;
                  for (int k = 7; k >= 0; --k) word = word << 2 | ((b >> k & 1U) ? 2U : 1U);
                  m.run({word});
                }
              },
          .check =
              [](RecordingMachine& m) {
                require(m.run({0x9966}) == 0xA5, "manch_dec");
                require(m.run({0x9967}) == 0xFFFF, "manch_dec of a violation");
              }};
}

MeasuredRoutine ordered_set_search() {
  constexpr std::array<std::uint32_t, 5> sets = {0x8E318, 0x31B18, 0x6318D, 0x9C718, 0x39C63};
  Routine r("sop_search");
  const auto window = r.state_u32("window");
  const auto bit = r.parameter_u8("bit");
  const auto w = r.local_u32("w");
  r.set(w, window >> 1);
  r.if_(bit != 0, [&] { r.set(w, w | 0x80000); });
  r.set(window, w);
  for (std::uint32_t i = 0; i < sets.size(); ++i) {
    r.if_(w == sets[i], [&] { r.return_(i + 1); });
  }
  r.return_(0);
  return {.name = "sop_search",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(1);
                for (int i = 0; i < 2000; ++i) m.run({static_cast<std::uint32_t>(random()) & 1U});
              },
          .check =
              [](RecordingMachine& m) {
                std::uint32_t found = 0;
                for (int k = 0; k < 20; ++k) found = m.run({0x6318DU >> k & 1U});
                require(found == 3, "sop_search");
              }};
}

MeasuredRoutine ordered_set_tolerant() {
  const std::vector<std::uint32_t> sets = {24, 24, 24, 17, 24, 24, 6, 6,  24, 6,
                                           24, 6,  7,  7,  24, 25, 7, 24, 7,  6};
  Routine r("ordset_3of4");
  const auto input = r.parameter_structure("input");
  const auto symbols = input.array_u8("symbols", 4);
  const auto table = r.table_u8("sets", sets);
  const auto s = r.local_u8("s");
  const auto k = r.local_u8("k");
  const auto hits = r.local_u8("hits");
  const auto at = r.local_u8("at");
  r.set(at, 0);
  r.for_count(s, 5, [&] {
    r.set(hits, 0);
    r.for_count(k, 4, [&] {
      r.if_(symbols[k] == table[at], [&] { r.set(hits, hits + 1); });
      r.set(at, at + 1);
    });
    r.if_(hits >= 3, [&] { r.return_(s + 1); });
  });
  r.return_(0);
  return {.name = "ordset_3of4",
          .routine = std::move(r),
          .events =
              [sets](RecordingMachine& m) {
                std::mt19937 random(2);
                for (int i = 0; i < 600; ++i) {
                  const auto set = random() % 6;
                  for (std::size_t j = 0; j < 4; ++j) {
                    const auto symbol =
                        set < 5 ? sets[set * 4 + j] : static_cast<std::uint32_t>(random()) & 31U;
                    m.set_element("symbols", j, symbol);
                  }
                  if (random() % 3 == 0) m.set_element("symbols", random() % 4, 0);
                  m.run();
                }
              },
          .check =
              [sets](RecordingMachine& m) {
                for (std::size_t j = 0; j < 4; ++j) m.set_element("symbols", j, sets[8 + j]);
                m.set_element("symbols", 0, 0);
                require(m.run() == 3, "ordset_3of4");
              }};
}

// Timestamps of edges: full cell or half, pairs of halves are a one; bits collect to bytes in a queue.
MeasuredRoutine biphase_receive() {
  Routine r("bmc_rx_edge+isrframe");
  const auto capture = r.port_u16("capture");
  const auto last = r.state_u16("last");
  const auto half = r.state_u8("half");
  const auto bits = r.state_u8("bits");
  const auto count = r.state_u8("count");
  const auto head = r.state_u8("head");
  const auto queue = r.array_u8("queue", 32);
  const auto now = r.local_u16("now");
  const auto width = r.local_u16("width");
  const auto byte = r.local_u8("shifted");
  r.set(now, capture);
  r.set(width, now - last);
  r.set(last, now);
  r.set(byte, bits >> 1);
  r.if_else(
      width < 40,
      [&] {
        r.if_(half == 0, [&] {
          r.set(half, 1);
          r.return_();
        });
        r.set(half, 0);
        r.set(byte, byte | 0x80);
      },
      [&] { r.set(half, 0); });
  r.set(bits, byte);
  r.set(count, count + 1);
  r.if_(count == 8, [&] {
    r.set(count, 0);
    r.set(queue[head], byte);
    r.set(head, (head + 1) & 31);
  });
  return {.name = "bmc_rx_edge+isrframe",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(3);
                std::uint32_t time = 0;
                m.on_read("capture", [&] { return time; });
                for (int i = 0; i < 3000; ++i) {
                  const bool one = random() % 2 == 0;
                  for (int k = 0; k < (one ? 2 : 1); ++k) {
                    time += one ? 27 : 53;
                    m.run();
                  }
                }
                m.on_read("capture", {});
              },
          .check =
              [](RecordingMachine& m) {
                std::uint32_t time = 0;
                m.on_read("capture", [&] { return time; });
                for (const bool one : {true, false, true, true, false, false, true, false}) {
                  for (int k = 0; k < (one ? 2 : 1); ++k) {
                    time += one ? 27 : 53;
                    m.run();
                  }
                }
                require(m.element("queue", 0) == 0x4D, "bmc_rx_edge");
              }};
}

// Level prepared one interrupt earlier goes out; then the next half-cell is worked out.
MeasuredRoutine biphase_transmit() {
  Routine r("bmc_tx_tick+isrframe");
  const auto pin = r.port_u8("pin");
  const auto level = r.state_u8("level");
  const auto second = r.state_u8("second");
  const auto bits = r.state_u8("bits");
  const auto left = r.state_u8("left");
  const auto at = r.state_u8("at");
  const auto data = r.array_u8("data", 64);
  r.set(pin, level);
  r.if_else(
      second != 0,
      [&] {
        r.if_((bits & 1) != 0, [&] { r.set(level, level ^ 1); });
        r.set(bits, bits >> 1);
        r.set(left, left - 1);
        r.if_(left == 0, [&] {
          r.set(bits, data[at]);
          r.set(at, (at + 1) & 63);
          r.set(left, 8);
        });
        r.set(second, 0);
      },
      [&] {
        r.set(level, level ^ 1);
        r.set(second, 1);
      });
  return {.name = "bmc_tx_tick+isrframe",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                for (std::size_t i = 0; i < 64; ++i) {
                  m.set_element("data", i, static_cast<std::uint32_t>(i * 37 + 11) & 0xFFU);
                }
                m.set("left", 8);
                for (int i = 0; i < 2048; ++i) m.run();
              },
          .check =
              [](RecordingMachine& m) {
                m.set("left", 1);
                m.set_element("data", 0, 0x01);
                std::string levels;
                m.on_write("pin", [&](std::uint32_t v) { levels += v ? '1' : '0'; });
                for (int i = 0; i < 8; ++i) m.run();
                require(levels == "01101001", "bmc_tx_tick");
                m.on_write("pin", {});
              }};
}

}  // namespace

void add_line_code_routines(std::vector<MeasuredRoutine>& list) {
  list.push_back(manchester_encode());
  list.push_back(manchester_decode());
  list.push_back(ordered_set_search());
  list.push_back(ordered_set_tolerant());
  list.push_back(biphase_receive());
  list.push_back(biphase_transmit());
}

}  // namespace portweigh::firmware

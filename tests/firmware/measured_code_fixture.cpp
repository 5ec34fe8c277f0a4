#include <array>
#include <random>
#include <stdexcept>
#include <string_view>

#include "measured_routines.hpp"

// Routines without a row in the table of published code, measured only as C twins.
namespace portweigh::firmware {

namespace {

void require(bool is_right, const std::string& what) {
  if (!is_right) throw std::runtime_error(what + " gives a wrong result");
}

std::uint32_t low_byte(std::mt19937& random) {
  return static_cast<std::uint32_t>(random()) & 0xFFU;
}

void run_bytes(RecordingMachine& m, int count) {
  std::mt19937 random(11);
  for (int i = 0; i < count; ++i) m.run({low_byte(random)});
}

std::uint32_t reflected_entry(std::uint32_t value, std::uint32_t polynomial, int bits) {
  for (int k = 0; k < bits; ++k) value = (value & 1U) ? (value >> 1U) ^ polynomial : value >> 1U;
  return value;
}

// Published check values over "123456789": catalogue of parametrised CRC algorithms, G. Cook [C].
void check_crc(RecordingMachine& m, const std::string& name, std::uint32_t start, std::uint32_t expected) {
  m.set("crc", start);
  for (const char c : std::string_view("123456789")) m.run({static_cast<std::uint8_t>(c)});
  require(m.get("crc") == expected, name);
}

MeasuredRoutine crc32_bitwise() {
  Routine r("crc32_bitwise");
  const auto crc = r.state_u32("crc");
  const auto byte = r.parameter_u8("byte");
  const auto i = r.local_u8("i");
  const auto c = r.local_u32("c");
  r.set(c, crc ^ byte);
  r.for_count(i, 8, [&] {
    r.if_else((c & 1) != 0, [&] { r.set(c, (c >> 1) ^ 0xEDB88320U); }, [&] { r.set(c, c >> 1); });
  });
  r.set(crc, c);
  return {.name = "crc32_bitwise",
          .routine = std::move(r),
          .events = [](RecordingMachine& m) { run_bytes(m, 200); },
          .check = [](RecordingMachine& m) { check_crc(m, "crc32_bitwise", ~0U, ~0xCBF43926U); }};
}

MeasuredRoutine crc32_table(const std::string& name, int bits) {
  std::vector<std::uint32_t> values;
  for (std::uint32_t i = 0; i < (1U << bits); ++i) values.push_back(reflected_entry(i, 0xEDB88320U, bits));
  Routine r(name);
  const auto crc = r.state_u32("crc");
  const auto byte = r.parameter_u8("byte");
  const auto table = r.table_u32("table", values);
  const auto c = r.local_u32("c");
  if (bits == 8) {
    r.set(crc, (crc >> 8) ^ table[cast_u8(crc) ^ byte]);
  } else {
    r.set(c, crc ^ byte);
    r.set(c, (c >> 4) ^ table[cast_u8(c) & 15]);
    r.set(crc, (c >> 4) ^ table[cast_u8(c) & 15]);
  }
  return {.name = name,
          .routine = std::move(r),
          .events = [](RecordingMachine& m) { run_bytes(m, 200); },
          .check = [name](RecordingMachine& m) { check_crc(m, name, ~0U, ~0xCBF43926U); }};
}

MeasuredRoutine crc16_bitwise() {
  Routine r("crc16_bitwise");
  const auto crc = r.state_u16("crc");
  const auto byte = r.parameter_u8("byte");
  const auto i = r.local_u8("i");
  const auto c = r.local_u16("c");
  r.set(c, crc ^ (cast_u16(byte) << 8));
  r.for_count(i, 8, [&] {
    r.if_else((c & 0x8000) != 0, [&] { r.set(c, (c << 1) ^ 0x1021); }, [&] { r.set(c, c << 1); });
  });
  r.set(crc, c);
  return {.name = "crc16_bitwise",
          .routine = std::move(r),
          .events = [](RecordingMachine& m) { run_bytes(m, 200); },
          .check = [](RecordingMachine& m) { check_crc(m, "crc16_bitwise", 0xFFFF, 0x29B1); }};
}

MeasuredRoutine crc8_buffer() {
  Routine r("crc8_buffer");
  const auto source = r.parameter_structure("source");
  const auto data = source.array_u8("data", 32);
  const auto length = r.parameter_u8("length");
  const auto i = r.local_u8("i");
  const auto k = r.local_u8("k");
  const auto crc = r.local_u8("crc");
  r.set(crc, 0);
  r.for_count(i, length, [&] {
    r.set(crc, crc ^ data[i]);
    r.for_count(k, 8, [&] {
      r.if_else((crc & 0x80) != 0, [&] { r.set(crc, (crc << 1) ^ 0x07); }, [&] { r.set(crc, crc << 1); });
    });
  });
  r.return_(crc);
  return {.name = "crc8_buffer",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(12);
                for (int t = 0; t < 60; ++t) {
                  for (std::size_t n = 0; n < 32; ++n) m.set_element("data", n, low_byte(random));
                  m.run({32});
                }
              },
          .check =
              [](RecordingMachine& m) {
                for (std::uint32_t n = 0; n < 9; ++n) m.set_element("data", n, 49 + n);
                require(m.run({9}) == 0xF4, "crc8_buffer");
              }};
}

constexpr std::array<std::uint32_t, 16> four_to_five = {0x1E, 0x09, 0x14, 0x15, 0x0A, 0x0B, 0x0E, 0x0F,
                                                        0x12, 0x13, 0x16, 0x17, 0x1A, 0x1B, 0x1C, 0x1D};

MeasuredRoutine symbol_encode() {
  Routine r("symbol_encode");
  const auto table = r.table_u8("symbols", {four_to_five.begin(), four_to_five.end()});
  const auto byte = r.parameter_u8("byte");
  const auto low = r.local_u8("low");
  const auto high = r.local_u8("high");
  r.set(low, table[byte & 15]);
  r.set(high, table[byte >> 4]);
  r.return_(cast_u16(low) | (cast_u16(high) << 5));
  return {
      .name = "symbol_encode",
      .routine = std::move(r),
      .events = [](RecordingMachine& m) { run_bytes(m, 100); },
      .check = [](RecordingMachine& m) { require(m.run({0x50}) == (0x0BU << 5 | 0x1EU), "symbol_encode"); }};
}

MeasuredRoutine symbol_decode() {
  std::vector<std::uint32_t> back(32, 0xFF);
  for (std::uint32_t i = 0; i < 16; ++i) back[four_to_five[i]] = i;
  Routine r("symbol_decode");
  const auto table = r.table_u8("nibbles", back);
  const auto errors = r.state_u8("errors");
  const auto at = r.state_u8("at");
  const auto message = r.array_u8("message", 32);
  const auto symbols = r.parameter_u16("symbols");
  const auto low = r.local_u8("low");
  const auto high = r.local_u8("high");
  r.set(low, table[cast_u8(symbols) & 31]);
  r.set(high, table[cast_u8(symbols >> 5) & 31]);
  r.if_(((low | high) & 0x80) != 0, [&] {
    r.set(errors, errors + 1);
    r.return_();
  });
  r.set(message[at], low | (high << 4));
  r.set(at, (at + 1) & 31);
  return {.name = "symbol_decode",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(13);
                for (int i = 0; i < 200; ++i) {
                  const auto a = four_to_five[random() % 16];
                  const auto b = i % 20 == 0 ? 0U : four_to_five[random() % 16];
                  m.run({a | b << 5});
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.run({0x0BU << 5 | 0x1EU});
                require(m.element("message", 0) == 0x50 && m.get("at") == 1, "symbol_decode");
              }};
}

// Bit stuffing of one byte: after five ones a zero goes into the output register.
MeasuredRoutine bit_stuff() {
  Routine r("bit_stuff");
  const auto ones = r.state_u8("ones");
  const auto out = r.state_u16("out");
  const auto filled = r.state_u8("filled");
  const auto byte = r.parameter_u8("byte");
  const auto i = r.local_u8("i");
  r.set(out, 0);
  r.set(filled, 0);
  r.for_count(i, 8, [&] {
    r.if_else((byte & 1) != 0,
              [&] {
                r.set(out, (out >> 1) | 0x8000);
                r.set(filled, filled + 1);
                r.set(ones, ones + 1);
                r.if_(ones == 5, [&] {
                  r.set(out, out >> 1);
                  r.set(filled, filled + 1);
                  r.set(ones, 0);
                });
              },
              [&] {
                r.set(out, out >> 1);
                r.set(filled, filled + 1);
                r.set(ones, 0);
              });
    r.set(byte, byte >> 1);
  });
  return {.name = "bit_stuff",
          .routine = std::move(r),
          .events = [](RecordingMachine& m) { run_bytes(m, 200); },
          .check =
              [](RecordingMachine& m) {
                m.run({0x7F});
                require(m.get("filled") == 9 && m.get("out") >> 7 == 0xDFU, "bit_stuff");
              }};
}

// Eight inputs debounced by vertical counters.
MeasuredRoutine debounce() {
  Routine r("debounce");
  const auto pins = r.port_u8("pins");
  const auto stable = r.state_u8("stable");
  const auto count0 = r.state_u8("count0");
  const auto count1 = r.state_u8("count1");
  const auto change = r.local_u8("change");
  r.set(change, pins ^ stable);
  r.set(count0, ~(count0 & change));
  r.set(count1, count0 ^ (count1 & change));
  r.set(change, change & (count0 & count1));
  r.set(stable, stable ^ change);
  r.return_(change);
  return {.name = "debounce",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(14);
                for (int i = 0; i < 200; ++i) {
                  if (i % 6 == 0) m.set("pins", low_byte(random));
                  m.run();
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.set("count0", 0xFF);
                m.set("count1", 0xFF);
                m.set("pins", 4);
                std::uint32_t changes = 0;
                for (int i = 0; i < 4; ++i) changes |= m.run();
                require(changes == 4 && m.get("stable") == 4, "debounce");
              }};
}

// A step of a table-driven state machine: next state and action by state and event.
MeasuredRoutine table_step() {
  std::vector<std::uint32_t> next;
  std::vector<std::uint32_t> action;
  for (std::uint32_t s = 0; s < 12; ++s) {
    for (std::uint32_t e = 0; e < 8; ++e) {
      next.push_back((s * 5 + e * 3 + 1) % 12);
      action.push_back((s + e) % 4 == 0 ? 0xFF : (s * e) & 7U);
    }
  }
  Routine r("table_step");
  const auto next_table = r.table_u8("next", next);
  const auto action_table = r.table_u8("action", action);
  const auto state = r.state_u8("state");
  const auto timer = r.state_u16("timer");
  const auto event = r.parameter_u8("event");
  const auto index = r.local_u8("index");
  const auto what = r.local_u8("what");
  r.set(index, (state << 3) | (event & 7));
  r.set(what, action_table[index]);
  r.set(state, next_table[index]);
  r.if_(what != 0xFF, [&] { r.set(timer, cast_u16(what) << 4); });
  r.return_(what);
  return {.name = "table_step",
          .routine = std::move(r),
          .events = [](RecordingMachine& m) { run_bytes(m, 200); },
          .check =
              [](RecordingMachine& m) {
                require(m.run({1}) == 0 && m.get("state") == 4, "table_step");
                require(m.run({1}) == 4 && m.get("timer") == 64, "table_step");
              }};
}

// A step of a state machine written as nested switches, with flags, timer and retries.
MeasuredRoutine switch_step() {
  Routine r("switch_step");
  const auto state = r.state_u8("state");
  const auto timer = r.state_u16("timer");
  const auto retries = r.state_u8("retries");
  const auto request = r.state_u8("request");
  const auto event = r.parameter_u8("event");
  const auto go = [&](std::uint32_t to, std::uint32_t ticks) {
    r.set(state, to);
    r.set(timer, ticks);
  };
  r.switch_(state, {{0,
                     [&] {
                       r.if_(event == 1, [&] {
                         r.set(retries, 0);
                         go(1, 300);
                       });
                     }},
                    {1,
                     [&] {
                       r.if_else(
                           event == 2, [&] { go(2, 30); }, [&] { r.if_(event == 7, [&] { go(5, 0); }); });
                     }},
                    {2,
                     [&] {
                       r.if_(event == 3, [&] {
                         r.set(request, request | 2);
                         go(3, 500);
                       });
                       r.if_(event == 7, [&] {
                         r.set(retries, retries + 1);
                         r.if_else(
                             retries > 2, [&] { go(5, 0); }, [&] { go(1, 300); });
                       });
                     }},
                    {3,
                     [&] {
                       r.if_(event == 4, [&] { go(4, 0); });
                       r.if_(event == 7, [&] { go(5, 0); });
                     }},
                    {4,
                     [&] {
                       r.if_(event == 2, [&] { go(2, 30); });
                       r.if_(event == 5, [&] { go(0, 0); });
                     }},
                    {5, [&] { go(0, 100); }}});
  r.return_(state);
  return {.name = "switch_step",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(15);
                for (int i = 0; i < 400; ++i) m.run({static_cast<std::uint32_t>(random()) & 7U});
              },
          .check =
              [](RecordingMachine& m) {
                require(m.run({1}) == 1 && m.run({2}) == 2 && m.run({3}) == 3 && m.run({4}) == 4 &&
                            m.get("timer") == 0 && m.get("request") == 2,
                        "switch_step");
              }};
}

// Averages, clips and compares a reading with hysteresis.
MeasuredRoutine supervise() {
  Routine r("supervise");
  const auto raw = r.parameter_u16("raw");
  const auto average = r.state_u16("average");
  const auto tripped = r.state_u8("tripped");
  const auto scaled = r.local_u16("scaled");
  r.set(scaled, cast_u16((cast_u32(raw) * 3300) >> 10));
  r.set(average, average - (average >> 3) + (scaled >> 3));
  r.if_else(
      tripped != 0, [&] { r.if_(average < 2000, [&] { r.set(tripped, 0); }); },
      [&] { r.if_(average > 2200, [&] { r.set(tripped, 1); }); });
  r.return_(average);
  return {.name = "supervise",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(16);
                for (int i = 0; i < 400; ++i) {
                  m.run({(i / 60 % 2 ? 500U : 800U) + static_cast<std::uint32_t>(random() % 64)});
                }
              },
          .check =
              [](RecordingMachine& m) {
                for (int i = 0; i < 60; ++i) m.run({1000});
                require(m.get("tripped") == 1 && m.get("average") > 3100, "supervise");
              }};
}

}  // namespace

void add_code_routines(std::vector<MeasuredRoutine>& list) {
  list.push_back(crc32_bitwise());
  list.push_back(crc32_table("crc32_byte_table", 8));
  list.push_back(crc32_table("crc32_nibble_table", 4));
  list.push_back(crc16_bitwise());
  list.push_back(crc8_buffer());
  list.push_back(symbol_encode());
  list.push_back(symbol_decode());
  list.push_back(bit_stuff());
  list.push_back(debounce());
  list.push_back(table_step());
  list.push_back(switch_step());
  list.push_back(supervise());
}

}  // namespace portweigh::firmware

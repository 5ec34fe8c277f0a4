#include <random>
#include <stdexcept>

#include "measured_routines.hpp"

namespace portweigh::firmware {

namespace {

void require(bool is_right, const std::string& what) {
  if (!is_right) throw std::runtime_error(what + " gives a wrong result");
}

// ring { head, tail, mask (16 bits each), data }: overwrites the oldest when full.
MeasuredRoutine ring_put() {
  Routine r("ring_put");
  const auto ring = r.parameter_structure("ring");
  const auto head = ring.field_u16("head");
  const auto tail = ring.field_u16("tail");
  const auto mask = ring.field_u16("mask");
  const auto data = ring.array_u8("data", 16);
  const auto byte = r.parameter_u8("byte");
  const auto next = r.local_u16("next");
  r.set(data[head], byte);
  r.set(next, (head + 1) & mask);
  r.set(head, next);
  r.if_(next == tail, [&] { r.set(tail, (tail + 1) & mask); });
  return {.name = "ring_put",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                m.set("mask", 15);
                for (std::uint32_t i = 0; i < 640; ++i) {
                  if (i % 3 == 0) m.set("tail", (m.get("head") + 4) & 15U);
                  m.run({i & 0xFFU});
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.set("mask", 3);
                for (std::uint32_t i = 0; i < 5; ++i) m.run({i});
                require(m.get("head") == 1 && m.get("tail") == 2 && m.element("data", 0) == 4, "ring_put");
              }};
}

MeasuredRoutine ring_get() {
  Routine r("ring_get");
  const auto ring = r.parameter_structure("ring");
  const auto head = ring.field_u16("head");
  const auto tail = ring.field_u16("tail");
  const auto mask = ring.field_u16("mask");
  const auto data = ring.array_u8("data", 16);
  const auto out = r.parameter_structure("out");
  const auto byte = out.field_u8("byte");
  const auto at = r.local_u16("at");
  r.set(at, tail);
  r.if_(at == head, [&] { r.return_(0); });
  r.set(byte, data[at]);
  r.set(tail, (at + 1) & mask);
  r.return_(1);
  return {.name = "ring_get",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                m.set("mask", 15);
                for (std::uint32_t i = 0; i < 640; ++i) {
                  m.set("head", (m.get("tail") + (i % 8 == 0 ? 0U : 3U)) & 15U);
                  m.run();
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.set("mask", 15);
                m.set_element("data", 0, 77);
                require(m.run() == 0, "ring_get empty");
                m.set("head", 1);
                require(m.run() == 1 && m.get("byte") == 77 && m.get("tail") == 1, "ring_get");
              }};
}

MeasuredRoutine slip_encode() {
  Routine r("slip_encode");
  const auto source = r.parameter_structure("source");
  const auto in = source.array_u8("in", 64);
  const auto sink = r.parameter_structure("sink");
  const auto out = sink.array_u8("out", 130);
  const auto length = r.parameter_u16("length");
  const auto i = r.local_u16("i");
  const auto n = r.local_u16("n");
  const auto byte = r.local_u8("byte");
  const auto put = [&](const Expression& value) {
    r.set(out[n], value);
    r.set(n, n + 1);
  };
  r.set(n, 0);
  put(0xC0);
  r.for_count(i, length, [&] {
    r.set(byte, in[i]);
    r.if_else(
        byte == 0xC0,
        [&] {
          put(0xDB);
          put(0xDC);
        },
        [&] {
          r.if_else(
              byte == 0xDB,
              [&] {
                put(0xDB);
                put(0xDD);
              },
              [&] { put(byte); });
        });
  });
  put(0xC0);
  r.return_(n);
  return {.name = "slip_encode",
          .routine = std::move(r),
          .units = 64,
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(8);
                for (int t = 0; t < 100; ++t) {
                  for (std::size_t k = 0; k < 64; ++k) {
                    const auto pick = random() % 100;
                    m.set_element("in", k,
                                  pick < 3   ? 0xC0U
                                  : pick < 6 ? 0xDBU
                                             : static_cast<std::uint32_t>(pick));
                  }
                  m.run({64});
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.fill("in", std::vector<std::uint32_t>{1, 0xC0, 0xDB});
                require(m.run({3}) == 7 && m.element("out", 2) == 0xDB && m.element("out", 3) == 0xDC &&
                            m.element("out", 5) == 0xDD,
                        "slip_encode");
              }};
}

MeasuredRoutine slip_receive() {
  Routine r("slip_rx_byte");
  const auto escaped = r.state_u8("escaped");
  const auto count = r.state_u8("count");
  const auto frame = r.array_u8("frame", 64);
  const auto byte = r.parameter_u8("byte");
  r.if_(byte == 0xC0, [&] {
    const auto length = r.local_u8("length");
    r.set(length, count);
    r.set(count, 0);
    r.set(escaped, 0);
    r.return_(length);
  });
  r.if_(byte == 0xDB, [&] {
    r.set(escaped, 1);
    r.return_(0);
  });
  r.if_(escaped != 0, [&] {
    r.set(escaped, 0);
    r.if_else(
        byte == 0xDC, [&] { r.set(byte, 0xC0); }, [&] { r.if_(byte == 0xDD, [&] { r.set(byte, 0xDB); }); });
  });
  r.if_(count < 64, [&] {
    r.set(frame[count], byte);
    r.set(count, count + 1);
  });
  r.return_(0);
  return {.name = "slip_rx_byte",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(9);
                for (int i = 0; i < 3000; ++i) {
                  const auto pick = random() % 100;
                  if (pick < 6) {
                    m.run({0xDB});
                    m.run({pick < 3 ? 0xDCU : 0xDDU});
                  } else {
                    m.run({i % 40 == 39 ? 0xC0U : static_cast<std::uint32_t>(pick)});
                  }
                }
              },
          .check =
              [](RecordingMachine& m) {
                for (const std::uint32_t b : {0xC0U, 1U, 0xDBU, 0xDCU, 0xDBU, 0xDDU}) m.run({b});
                require(m.run({0xC0}) == 3 && m.element("frame", 1) == 0xC0 && m.element("frame", 2) == 0xDB,
                        "slip_rx_byte");
              }};
}

MeasuredRoutine cobs_encode() {
  Routine r("cobs_encode");
  const auto source = r.parameter_structure("source");
  const auto in = source.array_u8("in", 64);
  const auto sink = r.parameter_structure("sink");
  const auto out = sink.array_u8("out", 70);
  const auto length = r.parameter_u16("length");
  const auto i = r.local_u16("i");
  const auto n = r.local_u16("n");
  const auto code_at = r.local_u16("code_at");
  const auto code = r.local_u8("code");
  const auto byte = r.local_u8("byte");
  const auto finish = [&] {
    r.set(out[code_at], code);
    r.set(code, 1);
    r.set(code_at, n);
    r.set(n, n + 1);
  };
  r.set(code_at, 0);
  r.set(n, 1);
  r.set(code, 1);
  r.for_count(i, length, [&] {
    r.set(byte, in[i]);
    r.if_else(byte == 0, finish, [&] {
      r.set(out[n], byte);
      r.set(n, n + 1);
      r.set(code, code + 1);
      r.if_(code == 0xFF, finish);
    });
  });
  r.set(out[code_at], code);
  r.return_(n);
  return {.name = "cobs_encode",
          .routine = std::move(r),
          .units = 64,
          .events =
              [](RecordingMachine& m) {
                std::mt19937 random(10);
                for (int t = 0; t < 100; ++t) {
                  for (std::size_t k = 0; k < 64; ++k) {
                    m.set_element("in", k, static_cast<std::uint32_t>(random()) & 0xFFU);
                  }
                  m.run({64});
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.fill("in", std::vector<std::uint32_t>{0x11, 0x22, 0x00, 0x33});
                require(m.run({4}) == 5 && m.element("out", 0) == 3 && m.element("out", 3) == 2,
                        "cobs_encode");
              }};
}

}  // namespace

void add_buffer_routines(std::vector<MeasuredRoutine>& list) {
  list.push_back(ring_put());
  list.push_back(ring_get());
  list.push_back(slip_encode());
  list.push_back(slip_receive());
  list.push_back(cobs_encode());
}

}  // namespace portweigh::firmware

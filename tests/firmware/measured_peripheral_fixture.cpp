#include <random>
#include <stdexcept>

#include "measured_routines.hpp"

namespace portweigh::firmware {

namespace {

void require(bool is_right, const std::string& what) {
  if (!is_right) throw std::runtime_error(what + " gives a wrong result");
}

MeasuredRoutine uart_receive(const std::string& name) {
  Routine r(name);
  const auto status = r.port_u8("status");
  const auto data = r.port_u8("data");
  const auto head = r.state_u8("head");
  const auto tail = r.state_u8("tail");
  const auto errors = r.state_u8("errors");
  const auto ring = r.array_u8("ring", 64);
  const auto flags = r.local_u8("flags");
  const auto byte = r.local_u8("byte");
  const auto next = r.local_u8("next");
  r.set(flags, status);
  r.set(byte, data);
  r.if_((flags & 0x1C) != 0, [&] {
    r.set(errors, errors + 1);
    r.return_();
  });
  r.set(next, (head + 1) & 63);
  r.if_(next != tail, [&] {
    r.set(ring[head], byte);
    r.set(head, next);
  });
  return {.name = name,
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                for (std::uint32_t i = 0; i < 500; ++i) {
                  m.set("status", i % 50 == 0 ? 0x10 : 0x80);
                  m.set("data", i & 0xFFU);
                  m.set("tail", m.get("head"));
                  m.run();
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.set("data", 9);
                m.run();
                require(m.get("head") == 1 && m.element("ring", 0) == 9, "uart_rx_isr");
              }};
}

MeasuredRoutine uart_transmit(const std::string& name) {
  Routine r(name);
  const auto control = r.port_u8("control");
  const auto data = r.port_u8("data");
  const auto head = r.state_u8("head");
  const auto tail = r.state_u8("tail");
  const auto ring = r.array_u8("ring", 64);
  const auto at = r.local_u8("at");
  const auto enabled = r.local_u8("enabled");
  r.set(at, tail);
  r.if_else(
      at == head,
      [&] {
        r.set(enabled, control);
        r.set(control, enabled & 0xDF);
      },
      [&] {
        r.set(data, ring[at]);
        r.set(tail, (at + 1) & 63);
      });
  return {.name = name,
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                for (std::uint32_t i = 0; i < 500; ++i) {
                  m.set("head", (m.get("tail") + (i % 10 == 0 ? 0U : 5U)) & 63U);
                  m.run();
                }
              },
          .check =
              [](RecordingMachine& m) {
                m.set("control", 0xFF);
                m.run();
                require(m.get("control") == 0xDF, "uart_tx_isr off");
                m.set("head", 2);
                m.set_element("ring", 0, 42);
                m.run();
                require(m.get("data") == 42 && m.get("tail") == 1, "uart_tx_isr");
              }};
}

MeasuredRoutine i2c_target(const std::string& name) {
  Routine r(name);
  const auto status = r.port_u8("status");
  const auto data = r.port_u8("data");
  const auto control = r.port_u8("control");
  const auto pointer = r.state_u8("pointer");
  const auto has_pointer = r.state_u8("has_pointer");
  const auto registers = r.array_u8("registers", 16);
  const auto byte = r.local_u8("byte");
  const auto send = [&] {
    r.set(data, registers[pointer]);
    r.set(pointer, (pointer + 1) & 15);
  };
  r.switch_(status & 0xF0, {{0x10, [&] { r.set(has_pointer, 0); }},
                            {0x20,
                             [&] {
                               r.set(byte, data);
                               r.if_else(
                                   has_pointer == 0,
                                   [&] {
                                     r.set(pointer, byte & 15);
                                     r.set(has_pointer, 1);
                                   },
                                   [&] {
                                     r.set(registers[pointer], byte);
                                     r.set(pointer, (pointer + 1) & 15);
                                   });
                             }},
                            {0x40, send},
                            {0x70, send},
                            {0x90, [&] { r.set(has_pointer, 0); }},
                            {0xB0, [] {}}});
  r.set(control, 0x03);
  return {
      .name = name,
      .routine = std::move(r),
      .events =
          [](RecordingMachine& m) {
            for (std::uint32_t t = 0; t < 200; ++t) {
              m.set("data", t & 15U);
              for (const std::uint32_t s : {0x10U, 0x20U, 0x20U, 0x20U, 0x90U, 0x40U, 0x70U, 0x70U, 0xB0U}) {
                m.set("status", s);
                m.run();
              }
            }
          },
      .check =
          [](RecordingMachine& m) {
            m.set("status", 0x10);
            m.run();
            m.set("status", 0x20);
            m.set("data", 3);
            m.run();
            m.set("data", 0x55);
            m.run();
            require(m.element("registers", 3) == 0x55 && m.get("pointer") == 4, "i2c_slave_isr");
          }};
}

// Clock is bit 0, data bit 1 of a port held in a memory byte.
MeasuredRoutine i2c_bit_bang() {
  Routine r("i2c_bb_write");
  const auto port = r.port_u8("port");
  const auto byte = r.parameter_u8("byte");
  const auto i = r.local_u8("i");
  const auto level = r.local_u8("level");
  const auto change = [&](std::uint32_t set, std::uint32_t clear) {
    r.set(level, port);
    if (set) r.set(level, level | set);
    if (clear) r.set(level, level & (0xFFU & ~clear));
    r.set(port, level);
  };
  r.for_count(i, 8, [&] {
    r.if_else((byte & 0x80) != 0, [&] { change(2, 0); }, [&] { change(0, 2); });
    r.set(byte, byte << 1);
    change(1, 0);
    change(0, 1);
  });
  change(2, 0);
  change(1, 0);
  r.set(level, port & 2);
  change(0, 1);
  r.return_(level);
  return {.name = "i2c_bb_write",
          .routine = std::move(r),
          .events =
              [](RecordingMachine& m) {
                for (std::uint32_t b = 0; b < 256; b += 3) m.run({b});
              },
          .check =
              [](RecordingMachine& m) {
                std::uint32_t seen = 0;
                std::uint32_t before = 0;
                m.on_write("port", [&](std::uint32_t v) {
                  if ((v & 1U) && !(before & 1U)) seen = seen << 1 | (v >> 1 & 1U);
                  before = v;
                });
                m.run({0xA7});
                require(seen == (0xA7U << 1 | 1U), "i2c_bb_write");
                m.on_write("port", {});
              }};
}

}  // namespace

void add_peripheral_routines(std::vector<MeasuredRoutine>& list) {
  list.push_back(uart_receive("uart_rx_isr"));
  list.push_back(uart_transmit("uart_tx_isr"));
  list.push_back(i2c_target("i2c_slave_isr"));
  list.push_back(uart_receive("uart_rx_isr+isrframe"));
  list.push_back(uart_transmit("uart_tx_isr+isrframe"));
  list.push_back(i2c_target("i2c_slave_isr+isrframe"));
  list.push_back(i2c_bit_bang());
}

std::vector<MeasuredRoutine> measured_routines() {
  std::vector<MeasuredRoutine> list;
  add_line_code_routines(list);
  add_message_routines(list);
  add_buffer_routines(list);
  add_peripheral_routines(list);
  add_code_routines(list);
  return list;
}

}  // namespace portweigh::firmware

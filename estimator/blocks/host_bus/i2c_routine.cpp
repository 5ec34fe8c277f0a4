// I2C in firmware: interrupt bodies for a unit that moves bytes and conditions (one interrupt each, told
// apart by flags), and the bus moved by hand on two open-drain pins.
//
// The target serves a register file of 16 bytes: the first byte written is the register address, which
// counts up after each byte, as the network does. Both bit-banged routines wait for SCL, so a controller
// follows clock stretching. Tested by tests/blocks/host_bus/host_interface_routine_test.cpp.
#include "blocks/host_bus/host_interface_routine.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Array;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr unsigned file_mask = register_file_bytes - 1;

struct Pins {
  Place pins, drive;
};

Pins add_pins(Routine& r) {
  return {r.port_u8("pins"), r.port_u8("drive")};
}

void pull(Routine& r, const Pins& io, unsigned line) {
  r.set(io.drive, io.drive | line);
}
void release(Routine& r, const Pins& io, unsigned line) {
  r.set(io.drive, io.drive & (0xFFU ^ line));
}
void wait_high(Routine& r, const Pins& io, unsigned line) {
  r.while_((io.pins & line) == 0, [] {});
}
void wait_low(Routine& r, const Pins& io, unsigned line) {
  r.while_((io.pins & line) != 0, [] {});
}

// SCL is low before and after; gives the level of SDA while it was high by calling `sample`.
void clock_controller_bit(Routine& r, const Pins& io, const Routine::Body& sample) {
  release(r, io, host_pins::scl);
  wait_high(r, io, host_pins::scl);
  sample();
  pull(r, io, host_pins::scl);
}

}  // namespace

Routine i2c_target_interrupt() {
  Routine r("i2c_target_interrupt");
  const auto status = r.port_u8("status");
  const auto data = r.port_u8("data");
  const auto control = r.port_u8("control");
  const auto file = r.array_u8("file", register_file_bytes);
  const auto pointer = r.state_u8("pointer");
  const auto wants_pointer = r.state_u8("wants_pointer");
  const auto event = r.local_u8("event");
  const auto byte = r.local_u8("byte");
  const auto send_next = [&] {
    r.set(data, file[pointer]);
    r.set(pointer, (pointer + 1) & file_mask);
  };
  const auto take_byte = [&] {
    r.set(byte, data);
    r.if_else(
        wants_pointer,
        [&] {
          r.set(pointer, byte & file_mask);
          r.set(wants_pointer, 0);
        },
        [&] {
          r.set(file[pointer], byte);
          r.set(pointer, (pointer + 1) & file_mask);
        });
  };
  const auto others = [&] {
    r.if_((event & i2c_event::addressed) != 0, [&] { r.set(wants_pointer, 1); });
    r.if_((event & i2c_event::failed) != 0, [&] {
      r.set(control, i2c_action::go_on | i2c_action::stop);
      r.return_();
    });
  };
  r.set(event, status);
  r.if_else((event & i2c_event::received) != 0, take_byte,
            [&] { r.if_else((event & i2c_event::wanted) != 0, send_next, others); });
  r.set(control, i2c_action::go_on | i2c_action::acknowledge);
  return r;
}

Routine i2c_controller_interrupt() {
  Routine r("i2c_controller_interrupt");
  const auto status = r.port_u8("status");
  const auto data = r.port_u8("data");
  const auto control = r.port_u8("control");
  const auto buffer = r.array_u8("buffer", register_file_bytes);
  const auto address = r.state_u8("address");  // with the read bit
  const auto length = r.state_u8("length");
  const auto index = r.state_u8("index");
  const auto result = r.state_u8("result");  // 0 under way, 1 done, 2 refused or lost
  const auto event = r.local_u8("event");
  const auto go_on = [&](unsigned extra) { r.set(control, i2c_action::go_on | extra); };
  const auto finish = [&](unsigned outcome) {
    r.set(result, outcome);
    go_on(i2c_action::stop);
  };
  const auto begin = [&] {
    r.set(data, address);
    r.set(index, 0);
    go_on(0);
  };
  const auto send_next = [&] {
    r.set(data, buffer[index]);
    r.set(index, index + 1);
    go_on(0);
  };
  const auto ask_next = [&] {  // the last byte is not acknowledged
    r.if_else(
        index + 1 < length, [&] { go_on(i2c_action::acknowledge); }, [&] { go_on(0); });
  };
  const auto move_on = [&] {
    r.if_((event & i2c_event::received) != 0, [&] {
      r.set(buffer[index], data);
      r.set(index, index + 1);
    });
    r.if_else(
        index < length, [&] { r.if_else((address & 1) != 0, ask_next, send_next); }, [&] { finish(1); });
  };
  r.set(event, status);
  r.if_else((event & (i2c_event::received | i2c_event::accepted)) != 0, move_on,
            [&] { r.if_else((event & i2c_event::started) != 0, begin, [&] { finish(2); }); });
  return r;
}

Routine i2c_controller_bit_banged() {
  Routine r("i2c_controller_byte");
  const auto byte = r.parameter_u8("byte");
  const auto is_read = r.parameter_u8("is_read");
  const auto refuse = r.parameter_u8("refuse");
  const Pins io = add_pins(r);
  const auto i = r.local_u8("i");
  const auto value = r.local_u8("value");
  const auto clock_bit = [&](const Routine::Body& sample) { clock_controller_bit(r, io, sample); };
  r.if_(is_read, [&] {
    r.set(value, 0);
    release(r, io, host_pins::sda);
    r.for_count(i, 8, [&] {
      r.set(value, value << 1);
      clock_bit([&] { r.if_((io.pins & host_pins::sda) != 0, [&] { r.set(value, value | 1); }); });
    });
    r.if_(refuse == 0, [&] { pull(r, io, host_pins::sda); });
    clock_bit([] {});
    release(r, io, host_pins::sda);
    r.return_(value);
  });
  r.set(value, byte);
  r.for_count(i, 8, [&] {
    r.if_else((value & 0x80) != 0, [&] { release(r, io, host_pins::sda); },
              [&] { pull(r, io, host_pins::sda); });
    r.set(value, value << 1);
    clock_bit([] {});
  });
  release(r, io, host_pins::sda);
  r.set(value, 0);
  clock_bit([&] { r.if_((io.pins & host_pins::sda) != 0, [&] { r.set(value, 1); }); });
  r.return_(value);
  return r;
}

Routine i2c_target_bit_banged() {
  Routine r("i2c_target_byte");
  const auto byte = r.parameter_u8("byte");
  const auto is_read = r.parameter_u8("is_read");
  const Pins io = add_pins(r);
  const auto i = r.local_u8("i");
  const auto value = r.local_u8("value");
  const auto wait_bit = [&](const Routine::Body& sample) {
    wait_high(r, io, host_pins::scl);
    sample();
    wait_low(r, io, host_pins::scl);
  };
  r.if_(is_read, [&] {
    r.set(value, byte);
    r.for_count(i, 8, [&] {
      r.if_else((value & 0x80) != 0, [&] { release(r, io, host_pins::sda); },
                [&] { pull(r, io, host_pins::sda); });
      r.set(value, value << 1);
      wait_bit([] {});
    });
    release(r, io, host_pins::sda);
    r.set(value, 0);
    wait_bit([&] { r.if_((io.pins & host_pins::sda) != 0, [&] { r.set(value, 1); }); });
    r.return_(value);
  });
  r.set(value, 0);
  r.for_count(i, 8, [&] {
    r.set(value, value << 1);
    wait_bit([&] { r.if_((io.pins & host_pins::sda) != 0, [&] { r.set(value, value | 1); }); });
  });
  pull(r, io, host_pins::sda);
  wait_bit([] {});
  release(r, io, host_pins::sda);
  r.return_(value);
  return r;
}

}  // namespace portweigh::blocks

// Runs of the host interface's routines: real bytes from a bus that answers, in their natural mix.
//
// Interrupts: transfers as a host makes them, one event for each interrupt. By hand: the other side of the
// bus is quick, so each wait loop turns once, which is the shortest time the routine can keep up with.
// Tested by tests/blocks/host_bus/host_interface_test.cpp.
#include <random>

#include "blocks/event_recorder.hpp"
#include "blocks/host_bus/host_interface.hpp"
#include "blocks/host_bus/host_interface_routine.hpp"

namespace portweigh::blocks {
namespace {

constexpr unsigned transfers = 100;

class HostRun {
 public:
  HostRun(const HostInterfaceShape& shape, HostMethod method)
      : recorder_(host_interface_routine(shape, method)) {}
  FirmwareRun finish() && { return std::move(recorder_).finish(); }

  // Writes and reads of four bytes in turn, the register address before either.
  void i2c_target_interrupts() {
    for (unsigned i = 0; i < transfers; ++i) {
      interrupt(i2c_event::addressed);
      interrupt(i2c_event::received);  // register address
      for (unsigned byte = 0; i % 2 == 0 && byte < 4; ++byte) interrupt(i2c_event::received);
      interrupt(i2c_event::ended);  // stop, or the repeated start before reading
      for (unsigned byte = 0; i % 2 != 0 && byte < 4; ++byte) interrupt(i2c_event::wanted);
      if (i % 2 != 0) interrupt(i2c_event::ended);
    }
  }
  void i2c_controller_interrupts() {
    machine().set("length", 4);
    for (unsigned i = 0; i < transfers; ++i) {
      machine().set("address", 0x54 + i % 2);
      interrupt(i2c_event::started);
      interrupt(i2c_event::accepted);
      for (unsigned byte = 0; byte < 4; ++byte) {
        interrupt(i % 2 == 0 ? i2c_event::accepted : i2c_event::received);
      }
    }
  }
  void spi_interrupts(HostRole role) {
    for (unsigned i = 0; i < transfers * 4; ++i) {
      machine().on_read("data", [byte = random_byte()] { return byte; });
      if (role == HostRole::controller) {
        machine().set("length", 4);
        machine().set("index", i % 4);
      } else {
        machine().set("received_tail", machine().get("received_head"));  // the reader keeps up
      }
      recorder_.run();
    }
  }
  void uart_interrupts(UartDirection direction) {
    for (unsigned i = 0; i < transfers * 10; ++i) {
      machine().on_read("data", [byte = random_byte()] { return byte; });
      if (direction != UartDirection::encode) {
        machine().set("received_tail", i % 50 == 49 ? (machine().get("received_head") + 1) % ring_bytes
                                                    : machine().get("received_head"));
      }
      if (direction != UartDirection::decode) {  // now and then there is nothing to send
        machine().set("transmitted_head",
                      (machine().get("transmitted_tail") + (i % 10 == 9 ? 0 : 1)) % ring_bytes);
      }
      if (direction != UartDirection::encode) {
        const unsigned flags =
            direction == UartDirection::both && i % 2 == 0 ? uart_flag::transmit_empty : uart_flag::received;
        machine().on_read("status", [flags] { return flags; });
      }
      recorder_.run();
    }
  }

  void i2c_controller_by_hand() {
    machine().on_read("pins", [this] { return host_pins::scl | (random_() % 2 == 0 ? host_pins::sda : 0U); });
    for (unsigned i = 0; i < transfers * 4; ++i) {
      recorder_.run({random_byte(), i % 2, i % 8 == 7 ? 1U : 0U});
    }
  }
  void target_by_hand(HostBus bus) {
    machine().on_read("pins", [this] { return next_clocked_pins(); });
    for (unsigned i = 0; i < transfers * 4; ++i) {
      if (bus == HostBus::i2c) recorder_.run({random_byte(), i % 2});
      if (bus == HostBus::spi) recorder_.run({random_byte()});
    }
  }
  void spi_controller_by_hand() {
    machine().on_read("pins", [this] { return static_cast<std::uint32_t>(random_() % 256); });
    for (unsigned i = 0; i < transfers * 4; ++i) recorder_.run({random_byte()});
  }
  void uart_by_hand(UartDirection direction) {
    machine().on_read("timer", [this] { return ++timer_reads_ % 2 == 0 ? 1U : 0U; });
    if (direction != UartDirection::encode) {
      machine().on_read("pins", [this] { return ++pin_reads_ % 9 == 0 ? 1U : random_byte() & 1U; });
    }
    for (unsigned i = 0; i < transfers * 4; ++i) {
      if (direction == UartDirection::decode) recorder_.run();
      if (direction == UartDirection::encode) recorder_.run({random_byte()});
      if (direction == UartDirection::both) recorder_.run({random_byte(), i % 2});
    }
  }

 private:
  firmware::Machine& machine() { return recorder_.machine(); }
  std::uint32_t random_byte() { return static_cast<std::uint32_t>(random_() % 256); }
  void interrupt(unsigned event) {
    machine().on_read("status", [event] { return event; });
    machine().on_read("data", [byte = random_byte()] { return byte; });
    recorder_.run();
  }
  // The clock line reads low once, then high three times: left the wait, sampled, waited once.
  std::uint32_t next_clocked_pins() {
    const unsigned position = clocked_reads_++ % 4;
    if (position == 0) data_line_ = random_() % 2 == 0 ? host_pins::sda : 0U;
    return (position == 0 ? 0U : host_pins::scl) | data_line_;
  }

  EventRecorder recorder_;
  std::mt19937_64 random_{1};
  unsigned clocked_reads_ = 0;
  unsigned timer_reads_ = 0;
  unsigned pin_reads_ = 0;
  std::uint32_t data_line_ = 0;
};

void run_interrupts(HostRun& run, const HostInterfaceShape& shape) {
  if (shape.bus == HostBus::uart) return run.uart_interrupts(shape.direction);
  if (shape.bus == HostBus::spi) return run.spi_interrupts(shape.role);
  if (shape.role == HostRole::target) return run.i2c_target_interrupts();
  run.i2c_controller_interrupts();
}

void run_by_hand(HostRun& run, const HostInterfaceShape& shape) {
  if (shape.bus == HostBus::uart) return run.uart_by_hand(shape.direction);
  if (shape.role == HostRole::target) return run.target_by_hand(shape.bus);
  if (shape.bus == HostBus::spi) return run.spi_controller_by_hand();
  run.i2c_controller_by_hand();
}

}  // namespace

FirmwareRun run_host_interface(const HostInterfaceShape& shape, HostMethod method) {
  HostRun run(shape, method);
  if (method == HostMethod::interrupt) {
    run_interrupts(run, shape);
  } else {
    run_by_hand(run, shape);
  }
  return std::move(run).finish();
}

}  // namespace portweigh::blocks

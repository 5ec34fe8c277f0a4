// Line codes in firmware, encoding: one half cell at each timer event, or a byte of half cells for a port
// that shifts them out.
//
// The level prepared by the event before goes out first, so that the time of the transition does not depend
// on the path taken; what follows prepares the next one.
// Tested by tests/blocks/line/line_code_routine_test.cpp.
#include <fmt/core.h>

#include <functional>
#include <vector>

#include "blocks/line/line_code.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Expression;
using firmware::Place;
using firmware::Routine;

struct Sender {
  firmware::Array queue;
  Place head;
  Place tail;
  Place active;
  Place shift;  // rest of the byte being sent
  Place left;   // bits in it
};

Sender declare_sender(Routine& r) {
  return {r.array_u8("queue", line_queue_bytes),
          r.state_u8("head"),
          r.state_u8("tail"),
          r.state_u8("active"),
          r.state_u8("shift"),
          r.state_u8("left")};
}

// Fetches a byte where the last one is used up; an empty queue ends the frame.
void write_fetch(Routine& r, const Sender& s, unsigned bits, const std::function<void()>& write_end) {
  r.if_(s.left == 0, [&] {
    r.if_(s.head == s.tail, [&] {
      r.set(s.active, 0);
      write_end();
      r.return_();
    });
    r.set(s.shift, s.queue[s.tail & (line_queue_bytes - 1)]);
    r.set(s.tail, s.tail + 1);
    r.set(s.left, bits);
  });
}

void write_next_bit(Routine& r, const Sender& s, const Place& bit) {
  r.set(bit, s.shift & 1);
  r.set(s.shift, s.shift >> 1);
  r.set(s.left, s.left - 1);
}

// Sets `level` to what the line must show after the next event.
void write_next_level(Routine& r, LineCode code, const Sender& s, const Place& level) {
  if (half_cells(code) == 1) {
    const Place bit = r.local_u8("bit");
    write_fetch(r, s, 8, [] {});
    write_next_bit(r, s, bit);
    if (code == LineCode::nrz) {
      r.set(level, bit);
    } else {
      r.if_(bit == 0, [&] { r.set(level, level ^ 1); });
    }
    return;
  }
  const Place bit = r.state_u8("bit");
  const Place middle = r.state_u8("middle");
  r.if_else(
      middle != 0,
      [&] {
        r.set(middle, 0);
        if (code == LineCode::biphase_mark) {
          r.if_(bit != 0, [&] { r.set(level, level ^ 1); });
        } else {
          r.set(level, bit);
        }
      },
      [&] {
        // One more transition clocks the last bit of a biphase-mark frame into the receiver.
        write_fetch(r, s, 8, [&] {
          if (code == LineCode::biphase_mark) r.set(level, level ^ 1);
        });
        write_next_bit(r, s, bit);
        r.set(middle, 1);
        r.set(level, code == LineCode::biphase_mark ? level ^ 1 : bit ^ 1);
      });
}

Routine half_cell_handler(LineCode code, bool has_compare_output) {
  Routine r("half_cell_handler");
  const Sender s = declare_sender(r);
  const Place level = r.state_u8("level");
  if (has_compare_output) {
    const Place action = r.port_u8("action");
    const Place compare = r.port_u16("compare");
    r.set(action, level);
    r.set(compare, compare + timer_counts_per_bit / half_cells(code));
  } else {
    const Place output = r.port_u8("output");
    r.set(output, level);
  }
  const Place flag = r.port_u8("flag");
  r.set(flag, 1);
  write_next_level(r, code, s, level);
  return r;
}

// Eight half cells of four bits (first bit lowest, first half cell lowest), from level 0.
std::vector<std::uint32_t> nibble_cells(LineCode code) {
  std::vector<std::uint32_t> table;
  for (unsigned nibble = 0; nibble < 16; ++nibble) {
    unsigned level = 0;
    std::uint32_t cells = 0;
    for (unsigned i = 0; i < 4; ++i) {
      const unsigned bit = nibble >> i & 1U;
      const unsigned first = code == LineCode::biphase_mark ? level ^ 1U : bit ^ 1U;
      level = code == LineCode::biphase_mark ? first ^ bit : bit;
      cells |= (first | level << 1) << (2 * i);
    }
    table.push_back(cells);
  }
  return table;
}

// Four levels of a nibble of nrzi, from level 0.
std::vector<std::uint32_t> nibble_levels() {
  std::vector<std::uint32_t> table;
  for (unsigned nibble = 0; nibble < 16; ++nibble) {
    unsigned level = 0;
    std::uint32_t levels = 0;
    for (unsigned i = 0; i < 4; ++i) {
      level ^= ~(nibble >> i) & 1U;
      levels |= level << i;
    }
    table.push_back(levels);
  }
  return table;
}

Routine serial_port_handler(LineCode code) {
  Routine r("serial_byte_handler");
  const Place data = r.port_u8("data");
  const Sender s = declare_sender(r);
  const Place cells = r.state_u8("cells");  // prepared by the event before
  const Place level = r.state_u8("level");
  r.set(data, cells);
  switch (code) {
    case LineCode::biphase_mark: {
      const auto table = r.table_u8("nibbles", nibble_cells(code));
      // The frame's last transition, then low.
      write_fetch(r, s, 2, [&] {
        r.set(cells, select(level != 0, Expression(0), Expression(1)));
        r.set(level, 0);
      });
      r.set(cells, table[s.shift & 0x0F]);
      r.if_(level != 0, [&] { r.set(cells, ~cells); });
      r.set(level, cells & 0x80);
      r.set(s.shift, s.shift >> 4);
      r.set(s.left, s.left - 1);
      break;
    }
    case LineCode::manchester: {
      const auto table = r.table_u8("nibbles", nibble_cells(code));
      write_fetch(r, s, 2, [&] { r.set(cells, 0); });
      r.set(cells, table[s.shift & 0x0F]);
      r.set(s.shift, s.shift >> 4);
      r.set(s.left, s.left - 1);
      break;
    }
    case LineCode::nrzi: {
      const auto table = r.table_u8("nibbles", nibble_levels());
      write_fetch(r, s, 1, [&] { r.set(cells, select(level != 0, Expression(0xFF), Expression(0))); });
      const Place low = r.local_u8("low");
      const Place high = r.local_u8("high");
      r.set(low, table[s.shift & 0x0F]);
      r.if_(level != 0, [&] { r.set(low, low ^ 0x0F); });
      r.set(high, table[s.shift >> 4]);
      r.if_((low & 0x08) != 0, [&] { r.set(high, high ^ 0x0F); });
      r.set(cells, low | (high << 4));
      r.set(level, cells & 0x80);
      r.set(s.left, 0);
      break;
    }
    case LineCode::nrz:
      write_fetch(r, s, 1, [&] { r.set(cells, 0); });
      r.set(cells, s.shift);
      r.set(s.left, 0);
      break;
  }
  return r;
}

}  // namespace

Routine line_encode_routine(LineCode code, std::string_view method) {
  if (method == "timer-interrupt") return half_cell_handler(code, false);
  if (method == "timer-compare") return half_cell_handler(code, true);
  if (method == "bit-serial-port") return serial_port_handler(code);
  throw SettingError(fmt::format("line-code encoding has no method \"{}\"", method));
}

}  // namespace portweigh::blocks

// Line codes in firmware, decoding: the handler of one edge, a loop over a batch of time stamps, or one that
// watches the line itself.
//
// A 16-bit timer counts timer_counts_per_bit times a bit. The handler takes the difference to the last edge,
// tells half cells from whole ones, and shifts bits into bytes, bytes into a ring. nrzi and nrz turn an
// interval into as many bits as fit, by repeated subtraction: the cores aimed at have no divider.
// Tested by tests/blocks/line/line_code_routine_test.cpp.
#include <fmt/core.h>

#include <functional>

#include "blocks/line/line_code.hpp"

namespace portweigh::blocks {
namespace {

using firmware::cast_u8;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr unsigned silent_counts = timer_counts_per_bit * silent_bits;
constexpr unsigned stamp_slots = 64;

// What lives from edge to edge: static variables, or copies of them in registers during a batch.
struct Variables {
  Place last;     // time of the last accepted edge
  Place pending;  // biphase-mark: half a cell seen; manchester: the next edge is taken in any case
  Place shift;
  Place held;  // bits in `shift`
};

class EdgeDecoder {
 public:
  EdgeDecoder(Routine& r, LineCode code)
      : r_(r),
        code_(code),
        queue_(r.array_u8("queue", line_queue_bytes)),
        head_(r.state_u8("head")),
        violations_(r.state_u8("violations")),
        interval_(r.local_u16("interval")) {}

  // Statements for one edge. `level` is the level after it; only some codes ask for it.
  void write(const Variables& v, const Place& now, const Expression& level) const {
    r_.set(interval_, now - v.last);
    switch (code_) {
      case LineCode::biphase_mark:
        write_biphase_mark(v, now);
        break;
      case LineCode::manchester:
        write_manchester(v, now, level);
        break;
      case LineCode::nrzi:
      case LineCode::nrz:
        write_levels(v, now, level);
        break;
    }
  }

 private:
  void write_put(const Variables& v, const Expression& bit) const {
    r_.set(v.shift, v.shift >> 1);
    r_.if_(bit, [&] { r_.set(v.shift, v.shift | 0x80); });
    write_count(v);
  }

  void write_count(const Variables& v) const {
    r_.set(v.held, v.held + 1);
    r_.if_(v.held == 8, [&] {
      r_.set(queue_[head_ & (line_queue_bytes - 1)], v.shift);
      r_.set(head_, head_ + 1);
      r_.set(v.held, 0);
    });
  }

  void write_violation() const { r_.set(violations_, violations_ + 1); }

  // After silence a new frame begins: bits that did not fill a byte are dropped.
  void write_restart(const Variables& v, unsigned pending) const {
    r_.set(v.pending, pending);
    r_.set(v.held, 0);
  }

  void write_biphase_mark(const Variables& v, const Place& now) const {
    const IntervalLimits limits = interval_limits(LineCode::biphase_mark, timer_counts_per_bit);
    r_.set(v.last, now);
    r_.if_else(
        interval_ < limits.three_quarters,
        [&] {
          r_.if_else(
              v.pending == 0, [&] { r_.set(v.pending, 1); },
              [&] {
                r_.set(v.pending, 0);
                r_.set(v.shift, (v.shift >> 1) | 0x80);
                write_count(v);
              });
        },
        [&] {
          r_.if_else(
              interval_ <= limits.longest,
              [&] {
                r_.if_(v.pending != 0, [&] { write_violation(); });
                r_.set(v.pending, 0);
                r_.set(v.shift, v.shift >> 1);
                write_count(v);
              },
              [&] {
                r_.if_(interval_ < 4 * timer_counts_per_bit, [&] { write_violation(); });
                write_restart(v, 0);
              });
        });
  }

  void write_manchester(const Variables& v, const Place& now, const Expression& level) const {
    const IntervalLimits limits = interval_limits(LineCode::manchester, timer_counts_per_bit);
    const auto write_middle = [&] {
      r_.set(v.last, now);
      r_.set(v.pending, 0);
      write_put(v, level);
    };
    r_.if_else(
        interval_ < limits.three_quarters, [&] { r_.if_(v.pending != 0, write_middle); },
        [&] {
          r_.if_else(interval_ <= limits.longest, write_middle, [&] {
            r_.set(v.last, now);
            r_.if_else(
                interval_ < 3 * timer_counts_per_bit, [&] { write_violation(); },
                [&] { write_restart(v, 1); });
          });
        });
  }

  // The bits between two edges, all of the level before (nrz), or ones and the transition's zero (nrzi).
  void write_levels(const Variables& v, const Place& now, const Expression& level) const {
    const bool is_nrz = code_ == LineCode::nrz;
    r_.set(v.last, now);
    r_.if_else(
        interval_ >= silent_counts, [&] { write_restart(v, 0); },
        [&] {
          if (is_nrz) r_.set(interval_, interval_ + timer_counts_per_bit / 2);
          r_.while_(interval_ >= (is_nrz ? timer_counts_per_bit : timer_counts_per_bit * 3 / 2), [&] {
            write_put(v, is_nrz ? level ^ 1 : Expression(1));
            r_.set(interval_, interval_ - timer_counts_per_bit);
          });
        });
    if (!is_nrz) write_put(v, 0);
  }

  Routine& r_;
  LineCode code_;
  firmware::Array queue_;
  Place head_;
  Place violations_;
  Place interval_;
};

Variables declare_state(Routine& r) {
  return {r.state_u16("last"), r.state_u8("pending"), r.state_u8("shift"), r.state_u8("held")};
}

bool needs_level(LineCode code) {
  return code == LineCode::manchester || code == LineCode::nrz;
}

Routine edge_handler(LineCode code, const std::string& time_port) {
  Routine r("edge_handler");
  const Place time = r.port_u16(time_port);
  const Place flag = r.port_u8("flag");
  const Variables v = declare_state(r);
  const EdgeDecoder decoder(r, code);
  const Place now = r.local_u16("now");
  const Place level = r.local_u8("level_now");
  r.set(now, time);
  if (needs_level(code)) {
    const Place pin = r.port_u8("pin");
    r.set(level, pin & 1);
  }
  r.set(flag, 1);  // the request is taken back before the next edge can come
  decoder.write(v, now, level);
  return r;
}

// `write_next` sets `now` to the time of the next edge; `level` is the one before it.
void write_edge_loop(
    Routine& r, LineCode code, bool keeps_level,
    const std::function<void(const Place& now, const Place& turn, const Place& level)>& write_next) {
  const Place count = r.parameter_u8("count");
  const Variables kept = declare_state(r);
  const Place level = r.state_u8("level");
  const EdgeDecoder decoder(r, code);
  const Place turn = r.local_u8("turn");
  const Place now = r.local_u16("now");
  const Variables v{r.local_u16("last_copy"), r.local_u8("pending_copy"), r.local_u8("shift_copy"),
                    r.local_u8("held_copy")};
  r.set(v.last, kept.last);
  r.set(v.pending, kept.pending);
  r.set(v.shift, kept.shift);
  r.set(v.held, kept.held);
  r.for_count(turn, count, [&] {
    write_next(now, turn, level);
    if (keeps_level) r.set(level, level ^ 1);
    decoder.write(v, now, level);
  });
  r.set(kept.last, v.last);
  r.set(kept.pending, v.pending);
  r.set(kept.shift, v.shift);
  r.set(kept.held, v.held);
}

Routine batch_loop(LineCode code) {
  Routine r("edge_batch");
  const auto stamps = r.array_u16("stamps", stamp_slots);
  write_edge_loop(r, code, needs_level(code),
                  [&](const Place& now, const Place& turn, const Place&) { r.set(now, stamps[turn]); });
  return r;
}

// The time is taken as soon as the line is seen to have changed.
Routine polling_loop(LineCode code) {
  Routine r("edge_watch");
  const Place pin = r.port_u8("pin");
  const Place time = r.port_u16("timer");
  write_edge_loop(r, code, true, [&](const Place& now, const Place&, const Place& level) {
    r.while_((pin & 1) == level, [] {});
    r.set(now, time);
  });
  return r;
}

}  // namespace

Routine line_decode_routine(LineCode code, std::string_view method) {
  if (method == "per-edge") return edge_handler(code, "timer");
  if (method == "capture") return edge_handler(code, "capture");
  if (method == "capture-dma") return batch_loop(code);
  if (method == "polled") return polling_loop(code);
  throw SettingError(fmt::format("line-code decoding has no method \"{}\"", method));
}

}  // namespace portweigh::blocks

// Bit stuffing in firmware: one bit at a time, whole bytes to a ring of 32 bytes.
//
// What lives from byte to byte is held in registers during the loop over the bits, and put back at its end.
// Tested by tests/blocks/line/bit_stuffing_test.cpp.
#include <functional>
#include <string>
#include <vector>

#include "blocks/line/bit_stuffing.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr unsigned queue_bytes = 32;

// A static variable and its copy during a byte.
struct Held {
  Place kept;
  Place copy;
};

Held declare_held(Routine& r, const std::string& name) {
  return {r.state_u8(name), r.local_u8(name + "_copy")};
}

// Bits to bytes to the ring.
class ByteCollector {
 public:
  explicit ByteCollector(Routine& r)
      : r_(r),
        queue_(r.array_u8("queue", queue_bytes)),
        head_(r.state_u8("head")),
        shift_(declare_held(r, "shift")),
        held_(declare_held(r, "held")) {}

  const Held& shift() const { return shift_; }
  const Held& held() const { return held_; }

  // `bit` is 0 or 1.
  void write_put(const Expression& bit) const {
    r_.set(shift_.copy, shift_.copy >> 1);
    r_.if_(bit, [&] { r_.set(shift_.copy, shift_.copy | 0x80); });
    write_count();
  }
  void write_put_zero() const {
    r_.set(shift_.copy, shift_.copy >> 1);
    write_count();
  }

 private:
  void write_count() const {
    r_.set(held_.copy, held_.copy + 1);
    r_.if_(held_.copy == 8, [&] {
      r_.set(queue_[head_ & (queue_bytes - 1)], shift_.copy);
      r_.set(head_, head_ + 1);
      r_.set(held_.copy, 0);
    });
  }

  Routine& r_;
  firmware::Array queue_;
  Place head_;
  Held shift_;
  Held held_;
};

// Loads the copies, runs `body` for each bit of `byte`, lowest first, and puts the copies back.
void write_byte_loop(Routine& r, const Place& byte, const std::vector<Held>& variables,
                     const std::function<void(const Place& bit)>& body) {
  const Place turn = r.local_u8("turn");
  const Place rest = r.local_u8("rest");
  const Place bit = r.local_u8("bit");
  for (const Held& variable : variables) r.set(variable.copy, variable.kept);
  r.set(rest, byte);
  r.for_count(turn, 8, [&] {
    r.set(bit, rest & 1);
    r.set(rest, rest >> 1);
    body(bit);
  });
  for (const Held& variable : variables) r.set(variable.kept, variable.copy);
}

void write_count_ones(Routine& r, const Place& run, const Place& bit) {
  r.if_else(
      bit, [&] { r.set(run, run + 1); }, [&] { r.set(run, 0); });
}

void write_count_equal(Routine& r, const Place& run, const Place& last, const Place& bit) {
  r.if_(bit != last, [&] {
    r.set(run, 0);
    r.set(last, bit);
  });
  r.set(run, run + 1);
}

Routine encoder(const BitStuffing& code) {
  Routine r("stuff_byte");
  const Place byte = r.parameter_u8("byte");
  const Held run = declare_held(r, "run");
  const ByteCollector collector(r);
  if (code.insertion == Insertion::zero) {
    write_byte_loop(r, byte, {run, collector.shift(), collector.held()}, [&](const Place& bit) {
      collector.write_put(bit);
      write_count_ones(r, run.copy, bit);
      r.if_(run.copy == code.run, [&] {
        collector.write_put_zero();
        r.set(run.copy, 0);
      });
    });
    return r;
  }
  const Held last = declare_held(r, "last");
  write_byte_loop(r, byte, {run, last, collector.shift(), collector.held()}, [&](const Place& bit) {
    collector.write_put(bit);
    write_count_equal(r, run.copy, last.copy, bit);
    r.if_(run.copy == code.run, [&] {
      r.set(last.copy, last.copy ^ 1);
      collector.write_put(last.copy);
      r.set(run.copy, 1);
    });
  });
  return r;
}

Routine decoder(const BitStuffing& code) {
  Routine r("unstuff_byte");
  const Place byte = r.parameter_u8("byte");
  const Place violation = r.local_u8("violation");
  const Held run = declare_held(r, "run");
  const ByteCollector collector(r);
  r.set(violation, 0);
  if (code.insertion == Insertion::zero) {
    write_byte_loop(r, byte, {run, collector.shift(), collector.held()}, [&](const Place& bit) {
      r.if_else(
          run.copy == code.run,
          [&] {
            r.if_else(
                bit, [&] { r.set(violation, 1); }, [&] { r.set(run.copy, 0); });
          },
          [&] {
            write_count_ones(r, run.copy, bit);
            collector.write_put(bit);
          });
    });
    r.return_(violation);
    return r;
  }
  const Held last = declare_held(r, "last");
  write_byte_loop(r, byte, {run, last, collector.shift(), collector.held()}, [&](const Place& bit) {
    r.if_else(
        run.copy == code.run,
        [&] {
          r.if_else(
              bit == last.copy, [&] { r.set(violation, 1); },
              [&] {
                r.set(run.copy, 1);
                r.set(last.copy, bit);
              });
        },
        [&] {
          write_count_equal(r, run.copy, last.copy, bit);
          collector.write_put(bit);
        });
  });
  r.return_(violation);
  return r;
}

}  // namespace

Routine bit_stuffing_routine(const BitStuffing& code) {
  return code.direction == Direction::encode ? encoder(code) : decoder(code);
}

}  // namespace portweigh::blocks

// Bit stuffing in firmware: one bit at a time, whole bytes to a ring of 32 bytes.
//
// The bit put out is a subroutine in the encoder, which puts out both data and inserted bits.
// Tested by tests/blocks/bit_stuffing_test.cpp.
#include <functional>

#include "blocks/bit_stuffing.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr unsigned queue_bytes = 32;

// Bits to bytes to the ring; `bit` is 0 or 1.
class ByteCollector {
 public:
  explicit ByteCollector(Routine& r)
      : r_(r),
        queue_(r.array_u8("queue", queue_bytes)),
        head_(r.state_u8("head")),
        shift_(r.state_u8("shift")),
        held_(r.state_u8("held")) {}

  void write_put(const Expression& bit) const {
    r_.set(shift_, shift_ >> 1);
    r_.if_(bit, [&] { r_.set(shift_, shift_ | 0x80); });
    r_.set(held_, held_ + 1);
    r_.if_(held_ == 8, [&] {
      r_.set(queue_[head_ & (queue_bytes - 1)], shift_);
      r_.set(head_, head_ + 1);
      r_.set(held_, 0);
    });
  }

 private:
  Routine& r_;
  firmware::Array queue_;
  Place head_;
  Place shift_;
  Place held_;
};

void for_each_bit(Routine& r, const Place& byte, const std::function<void(const Place& bit)>& body) {
  const Place turn = r.local_u8("turn");
  const Place rest = r.local_u8("rest");
  const Place bit = r.local_u8("bit");
  r.set(rest, byte);
  r.for_count(turn, 8, [&] {
    r.set(bit, rest & 1);
    r.set(rest, rest >> 1);
    body(bit);
  });
}

Routine encoder(const BitStuffing& code) {
  Routine r("stuff_byte");
  const Place byte = r.parameter_u8("byte");
  const Place run = r.state_u8("run");
  const Place last = code.insertion == Insertion::complement ? r.state_u8("last") : run;
  const ByteCollector collector(r);
  const auto put = r.subroutine("put_bit", {firmware::Type::u8}, [&](const std::vector<Place>& arguments) {
    collector.write_put(arguments[0]);
  });
  for_each_bit(r, byte, [&](const Place& bit) {
    r.call(put, {bit});
    if (code.insertion == Insertion::zero) {
      r.if_else(
          bit,
          [&] {
            r.set(run, run + 1);
            r.if_(run == code.run, [&] {
              r.call(put, {0});
              r.set(run, 0);
            });
          },
          [&] { r.set(run, 0); });
      return;
    }
    r.if_(bit != last, [&] {
      r.set(run, 0);
      r.set(last, bit);
    });
    r.set(run, run + 1);
    r.if_(run == code.run, [&] {
      r.set(last, last ^ 1);
      r.call(put, {last});
      r.set(run, 1);
    });
  });
  return r;
}

Routine decoder(const BitStuffing& code) {
  Routine r("unstuff_byte");
  const Place byte = r.parameter_u8("byte");
  const Place run = r.state_u8("run");
  const Place last = code.insertion == Insertion::complement ? r.state_u8("last") : run;
  const Place violation = r.local_u8("violation");
  const ByteCollector collector(r);
  r.set(violation, 0);
  for_each_bit(r, byte, [&](const Place& bit) {
    const bool is_zero = code.insertion == Insertion::zero;
    const Expression continues = is_zero ? Expression(bit) : bit == last;
    r.if_else(
        run == code.run,
        [&] {
          r.if_else(
              continues, [&] { r.set(violation, 1); },
              [&] {
                r.set(run, is_zero ? 0 : 1);
                if (!is_zero) r.set(last, bit);
              });
        },
        [&] {
          if (is_zero) {
            r.if_else(
                bit, [&] { r.set(run, run + 1); }, [&] { r.set(run, 0); });
          } else {
            r.if_(bit != last, [&] {
              r.set(run, 0);
              r.set(last, bit);
            });
            r.set(run, run + 1);
          }
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

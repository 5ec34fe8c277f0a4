// Kind "buffer", firmware twin: the ring between an interrupt and a task.
//
// A power of two of words: the indices run freely and are masked at the access, head - tail is the level.
// Any other number: one slot more than words, the indices wrap by comparison, full is one slot short.
// Only the writer moves `head` and only the reader moves `tail`, so neither has to lock the other out.
// Tested by tests/blocks/packet/buffer_test.cpp.
#include <algorithm>
#include <bit>
#include <optional>

#include "blocks/packet/buffer.hpp"
#include "blocks/sized_variables.hpp"

namespace portweigh::blocks {
namespace {

using firmware::Array;
using firmware::Expression;
using firmware::Place;
using firmware::Routine;

constexpr std::uint32_t does_put = 1;
constexpr std::uint32_t does_get = 2;
constexpr std::uint32_t put_refused = 4;
constexpr std::uint32_t get_refused = 8;

class RingWriter {
 public:
  RingWriter(Routine& routine, const BufferShape& shape, BufferEvent event)
      : r_(routine),
        shape_(shape),
        slots_(shape.is_power_of_two() ? shape.words : shape.words + 1),
        index_bits_(static_cast<unsigned>(std::bit_width(slots_))),
        ring_(sized_array(routine, "ring", std::min(shape.bits, 32U), slots_)),
        head_(sized_state(routine, "head", index_bits_)),
        tail_(sized_state(routine, "tail", index_bits_)),
        visible_(head_),
        freed_(tail_),
        position_(sized_local(routine, "position", index_bits_)),
        next_(sized_local(routine, "next", index_bits_)),
        taken_(sized_local(routine, "taken", std::min(shape.bits, 32U))) {
    if (shape.bits > 32) {
      ring_high_ = sized_array(routine, "ring_high", shape.bits - 32, slots_);
      taken_high_ = sized_local(routine, "taken_high", shape.bits - 32);
    }
    if (shape.style == BufferStyle::packets) {
      visible_ = sized_state(routine, "committed", index_bits_);
      freed_ = sized_state(routine, "released", index_bits_);
    }
    if (event == BufferEvent::chosen) result_ = routine.local_u8("result");
  }

  void write_put(const Expression& word, const std::optional<Place>& word_high) const {
    r_.set(position_, head_);
    const auto store = [&] {
      r_.set(ring_[slot(position_)], word);
      if (word_high) r_.set((*ring_high_)[slot(position_)], *word_high);
      r_.set(head_, shape_.is_power_of_two() ? position_ + 1 : Expression(next_));
    };
    if (shape_.is_power_of_two()) {
      r_.if_else((position_ - freed_) != shape_.words, store, [&] { refuse(put_refused); });
    } else {
      write_next();
      r_.if_else(next_ != freed_, store, [&] { refuse(put_refused); });
    }
  }

  void write_get() const {
    r_.set(position_, tail_);
    r_.if_else(
        position_ != visible_,
        [&] {
          r_.set(taken_, ring_[slot(position_)]);
          if (taken_high_) r_.set(*taken_high_, (*ring_high_)[slot(position_)]);
          if (!shape_.is_power_of_two()) write_next();
          r_.set(tail_, shape_.is_power_of_two() ? position_ + 1 : Expression(next_));
        },
        [&] { refuse(get_refused); });
  }

  const Place& taken() const { return taken_; }
  const std::optional<Place>& result() const { return result_; }

 private:
  Expression slot(const Expression& position) const {
    return shape_.is_power_of_two() ? position & (slots_ - 1) : position;
  }
  void write_next() const {
    r_.set(next_, position_ + 1);
    r_.if_(next_ == slots_, [&] { r_.set(next_, 0); });
  }
  void refuse(std::uint32_t what) const {
    if (result_) r_.set(*result_, *result_ | what);
  }

  Routine& r_;
  BufferShape shape_;
  unsigned slots_;
  unsigned index_bits_;
  Array ring_;
  std::optional<Array> ring_high_;
  Place head_;
  Place tail_;
  Place visible_;  // how far a reader may read
  Place freed_;    // how far a writer may write, one turn later
  Place position_;
  Place next_;
  Place taken_;
  std::optional<Place> taken_high_;
  std::optional<Place> result_;
};

}  // namespace

Routine buffer_routine(const BufferShape& shape, BufferEvent event) {
  Routine routine("ring");
  std::optional<Place> operations;
  if (event == BufferEvent::chosen) operations = routine.parameter_u8("operations");
  const auto word = sized_parameter(routine, "word", std::min(shape.bits, 32U));
  std::optional<Place> word_high;
  if (shape.bits > 32) word_high = sized_parameter(routine, "word_high", shape.bits - 32);
  const RingWriter ring(routine, shape, event);
  if (event == BufferEvent::put_and_get) {
    ring.write_put(word, word_high);
    ring.write_get();
    routine.return_(ring.taken());
    return routine;
  }
  routine.set(*ring.result(), 0);
  routine.if_((*operations & does_put) != 0, [&] { ring.write_put(word, word_high); });
  routine.if_((*operations & does_get) != 0, [&] { ring.write_get(); });
  routine.return_(*ring.result());
  return routine;
}

}  // namespace portweigh::blocks

#include "logic/cover/cover_polish.hpp"

#include <algorithm>
#include <array>
#include <functional>
#include <map>
#include <utility>

namespace portweigh::logic {
namespace {

constexpr std::uint32_t none = 0xFFFFFFFFU;

// Visits every literal by which a root reads a signal in one given sense.
void for_each_sensed_root(Cover& cover, const std::function<void(Literal&)>& visit) {
  for (CoveredOutput& output : cover.outputs) visit(output.literal);
  for (CoveredRegister& reg : cover.registers) visit(reg.next);
  for (CoveredMemory& memory : cover.memories) {
    for (Literal& root : memory.roots) visit(root);
  }
}

// The other literals: whatever reads them takes either sense.
void for_each_free_literal(Cover& cover, const std::function<void(Literal&)>& visit) {
  for (CoveredRegister& reg : cover.registers) {
    visit(reg.enable);
    visit(reg.reset);
  }
  for (CarryBit& bit : cover.carry_bits) {
    visit(bit.a);
    visit(bit.b);
    visit(bit.carry_in);
  }
}

// Drops inputs without effect, keeping the order of the others.
void drop_unused_inputs(Lut& lut) {
  std::vector<std::uint32_t> leaves;
  std::vector<unsigned> places(lut.leaves.size(), 0);
  for (unsigned i = 0; i < lut.leaves.size(); ++i) {
    if (!lut.function.depends_on(i)) continue;
    places[i] = static_cast<unsigned>(leaves.size());
    leaves.push_back(lut.leaves[i]);
  }
  if (leaves.size() == lut.leaves.size()) return;
  lut.function = lut.function.moved(places);
  lut.leaves = std::move(leaves);
}

class Polisher {
 public:
  explicit Polisher(const Cover& cover) : cover_(cover), is_dead_(cover.luts.size(), false) {}

  Cover polish() {
    look_through();
    while (merge_into_readers()) {
    }
    set_senses();
    compact();
    return std::move(cover_);
  }

 private:
  // Replaces what a LUT's input reads by its alias.
  static void substitute(Lut& lut, const std::vector<Literal>& alias) {
    for (unsigned i = 0; i < lut.leaves.size(); ++i) {
      const Literal target = alias[lut.leaves[i]];
      if (target.is_complemented()) lut.function = lut.function.with_input(i, ~TruthTable::input(i));
      if (target.node() == 0) lut.function = lut.function.cofactor(i, false);
      lut.leaves[i] = target.node();
      for (unsigned j = 0; j < i; ++j) {
        if (lut.leaves[j] != lut.leaves[i]) continue;
        lut.function = lut.function.with_input(i, TruthTable::input(j));
      }
    }
    drop_unused_inputs(lut);
  }

  void look_through() {
    std::vector<Literal> alias;
    for (std::uint32_t i = 0; i < cover_.signals.size(); ++i) alias.emplace_back(i, false);
    std::map<std::pair<std::vector<std::uint32_t>, std::array<std::uint64_t, TruthTable::word_count>>,
             std::uint32_t>
        known;
    for (std::size_t i = 0; i < cover_.luts.size(); ++i) {
      Lut& lut = cover_.luts[i];
      substitute(lut, alias);
      if (lut.leaves.size() <= 1) {
        const bool is_complemented = lut.function.at(0);
        alias[lut.signal] = Literal(lut.leaves.empty() ? 0 : lut.leaves.front(), is_complemented);
        is_dead_[i] = true;
        continue;
      }
      std::array<std::uint64_t, TruthTable::word_count> words{};
      for (unsigned word = 0; word < words.size(); ++word) words[word] = lut.function.word(word);
      const auto [entry, is_new] = known.try_emplace({lut.leaves, words}, lut.signal);
      if (is_new) continue;
      alias[lut.signal] = Literal(entry->second, false);
      is_dead_[i] = true;
    }
    const auto follow = [&alias](Literal& literal) {
      literal = alias[literal.node()].complement_if(literal.is_complemented());
    };
    for_each_sensed_root(cover_, follow);
    for_each_free_literal(cover_, follow);
  }

  // Readers of each signal that are LUTs; `none` for several, or a root, or a carry bit.
  std::vector<std::uint32_t> single_readers() {
    std::vector<std::uint32_t> reader(cover_.signals.size(), none);
    std::vector<std::uint32_t> count(cover_.signals.size(), 0);
    for (std::uint32_t i = 0; i < cover_.luts.size(); ++i) {
      if (is_dead_[i]) continue;
      for (const std::uint32_t leaf : cover_.luts[i].leaves) {
        ++count[leaf];
        reader[leaf] = i;
      }
    }
    const auto read_twice = [&count](Literal& literal) { count[literal.node()] += 2; };
    for_each_sensed_root(cover_, read_twice);
    for_each_free_literal(cover_, read_twice);
    for (std::uint32_t i = 0; i < cover_.luts.size(); ++i) {
      const std::uint32_t signal = cover_.luts[i].signal;
      if (count[signal] == 0 && !is_dead_[i]) {
        is_dead_[i] = true;
        has_removed_ = true;
      }
    }
    for (std::size_t i = 0; i < reader.size(); ++i) {
      if (count[i] != 1) reader[i] = none;
    }
    return reader;
  }

  // One sweep; true if anything was merged or removed.
  bool merge_into_readers() {
    has_removed_ = false;
    const std::vector<std::uint32_t> reader = single_readers();
    std::vector<bool> has_changed(cover_.luts.size(), false);
    for (std::uint32_t i = 0; i < cover_.luts.size(); ++i) {
      const std::uint32_t into = reader[cover_.luts[i].signal];
      if (is_dead_[i] || into == none || is_dead_[into] || has_changed[i]) continue;
      if (!merge(cover_.luts[i], cover_.luts[into])) continue;
      has_changed[into] = true;
      is_dead_[i] = true;
      has_removed_ = true;
    }
    return has_removed_;
  }

  bool merge(const Lut& lut, Lut& reader) const {
    std::vector<std::uint32_t> leaves;
    for (const std::uint32_t leaf : reader.leaves) {
      if (leaf != lut.signal) leaves.push_back(leaf);
    }
    for (const std::uint32_t leaf : lut.leaves) {
      if (std::find(leaves.begin(), leaves.end(), leaf) == leaves.end()) leaves.push_back(leaf);
    }
    if (leaves.size() > cover_.options.lut_inputs) return false;
    const auto place_of = [&leaves](std::uint32_t leaf) {
      return static_cast<unsigned>(std::find(leaves.begin(), leaves.end(), leaf) - leaves.begin());
    };
    std::vector<unsigned> inner_places;
    for (const std::uint32_t leaf : lut.leaves) inner_places.push_back(place_of(leaf));
    const TruthTable inner = lut.function.moved(inner_places);
    const auto position = static_cast<unsigned>(
        std::find(reader.leaves.begin(), reader.leaves.end(), lut.signal) - reader.leaves.begin());
    std::vector<unsigned> outer_places;
    for (const std::uint32_t leaf : reader.leaves) {
      outer_places.push_back(leaf == lut.signal ? 0 : place_of(leaf));
    }
    const TruthTable when_set = reader.function.cofactor(position, true).moved(outer_places);
    const TruthTable when_clear = reader.function.cofactor(position, false).moved(outer_places);
    reader.function = (inner & when_set) | (~inner & when_clear);
    reader.leaves = std::move(leaves);
    drop_unused_inputs(reader);
    return true;
  }

  void set_senses() {
    constexpr unsigned straight = 1;
    constexpr unsigned inverse = 2;
    std::vector<unsigned> senses(cover_.signals.size(), 0);
    for_each_sensed_root(cover_, [&senses](Literal& literal) {
      senses[literal.node()] |= literal.is_complemented() ? inverse : straight;
    });
    std::vector<bool> is_flipped(cover_.signals.size(), false);
    std::vector<std::uint32_t> inverter(cover_.signals.size(), none);
    const auto signal_count = static_cast<std::uint32_t>(cover_.signals.size());
    for (std::uint32_t signal = 1; signal < signal_count; ++signal) {
      if ((senses[signal] & inverse) == 0) continue;
      if (cover_.signals[signal].kind == SignalKind::lut && senses[signal] == inverse) {
        is_flipped[signal] = true;
      } else {
        inverter[signal] = add_inverter(signal);
      }
    }
    flip(is_flipped);
    for_each_sensed_root(cover_, [&](Literal& literal) {
      if (!literal.is_complemented() || literal.node() == 0) return;
      if (is_flipped[literal.node()]) {
        literal = !literal;
      } else if (inverter[literal.node()] != none) {
        literal = Literal(inverter[literal.node()], false);
      }
    });
    for_each_free_literal(cover_, [&is_flipped](Literal& literal) {
      if (is_flipped[literal.node()]) literal = !literal;
    });
  }

  std::uint32_t add_inverter(std::uint32_t signal) {
    const auto added = static_cast<std::uint32_t>(cover_.signals.size());
    cover_.signals.push_back({SignalKind::lut, static_cast<std::uint32_t>(cover_.luts.size())});
    cover_.luts.push_back({added, {signal}, ~TruthTable::input(0), 0});
    is_dead_.push_back(false);
    return added;
  }

  // Complements the marked LUTs and what their reading LUTs make of them.
  void flip(const std::vector<bool>& is_flipped) {
    for (Lut& lut : cover_.luts) {
      for (unsigned i = 0; i < lut.leaves.size(); ++i) {
        if (is_flipped[lut.leaves[i]]) lut.function = lut.function.with_input(i, ~TruthTable::input(i));
      }
      if (lut.signal < is_flipped.size() && is_flipped[lut.signal]) lut.function = ~lut.function;
    }
  }

  // Removes dead LUTs and numbers the signals anew.
  void compact() {
    std::vector<std::uint32_t> number(cover_.signals.size(), 0);
    std::vector<Signal> signals;
    std::vector<Lut> luts;
    for (std::uint32_t i = 0; i < cover_.signals.size(); ++i) {
      Signal signal = cover_.signals[i];
      if (signal.kind == SignalKind::lut) {
        if (is_dead_[signal.index]) continue;
        luts.push_back(std::move(cover_.luts[signal.index]));
        signal.index = static_cast<std::uint32_t>(luts.size() - 1);
        luts.back().signal = static_cast<std::uint32_t>(signals.size());
      }
      number[i] = static_cast<std::uint32_t>(signals.size());
      signals.push_back(signal);
    }
    for (Lut& lut : luts) {
      for (std::uint32_t& leaf : lut.leaves) leaf = number[leaf];
    }
    for (CarryBit& bit : cover_.carry_bits) {
      bit.sum = number[bit.sum];
      bit.carry = number[bit.carry];
    }
    for (CoveredRegister& reg : cover_.registers) reg.signal = number[reg.signal];
    const auto renumber = [&number](Literal& literal) {
      literal = Literal(number[literal.node()], literal.is_complemented());
    };
    for_each_sensed_root(cover_, renumber);
    for_each_free_literal(cover_, renumber);
    cover_.signals = std::move(signals);
    cover_.luts = std::move(luts);
  }

  Cover cover_;
  std::vector<bool> is_dead_;
  bool has_removed_ = false;
};

}  // namespace

Cover polished(const Cover& cover) {
  return Polisher(cover).polish();
}

}  // namespace portweigh::logic

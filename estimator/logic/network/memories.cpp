#include "logic/network/memories.hpp"

#include <fmt/core.h>

#include <utility>

namespace portweigh::logic {
namespace {

using Bits = std::vector<Literal>;

// Copies a network node by node and builds small memories out of gates and registers on the way.
class MemoryExpander {
 public:
  MemoryExpander(const Network& source, const std::function<bool(const Memory&)>& is_expanded)
      : source_(source), image_(source.size(), constant_false), words_(source.memories().size()) {
    for (const Memory& memory : source.memories()) {
      is_expanded_.push_back(is_expanded(memory));
    }
  }

  Network expand() {
    add_memories();
    for (std::uint32_t node = 1; node < source_.size(); ++node) copy(node);
    connect_registers();
    for (std::uint32_t i = 0; i < words_.size(); ++i) connect_memory(i);
    for (const NamedLiteral& output : source_.outputs())
      result_.add_output(output.name, mapped(output.literal));
    for (const Chain& chain : source_.chains()) {
      Chain copied;
      for (const ChainBit& bit : chain) {
        copied.push_back(
            {mapped(bit.a), mapped(bit.b), mapped(bit.carry_in), mapped(bit.sum), mapped(bit.carry_out)});
      }
      result_.mark_chain(std::move(copied));
    }
    return std::move(result_);
  }

 private:
  Literal mapped(Literal literal) const { return literal.in(image_); }
  Bits mapped(const Bits& bits) const {
    Bits result;
    for (const Literal bit : bits) result.push_back(mapped(bit));
    return result;
  }

  static bool initial_bit(const Memory& memory, std::uint32_t word, std::uint32_t bit) {
    return word < memory.contents.size() && (memory.contents[word] >> bit & 1U) != 0;
  }

  void add_memories() {
    kept_.resize(words_.size());
    for (std::uint32_t i = 0; i < words_.size(); ++i) {
      const Memory& memory = source_.memories()[i];
      if (!is_expanded_[i]) {
        kept_[i] = result_.add_memory(memory.name, memory.words, memory.bits, memory.contents);
        continue;
      }
      for (std::uint32_t word = 0; word < memory.words; ++word) {
        Bits bits;
        for (std::uint32_t bit = 0; bit < memory.bits; ++bit) {
          const bool initial = initial_bit(memory, word, bit);
          bits.push_back(memory.writes.empty()
                             ? constant_false.complement_if(initial)
                             : result_.add_register(fmt::format("{}.word{}[{}]", memory.name, word, bit)));
        }
        words_[i].push_back(std::move(bits));
      }
    }
  }

  void copy(std::uint32_t index) {
    switch (source_.kind(index)) {
      case NodeKind::constant:
        break;
      case NodeKind::input:
        image_[index] = result_.add_input(source_.inputs()[source_.source_index(index)].name);
        break;
      case NodeKind::register_output:
        image_[index] = result_.add_register(source_.registers()[source_.source_index(index)].name);
        break;
      case NodeKind::and_gate:
        image_[index] = result_.make_and(mapped(source_.fanin0(index)), mapped(source_.fanin1(index)));
        break;
      case NodeKind::xor_gate:
        image_[index] = result_.make_xor(mapped(source_.fanin0(index)), mapped(source_.fanin1(index)));
        break;
      case NodeKind::memory_output:
        copy_read(index, source_.source_index(index));
        break;
    }
  }

  // The outputs of one read port are consecutive nodes; the first one builds them all.
  void copy_read(std::uint32_t index, std::uint32_t memory) {
    for (const MemoryReadPort& port : source_.memories()[memory].reads) {
      if (port.outputs.front() != index) continue;
      const Bits data = is_expanded_[memory]
                            ? read_words(memory, port)
                            : result_.add_memory_read(kept_[memory], mapped(port.address), port.style);
      for (std::size_t bit = 0; bit < data.size(); ++bit) image_[port.outputs[bit]] = data[bit];
    }
  }

  Bits read_words(std::uint32_t memory, const MemoryReadPort& port) {
    const Bits address = mapped(port.address);
    const Memory& source = source_.memories()[memory];
    Bits data;
    for (std::uint32_t bit = 0; bit < source.bits; ++bit) data.push_back(read_bit(memory, bit, address));
    if (port.style == ReadStyle::combinational) return data;
    for (std::uint32_t bit = 0; bit < source.bits; ++bit) {
      const Literal output = result_.add_register(fmt::format("{}.read[{}]", source.name, bit));
      result_.connect(output, data[bit]);
      data[bit] = output;
    }
    return data;
  }

  Literal read_bit(std::uint32_t memory, std::uint32_t bit, const Bits& address) {
    Bits level;
    for (const Bits& word : words_[memory]) level.push_back(word[bit]);
    for (const Literal select : address) {
      Bits next;
      for (std::size_t i = 0; i < level.size(); i += 2) {
        const Literal high = i + 1 < level.size() ? level[i + 1] : constant_false;
        next.push_back(result_.make_mux(select, high, level[i]));
      }
      level = std::move(next);
    }
    return level.front();
  }

  void connect_registers() {
    for (const Register& reg : source_.registers()) {
      result_.connect(mapped(Literal(reg.node, false)), mapped(reg.next), mapped(reg.enable),
                      mapped(reg.reset), reg.reset_value);
    }
  }

  void connect_memory(std::uint32_t index) {
    const Memory& memory = source_.memories()[index];
    if (!is_expanded_[index]) {
      for (const MemoryWritePort& port : memory.writes) {
        result_.add_memory_write(kept_[index],
                                 {mapped(port.enable), mapped(port.address), mapped(port.data)});
      }
      return;
    }
    if (memory.writes.empty()) return;
    for (std::uint32_t word = 0; word < memory.words; ++word) connect_word(index, word);
  }

  Literal selects(const MemoryWritePort& port, std::uint32_t word) {
    Bits terms{mapped(port.enable)};
    for (std::size_t bit = 0; bit < port.address.size(); ++bit) {
      terms.push_back(mapped(port.address[bit]).complement_if(bit >= 32 || (word >> bit & 1U) == 0));
    }
    // Address terms are combined last to first, so that words share the upper part of their decoders.
    Literal result = constant_true;
    for (std::size_t i = terms.size(); i-- > 0;) result = result_.make_and(result, terms[i]);
    return result;
  }

  void connect_word(std::uint32_t index, std::uint32_t word) {
    const Memory& memory = source_.memories()[index];
    Literal enable = constant_false;
    Bits data(memory.bits, constant_false);
    for (const MemoryWritePort& port : memory.writes) {
      const Literal is_written = selects(port, word);
      for (std::uint32_t bit = 0; bit < memory.bits; ++bit) {
        const Literal written = mapped(port.data[bit]);
        data[bit] = enable == constant_false ? written : result_.make_mux(is_written, written, data[bit]);
      }
      enable = result_.make_or(enable, is_written);
    }
    for (std::uint32_t bit = 0; bit < memory.bits; ++bit) {
      result_.connect(words_[index][word][bit], data[bit], enable, constant_false,
                      initial_bit(memory, word, bit));
    }
  }

  const Network& source_;
  std::vector<bool> is_expanded_;
  std::vector<Literal> image_;
  std::vector<std::vector<Bits>> words_;  // of expanded memories: word, bit
  std::vector<std::uint32_t> kept_;
  Network result_;
};

}  // namespace

Network memories_to_registers(const Network& network, const std::function<bool(const Memory&)>& is_expanded) {
  return MemoryExpander(network, is_expanded).expand();
}

}  // namespace portweigh::logic

// Instruction-set model of the soft processor in plain C++, written from docs/soft-processor.md alone: no
// clocks, no networks. Used by soft_processor_test.cpp.
#pragma once

#include <cstdint>
#include <functional>
#include <map>
#include <utility>
#include <vector>

namespace portweigh::blocks {

class ProcessorModel {
 public:
  ProcessorModel(unsigned bits, std::vector<std::uint64_t> program, unsigned data_bytes)
      : bits_(bits),
        program_(std::move(program)),
        data_(data_bytes, 0),
        registers_(bits == 32 ? 32 : 16, 0) {}

  std::function<std::uint64_t(std::uint64_t)> read_port = [](std::uint64_t) { return 0; };
  std::vector<std::pair<std::uint64_t, std::uint64_t>> port_writes;

  bool is_asleep() const { return asleep_; }
  std::uint64_t reg(unsigned number) const { return registers_[number]; }
  std::uint64_t byte(std::size_t address) const { return data_[address]; }

  // One instruction; does nothing while asleep.
  void step() {
    if (asleep_) return;
    const std::uint64_t word = pc_ < program_.size() ? program_[pc_] : 0;
    ++pc_;
    const unsigned i = bits_ == 32 ? 17 : 11;
    const unsigned r = bits_ == 32 ? 5 : 4;
    const std::uint64_t low = word % (std::uint64_t{1} << i);
    const auto ra = static_cast<unsigned>(word >> i) % (1U << r);
    const auto rd = static_cast<unsigned>(word >> (i + r)) % (1U << r);
    const auto op = static_cast<unsigned>(word >> (i + 2 * r)) % 32;
    const std::int64_t immediate = signed_value(low, i);
    const auto rb = static_cast<unsigned>(low % (1U << r));
    if (op < 16) {
      const std::uint64_t second = op < 8 ? registers_[rb] : cut(static_cast<std::uint64_t>(immediate));
      set(rd, calculate(op % 8, registers_[ra], second, static_cast<unsigned>(low >> (i - 2))));
    } else if (op < 20) {
      set(rd, load(op - 16, address(registers_[ra], immediate)));
    } else if (op < 23) {
      store(op - 20, address(registers_[ra], immediate), registers_[rd]);
    } else if (op == 23) {
      special(ra % 8, rd, low, i);
    } else if (op < 30) {
      if (holds(op - 24, registers_[ra], registers_[rd])) pc_ += static_cast<std::uint64_t>(immediate);
    } else {
      control(op, rd, ra, immediate, signed_value(std::uint64_t{ra} << i | low, i + r));
    }
    pc_ %= std::uint64_t{1} << (bits_ == 32 ? 24 : bits_ == 16 ? 16 : 12);
  }

 private:
  static std::int64_t signed_value(std::uint64_t value, unsigned bits) {
    const std::uint64_t sign = std::uint64_t{1} << (bits - 1);
    return static_cast<std::int64_t>(value ^ sign) - static_cast<std::int64_t>(sign);
  }
  std::uint64_t cut(std::uint64_t value) const { return value & ((std::uint64_t{1} << bits_) - 1); }
  void set(unsigned number, std::uint64_t value) {
    if (number != 0) registers_[number] = cut(value);
  }
  std::uint64_t calculate(unsigned function, std::uint64_t a, std::uint64_t b, unsigned kind) const {
    switch (function) {
      case 0:
        return a + b;
      case 1:
        return a - b;
      case 2:
        return a & b;
      case 3:
        return a | b;
      case 4:
        return a ^ b;
      case 5:
        return signed_value(a, bits_) < signed_value(b, bits_) ? 1 : 0;
      case 6:
        return a < b ? 1 : 0;
      default:
        break;
    }
    const auto count = static_cast<unsigned>(b % bits_);
    if (kind == 0) return a << count;
    if (kind == 1) return a >> count;
    if (kind == 3) return a * b;
    return static_cast<std::uint64_t>(signed_value(a, bits_) >> count);
  }
  // Bit 63 tells a port.
  std::uint64_t address(std::uint64_t base, std::int64_t offset) const {
    std::uint64_t sum = cut(base + static_cast<std::uint64_t>(offset));
    unsigned width = bits_;
    if (bits_ == 8) {
      sum |= page_ << 8U;
      width = 16;
    }
    return (sum >> (width - 1)) != 0 ? sum | std::uint64_t{1} << 63U : sum;
  }
  std::uint64_t load(unsigned kind, std::uint64_t where) const {
    if ((where >> 63U) != 0) return read_port(where % 256);
    const unsigned bytes = kind == 0 ? bits_ / 8 : kind == 1 ? 2 : 1;
    const std::uint64_t first = where - where % bytes;
    std::uint64_t value = 0;
    for (unsigned i = 0; i < bytes; ++i) value |= std::uint64_t{data_.at(first + i)} << (8 * i);
    return kind == 3 ? static_cast<std::uint64_t>(signed_value(value, 8)) : value;
  }
  void store(unsigned kind, std::uint64_t where, std::uint64_t value) {
    if ((where >> 63U) != 0) {
      port_writes.emplace_back(where % 256, value % 256);
      return;
    }
    const unsigned bytes = kind == 0 ? bits_ / 8 : kind == 1 ? 2 : 1;
    const std::uint64_t first = where - where % bytes;
    for (unsigned i = 0; i < bytes; ++i) data_.at(first + i) = static_cast<std::uint8_t>(value >> (8 * i));
  }
  void special(unsigned what, unsigned rd, std::uint64_t low, unsigned immediate_bits) {
    if (what == 0) set(rd, low << (bits_ - immediate_bits));
    if (what == 1) asleep_ = true;
    if (what == 2) page_ = low % 256;
  }
  bool holds(unsigned kind, std::uint64_t a, std::uint64_t b) const {
    const bool less = kind >= 4 ? signed_value(a, bits_) < signed_value(b, bits_) : a < b;
    const bool truth = kind < 2 ? a == b : less;
    return kind % 2 == 0 ? truth : !truth;
  }
  void control(unsigned op, unsigned rd, unsigned ra, std::int64_t immediate, std::int64_t long_offset) {
    const std::uint64_t next = pc_;
    if (op == 30) {
      pc_ += static_cast<std::uint64_t>(long_offset);
      if (bits_ == 8) stack_.push_back(next);
    } else if (bits_ == 8) {
      pc_ = stack_.back();
      stack_.pop_back();
    } else {
      pc_ = cut(registers_[ra] + static_cast<std::uint64_t>(immediate));
    }
    if (bits_ != 8) set(rd, next);
  }

  unsigned bits_;
  std::vector<std::uint64_t> program_;
  std::vector<std::uint8_t> data_;
  std::vector<std::uint64_t> registers_;
  std::vector<std::uint64_t> stack_;
  std::uint64_t pc_ = 0;
  std::uint64_t page_ = 0;
  bool asleep_ = false;
};

}  // namespace portweigh::blocks

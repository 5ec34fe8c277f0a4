// Runs a C twin compiled for a 32-bit two-stage core (16-bit instructions) and counts cycles with the
// usual cycles of that class: two_stage_cycles BASE IMAGE NM. The image is a flat binary for address
// 0x1000. Prints the mean cycles of an event without call and return. Every result is compared with the
// routine's.
//
// Cycles: 1 for data processing and multiply, 2 for loads and stores, 1 + n for multiples (3 + n if they
// load the program counter), 2 for taken branches and bx, 1 for others, 3 for bl; from memory, unconfirmed
// [M].
#include <array>
#include <stdexcept>

#include "events.hpp"

namespace {

constexpr std::uint32_t code_base = 0x1000;
constexpr std::uint32_t ram_base = 0x20000000;
constexpr std::uint32_t stop = 0xFFFF0000;

class Core {
 public:
  std::vector<std::uint8_t> code;
  std::vector<std::uint8_t> ram = std::vector<std::uint8_t>(65536);
  std::array<std::uint32_t, 16> r{};
  std::uint64_t cycles = 0;

  std::uint8_t& byte(std::uint32_t a) {
    if (a >= ram_base && a - ram_base < ram.size()) return ram[a - ram_base];
    if (a >= code_base && a - code_base < code.size()) return code[a - code_base];
    throw std::runtime_error("access outside memory");
  }
  std::uint32_t load(std::uint32_t a, unsigned bytes) {
    if (a % bytes != 0) throw std::runtime_error("unaligned access");
    std::uint32_t v = 0;
    for (unsigned k = 0; k < bytes; ++k) v |= std::uint32_t{byte(a + k)} << (8 * k);
    return v;
  }
  void store(std::uint32_t a, std::uint32_t v, unsigned bytes) {
    if (a % bytes != 0) throw std::runtime_error("unaligned access");
    for (unsigned k = 0; k < bytes; ++k) byte(a + k) = static_cast<std::uint8_t>(v >> (8 * k));
  }

  void run(std::uint32_t entry) {
    r[14] = stop | 1U;
    pc_ = entry & ~1U;
    cycles = 0;
    while (pc_ != stop) {
      step();
      if (cycles > 10'000'000) throw std::runtime_error("event does not end");
    }
  }

 private:
  std::uint32_t pc_ = 0;
  bool n_ = false, z_ = false, c_ = false, v_ = false;

  void set_nz(std::uint32_t v) {
    n_ = v >> 31U;
    z_ = v == 0;
  }
  std::uint32_t add(std::uint32_t a, std::uint32_t b, bool carry) {
    const std::uint64_t wide = std::uint64_t{a} + b + (carry ? 1U : 0U);
    const auto result = static_cast<std::uint32_t>(wide);
    c_ = wide >> 32U;
    v_ = (~(a ^ b) & (a ^ result)) >> 31U;
    set_nz(result);
    return result;
  }
  std::uint32_t subtract(std::uint32_t a, std::uint32_t b) { return add(a, ~b, true); }
  std::uint32_t shift(unsigned kind, std::uint32_t a, unsigned n) {
    if (n == 0) {
      set_nz(a);
      return a;
    }
    std::uint32_t result = 0;
    if (kind == 0) {
      c_ = n <= 32 && (a >> (32 - n) & 1U);
      result = n < 32 ? a << n : 0;
    } else if (kind == 1) {
      c_ = n <= 32 && (a >> (n - 1) & 1U);
      result = n < 32 ? a >> n : 0;
    } else {
      const bool sign = a >> 31U;
      c_ = n < 32 ? (a >> (n - 1) & 1U) : sign;
      result = n < 32 ? (sign ? ~(~a >> n) : a >> n) : (sign ? ~0U : 0U);
    }
    set_nz(result);
    return result;
  }
  bool holds(unsigned condition) const {
    const bool results[] = {z_, c_, n_, v_, c_ && !z_, n_ == v_, !z_ && n_ == v_};
    const bool value = results[condition >> 1U];
    return condition & 1U ? !value : value;
  }
  void jump(std::uint32_t target) { pc_ = target & ~1U; }

  void step() {
    const std::uint32_t op = load(pc_, 2);
    const std::uint32_t here = pc_;
    pc_ += 2;
    ++cycles;
    const unsigned d = op & 7U;
    const unsigned s = op >> 3U & 7U;
    const unsigned t = op >> 6U & 7U;
    const unsigned imm5 = op >> 6U & 31U;
    switch (op >> 11U) {
      case 0:
        r[d] = shift(0, r[s], imm5);
        return;
      case 1:
        r[d] = shift(1, r[s], imm5 ? imm5 : 32);
        return;
      case 2:
        r[d] = shift(2, r[s], imm5 ? imm5 : 32);
        return;
      case 3: {
        const std::uint32_t other = op & 0x400U ? t : r[t];
        r[d] = op & 0x200U ? subtract(r[s], other) : add(r[s], other, false);
        return;
      }
      case 4:
        r[op >> 8U & 7U] = op & 0xFFU;
        set_nz(op & 0xFFU);
        return;
      case 5:
        subtract(r[op >> 8U & 7U], op & 0xFFU);
        return;
      case 6:
        r[op >> 8U & 7U] = add(r[op >> 8U & 7U], op & 0xFFU, false);
        return;
      case 7:
        r[op >> 8U & 7U] = subtract(r[op >> 8U & 7U], op & 0xFFU);
        return;
      case 8:
        op & 0x400U ? high(op, here) : logic(op >> 6U & 15U, d, s);
        return;
      case 9:
        ++cycles;
        r[op >> 8U & 7U] = load(((here + 4) & ~3U) + (op & 0xFFU) * 4, 4);
        return;
      case 10:
      case 11:
        register_offset(op >> 9U & 7U, d, r[s] + r[t]);
        return;
      case 12:
        ++cycles;
        store(r[s] + imm5 * 4, r[d], 4);
        return;
      case 13:
        ++cycles;
        r[d] = load(r[s] + imm5 * 4, 4);
        return;
      case 14:
        ++cycles;
        store(r[s] + imm5, r[d], 1);
        return;
      case 15:
        ++cycles;
        r[d] = load(r[s] + imm5, 1);
        return;
      case 16:
        ++cycles;
        store(r[s] + imm5 * 2, r[d], 2);
        return;
      case 17:
        ++cycles;
        r[d] = load(r[s] + imm5 * 2, 2);
        return;
      case 18:
        ++cycles;
        store(r[13] + (op & 0xFFU) * 4, r[op >> 8U & 7U], 4);
        return;
      case 19:
        ++cycles;
        r[op >> 8U & 7U] = load(r[13] + (op & 0xFFU) * 4, 4);
        return;
      case 20:
        r[op >> 8U & 7U] = ((here + 4) & ~3U) + (op & 0xFFU) * 4;
        return;
      case 21:
        r[op >> 8U & 7U] = r[13] + (op & 0xFFU) * 4;
        return;
      case 22:
      case 23:
        miscellaneous(op, d, s);
        return;
      case 24:
      case 25:
        multiple(op);
        return;
      case 26:
      case 27: {
        const unsigned condition = op >> 8U & 15U;
        if (condition >= 14) throw std::runtime_error("undefined instruction");
        if (!holds(condition)) return;
        ++cycles;
        jump(here + 4 + static_cast<std::uint32_t>(static_cast<std::int8_t>(op & 0xFFU)) * 2);
        return;
      }
      case 28:
        ++cycles;
        jump(here + 4 + (((op & 0x7FFU) ^ 0x400U) - 0x400U) * 2);
        return;
      case 30: {
        const std::uint32_t low = load(here + 2, 2);
        const std::uint32_t sign = op >> 10U & 1U;
        const std::uint32_t i1 = ~(low >> 13U ^ sign) & 1U;
        const std::uint32_t i2 = ~(low >> 11U ^ sign) & 1U;
        const std::uint32_t offset =
            (sign ? 0xFF000000U : 0U) | i1 << 23U | i2 << 22U | (op & 0x3FFU) << 12U | (low & 0x7FFU) << 1U;
        r[14] = (here + 4) | 1U;
        cycles += 2;
        jump(here + 4 + offset);
        return;
      }
      default:
        throw std::runtime_error("undefined instruction");
    }
  }

  void logic(unsigned kind, unsigned d, unsigned s) {
    const std::uint32_t a = r[d];
    const std::uint32_t b = r[s];
    switch (kind) {
      case 0:
        r[d] = a & b;
        break;
      case 1:
        r[d] = a ^ b;
        break;
      case 2:
        r[d] = shift(0, a, b & 0xFFU);
        return;
      case 3:
        r[d] = shift(1, a, b & 0xFFU);
        return;
      case 4:
        r[d] = shift(2, a, b & 0xFFU);
        return;
      case 5:
        r[d] = add(a, b, c_);
        return;
      case 6:
        r[d] = add(a, ~b, c_);
        return;
      case 7: {
        const unsigned n = b & 31U;
        r[d] = n ? a >> n | a << (32 - n) : a;
        break;
      }
      case 8:
        set_nz(a & b);
        return;
      case 9:
        r[d] = subtract(0, b);
        return;
      case 10:
        subtract(a, b);
        return;
      case 11:
        add(a, b, false);
        return;
      case 12:
        r[d] = a | b;
        break;
      case 13:
        r[d] = a * b;
        break;
      case 14:
        r[d] = a & ~b;
        break;
      default:
        r[d] = ~b;
        break;
    }
    set_nz(r[d]);
  }

  void high(std::uint32_t op, std::uint32_t here) {
    const unsigned d = (op & 7U) | (op >> 4U & 8U);
    const unsigned s = op >> 3U & 15U;
    const std::uint32_t value = s == 15 ? here + 4 : r[s];
    switch (op >> 8U & 3U) {
      case 0:
        put(d, (d == 15 ? here + 4 : r[d]) + value);
        return;
      case 1:
        subtract(r[d], value);
        return;
      case 2:
        put(d, value);
        return;
      default:
        ++cycles;
        if (op & 0x80U) r[14] = (here + 2) | 1U;
        jump(value);
        return;
    }
  }
  void put(unsigned d, std::uint32_t value) {
    if (d != 15) {
      r[d] = value;
      return;
    }
    ++cycles;
    jump(value);
  }

  void register_offset(unsigned kind, unsigned d, std::uint32_t a) {
    ++cycles;
    switch (kind) {
      case 0:
        store(a, r[d], 4);
        return;
      case 1:
        store(a, r[d], 2);
        return;
      case 2:
        store(a, r[d], 1);
        return;
      case 3:
        r[d] = static_cast<std::uint32_t>(static_cast<std::int8_t>(load(a, 1)));
        return;
      case 4:
        r[d] = load(a, 4);
        return;
      case 5:
        r[d] = load(a, 2);
        return;
      case 6:
        r[d] = load(a, 1);
        return;
      default:
        r[d] = static_cast<std::uint32_t>(static_cast<std::int16_t>(load(a, 2)));
        return;
    }
  }

  void miscellaneous(std::uint32_t op, unsigned d, unsigned s) {
    switch (op >> 8U & 15U) {
      case 0:
        r[13] += (op & 0x80U ? ~((op & 0x7FU) * 4) + 1 : (op & 0x7FU) * 4);
        return;
      case 2: {
        const unsigned kind = op >> 6U & 3U;
        r[d] = kind == 0   ? static_cast<std::uint32_t>(static_cast<std::int16_t>(r[s]))
               : kind == 1 ? static_cast<std::uint32_t>(static_cast<std::int8_t>(r[s]))
               : kind == 2 ? r[s] & 0xFFFFU
                           : r[s] & 0xFFU;
        return;
      }
      case 4:
      case 5: {
        if (op & 0x100U) push(14);
        for (unsigned k = 8; k-- > 0;) {
          if (op >> k & 1U) push(k);
        }
        return;
      }
      case 12:
      case 13: {
        for (unsigned k = 0; k < 8; ++k) {
          if (op >> k & 1U) r[k] = pop();
        }
        if (!(op & 0x100U)) return;
        cycles += 2;
        jump(pop());
        return;
      }
      case 15:
        return;
      default:
        throw std::runtime_error("undefined instruction");
    }
  }
  void push(unsigned which) {
    ++cycles;
    r[13] -= 4;
    store(r[13], r[which], 4);
  }
  std::uint32_t pop() {
    ++cycles;
    r[13] += 4;
    return load(r[13] - 4, 4);
  }

  void multiple(std::uint32_t op) {
    const unsigned base = op >> 8U & 7U;
    std::uint32_t a = r[base];
    const bool is_load = op & 0x800U;
    for (unsigned k = 0; k < 8; ++k) {
      if (!(op >> k & 1U)) continue;
      ++cycles;
      if (is_load) {
        r[k] = load(a, 4);
      } else {
        store(a, r[k], 4);
      }
      a += 4;
    }
    const bool writes_back = !is_load || !(op >> base & 1U);
    if (writes_back) r[base] = a;
  }
};

constexpr unsigned bx_cycles = 2;

}  // namespace

int main(int, char** argv) {
  const auto twin = twins::read_twin(argv[1], argv[3], 4, 0xFFFFFFFF);
  Core core;
  std::ifstream image(argv[2], std::ios::binary);
  core.code.assign(std::istreambuf_iterator<char>(image), {});
  double sum = 0;
  try {
    for (const auto& event : twin.events) {
      for (const auto& poke : event.pokes) {
        const auto& s = twin.symbols.at(poke.name);
        core.store(s.address + poke.index * s.bytes, poke.value, s.bytes);
      }
      core.r.fill(0);
      core.r[13] = ram_base + 0xFF00;
      unsigned next = 0;
      for (const auto address : twin.structures) core.r[next++] = address;
      for (const auto argument : event.arguments) core.r[next++] = argument;
      if (next > 4) throw std::runtime_error("more than four arguments");
      core.run(twin.entry);
      sum += static_cast<double>(core.cycles - bx_cycles);
      for (const auto& expected : event.expected) {
        const auto& s = twin.symbols.at(expected.name);
        if (core.load(s.address + expected.index * s.bytes, s.bytes) != expected.value) {
          throw std::runtime_error("wrong " + expected.name);
        }
      }
      if (event.has_result && core.r[0] != event.result) throw std::runtime_error("wrong result");
    }
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s: %s\n", argv[1], error.what());
    return 1;
  }
  std::printf("%.2f\n", sum / static_cast<double>(twin.events.size()));
  return 0;
}

// Runs a C twin compiled for RV32I and counts cycles as a small sequential soft core does:
// sequential_cycles BASE IMAGE NM. The image is a flat binary for address 0x1000.
// Prints the mean cycles of an event without call and return. Every result is compared with the routine's.
//
// Cycles: 3 for arithmetic and jumps, 5 for loads, stores and taken branches, 3 for branches not taken, 6 for
// indirect jumps, shifts 4 + n/4 + n%4 (four bits at a time, then one by one).  [M]
#include <array>
#include <stdexcept>

#include "events.hpp"

namespace {

constexpr std::uint32_t code_base = 0x1000;
constexpr std::uint32_t ram_base = 0x20000000;
constexpr std::uint32_t stop = 0xFFFF0000;
constexpr unsigned return_cycles = 6;

class Core {
 public:
  std::vector<std::uint8_t> code;
  std::vector<std::uint8_t> ram = std::vector<std::uint8_t>(65536);
  std::array<std::uint32_t, 32> r{};
  std::uint64_t cycles = 0;

  std::uint8_t& byte(std::uint32_t a) {
    if (a >= ram_base && a - ram_base < ram.size()) return ram[a - ram_base];
    if (a >= code_base && a - code_base < code.size()) return code[a - code_base];
    throw std::runtime_error("access outside memory");
  }
  std::uint32_t load(std::uint32_t a, unsigned bytes) {
    std::uint32_t v = 0;
    for (unsigned k = 0; k < bytes; ++k) v |= std::uint32_t{byte(a + k)} << (8 * k);
    return v;
  }
  void store(std::uint32_t a, std::uint32_t v, unsigned bytes) {
    for (unsigned k = 0; k < bytes; ++k) byte(a + k) = static_cast<std::uint8_t>(v >> (8 * k));
  }
  void run(std::uint32_t entry) {
    r[1] = stop;
    pc_ = entry;
    cycles = 0;
    while (pc_ != stop) {
      step();
      r[0] = 0;
      if (cycles > 10'000'000) throw std::runtime_error("event does not end");
    }
  }

 private:
  std::uint32_t pc_ = 0;

  static std::uint32_t sign(std::uint32_t v, unsigned bits) {
    const std::uint32_t top = 1U << (bits - 1);
    return (v ^ top) - top;
  }

  std::uint32_t shifted(unsigned kind, std::uint32_t a, unsigned n, bool is_signed) {
    cycles += 1 + n / 4 + n % 4;
    if (kind == 1) return a << n;
    return is_signed && a >> 31U ? ~(~a >> n) : a >> n;
  }

  std::uint32_t compute(unsigned kind, std::uint32_t a, std::uint32_t b, bool alternate) {
    switch (kind) {
      case 0:
        return alternate ? a - b : a + b;
      case 2:
        return (a ^ 0x80000000U) < (b ^ 0x80000000U) ? 1U : 0U;
      case 3:
        return a < b ? 1U : 0U;
      case 4:
        return a ^ b;
      case 6:
        return a | b;
      case 7:
        return a & b;
      default:
        return shifted(kind, a, b & 31U, alternate);
    }
  }

  bool holds(unsigned kind, std::uint32_t a, std::uint32_t b) const {
    const bool base = kind < 2 ? a == b : kind < 6 ? (a ^ 0x80000000U) < (b ^ 0x80000000U) : a < b;
    return kind & 1U ? !base : base;
  }

  void step() {
    const std::uint32_t op = load(pc_, 4);
    const unsigned d = op >> 7U & 31U;
    const unsigned kind = op >> 12U & 7U;
    const std::uint32_t a = r[op >> 15U & 31U];
    const std::uint32_t b = r[op >> 20U & 31U];
    const std::uint32_t immediate = sign(op >> 20U, 12);
    std::uint32_t next = pc_ + 4;
    cycles += 3;
    switch (op & 0x7FU) {
      case 0x37:
        r[d] = op & 0xFFFFF000U;
        break;
      case 0x17:
        r[d] = pc_ + (op & 0xFFFFF000U);
        break;
      case 0x13:
        r[d] = compute(kind, a, immediate, kind == 5 && (op >> 30U & 1U));
        break;
      case 0x33:
        if (op >> 25U & 1U) throw std::runtime_error("multiply instruction");
        r[d] = compute(kind, a, b, op >> 30U & 1U);
        break;
      case 0x03: {
        cycles += 2;
        const unsigned bytes = 1U << (kind & 3U);
        const auto v = load(a + immediate, bytes);
        r[d] = kind < 2 ? sign(v, 8 * bytes) : v;
        break;
      }
      case 0x23:
        cycles += 2;
        store(a + sign((op >> 25U) << 5U | d, 12), b, 1U << kind);
        break;
      case 0x63:
        if (holds(kind, a, b)) {
          cycles += 2;
          const std::uint32_t offset =
              (op >> 31U) << 12U | (op >> 7U & 1U) << 11U | (op >> 25U & 63U) << 5U | (op >> 8U & 15U) << 1U;
          next = pc_ + sign(offset, 13);
        }
        break;
      case 0x6F: {
        const std::uint32_t offset = (op >> 31U) << 20U | (op >> 12U & 255U) << 12U |
                                     (op >> 20U & 1U) << 11U | (op >> 21U & 1023U) << 1U;
        r[d] = next;
        next = pc_ + sign(offset, 21);
        break;
      }
      case 0x67:
        cycles += 3;
        r[d] = next;
        next = (a + immediate) & ~1U;
        break;
      default:
        throw std::runtime_error("undefined instruction");
    }
    pc_ = next;
  }
};

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
      core.r[2] = ram_base + 0xFF00;
      unsigned next = 10;
      for (const auto address : twin.structures) core.r[next++] = address;
      for (const auto argument : event.arguments) core.r[next++] = argument;
      core.run(twin.entry);
      sum += static_cast<double>(core.cycles - return_cycles);
      for (const auto& expected : event.expected) {
        const auto& s = twin.symbols.at(expected.name);
        if (core.load(s.address + expected.index * s.bytes, s.bytes) != expected.value) {
          throw std::runtime_error("wrong " + expected.name);
        }
      }
      if (event.has_result && core.r[10] != event.result) throw std::runtime_error("wrong result");
    }
  } catch (const std::exception& error) {
    std::fprintf(stderr, "%s: %s\n", argv[1], error.what());
    return 1;
  }
  std::printf("%.2f\n", sum / static_cast<double>(twin.events.size()));
  return 0;
}

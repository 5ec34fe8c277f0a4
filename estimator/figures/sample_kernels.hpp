// Loops over a chunk of samples, one for each kind of instruction, compiled for several instruction sets.
//
// A program is a list of calls; a call reads vectors (samples of one node) and at most one number, and writes
// one vector that it doesn't read. The same source (sample_loops.hpp) is compiled for the oldest processor
// the build is meant for and, on x86-64, for processors with vectors of four and eight doubles; the best one
// that this processor has is taken when the program starts. All give the same bits: they do the same
// operations in the same order and none fuses a product with a sum. Tested by
// tests/figures/sample_kernels_test.cpp.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string_view>
#include <vector>

#include "figures/lookup_table.hpp"

namespace portweigh::figures {

enum class Kernel : std::uint8_t {
  add,              // a + b
  add_number,       // a + n
  subtract,         // a - b
  subtract_number,  // a - n
  from_number,      // n - a
  multiply,         // a b
  multiply_number,  // a n
  divide,           // a / b
  divide_number,    // n / a
  multiply_add,     // a b + c, rounded twice
  scale_add,        // a n + c, rounded twice
  minimum,
  maximum,
  at_least,
  square,
  root,
  power,  // a^n
  raise,  // a^b
  log,
  exp,
  round_up,
  round_down,
  lookup,
  select,  // a != 0 ? b : c
  fill     // n
};

struct KernelCall {
  Kernel kernel = Kernel::fill;
  std::uint32_t target = 0;                // number of a vector
  std::uint32_t arguments[3] = {0, 0, 0};  // numbers of vectors
  std::uint32_t table = 0;                 // lookup only
  double number = 0.0;
};

// A lookup table as the loops read it; points into tables that must outlive it.
struct KernelTable {
  const LookupTable* table = nullptr;
  const double* x = nullptr;
  const double* y = nullptr;
  const double* slopes = nullptr;
  std::size_t points = 0;
  bool is_log_log = false;
};

struct KernelWork {
  const KernelCall* calls = nullptr;
  std::size_t call_count = 0;
  const double* const* inputs = nullptr;  // vectors 0 .. input_count - 1
  std::size_t input_count = 0;
  double* slots = nullptr;  // vectors from input_count on, `stride` doubles each
  std::size_t stride = 0;
  const KernelTable* tables = nullptr;
  std::size_t length = 0;  // samples, at most `stride` and `longest_chunk`
};

inline constexpr std::size_t longest_chunk = 256;

using RunKernels = void (*)(const KernelWork&);

struct KernelSet {
  std::string_view name;
  RunKernels run = nullptr;
};

// What this processor can run, the best one last.
[[nodiscard]] std::vector<KernelSet> available_kernels();
[[nodiscard]] RunKernels best_kernels();

}  // namespace portweigh::figures

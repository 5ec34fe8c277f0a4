#include "options/firmware/memory_need.hpp"

namespace portweigh::options {
namespace {

// Cell reserve of a stack and the main loop's own variables beside the counted ones, bytes; common practice.
constexpr double main_loop_ram_bytes = 48;
// Start-up code, vectors and main loop, bytes; common practice for small cores.
constexpr double start_up_code_bytes = 400;

}  // namespace

MemoryNeed memory_need(const Schedule& schedule) {
  const Memory& memory = schedule.memory;
  const double fixed = memory.constant_bytes + start_up_code_bytes;
  return {{memory.code_bytes.low + fixed, memory.code_bytes.typical + fixed, memory.code_bytes.high + fixed},
          memory.ram_bytes + memory.stack_bytes + main_loop_ram_bytes};
}

}  // namespace portweigh::options

#include "figures/sample_kernels.hpp"

namespace portweigh::figures {

// Each in a file of its own, since each is compiled with other options.
void run_loops_plain(const KernelWork& work);
void run_loops_four(const KernelWork& work);
void run_loops_eight(const KernelWork& work);

std::vector<KernelSet> available_kernels() {
  std::vector<KernelSet> sets = {{"plain", run_loops_plain}};
#ifdef PORTWEIGH_X86_LOOPS
  __builtin_cpu_init();
  if (__builtin_cpu_supports("avx2")) sets.push_back({"four doubles", run_loops_four});
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") &&
      __builtin_cpu_supports("avx512vl")) {
    sets.push_back({"eight doubles", run_loops_eight});
  }
#endif
  return sets;
}

RunKernels best_kernels() {
  static const RunKernels best = available_kernels().back().run;
  return best;
}

}  // namespace portweigh::figures

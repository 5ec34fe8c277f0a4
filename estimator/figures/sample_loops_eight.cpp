// The loops of sample_loops.hpp for x86-64 with vectors of eight doubles (AVX-512).
#include "figures/sample_loops.hpp"

namespace portweigh::figures {

void run_loops_eight(const KernelWork& work);
void run_loops_eight(const KernelWork& work) {
  run_all(work);
}

}  // namespace portweigh::figures

// The loops of sample_loops.hpp for x86-64 with vectors of four doubles (AVX2).
#include "figures/sample_loops.hpp"

namespace portweigh::figures {

void run_loops_four(const KernelWork& work);
void run_loops_four(const KernelWork& work) {
  run_all(work);
}

}  // namespace portweigh::figures

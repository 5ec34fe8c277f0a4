// The loops of sample_loops.hpp for any processor the build is meant for.
#include "figures/sample_loops.hpp"

namespace portweigh::figures {

void run_loops_plain(const KernelWork& work);
void run_loops_plain(const KernelWork& work) {
  run_all(work);
}

}  // namespace portweigh::figures

#include "report/run.hpp"

namespace portweigh::report {

const std::vector<std::string>& cautions() {
  static const std::vector<std::string> sentences = {
      "These are early estimates for comparing architectures, not a design; data sheets, measurement and "
      "certification come first.",
      "Power ports carry up to 240 W and batteries burn: safety standards, local codes and licensed practice "
      "decide "
      "what may be built and sold.",
      "Parts and prices of the demo catalog are invented; replace them with quotations before deciding."};
  return sentences;
}

}  // namespace portweigh::report

#include "options/fabric/soft_processor.hpp"

#include <algorithm>
#include <cmath>

#include "blocks/registry.hpp"

namespace portweigh::options {
namespace {

std::uint64_t rounded_up(double bytes, std::uint64_t step) {
  return step *
         std::max<std::uint64_t>(1, static_cast<std::uint64_t>(std::ceil(bytes / static_cast<double>(step))));
}

}  // namespace

BlockUse usual_soft_processor() {
  const blocks::Kind& kind = blocks::soft_processor();
  blocks::Settings settings = blocks::Settings::standard(kind.settings);
  settings.set("bits", "32");
  settings.set("style", "sequential");
  return {&kind, settings};
}

BlockUse sized_soft_processor(const BlockUse& processor, const MemoryNeed& need) {
  constexpr std::uint64_t program_step = 1024;
  constexpr std::uint64_t data_step = 512;
  BlockUse sized = processor;
  sized.settings.set("program_bytes", rounded_up(need.flash_bytes.typical, program_step));
  sized.settings.set("data_bytes", rounded_up(need.ram_bytes, data_step));
  return sized;
}

}  // namespace portweigh::options

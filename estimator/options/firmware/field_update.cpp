#include "options/firmware/field_update.hpp"

#include <algorithm>

namespace portweigh::options {

bool is_updated_in_field(const Context& context, const Candidate& candidate, const Chip& chip) {
  if (chip.part().upgrade != parts::Upgrade::field) return false;
  const auto& blocks = context.study.function.blocks;
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    if (!chip.carries(candidate.engine_of_block[i])) continue;
    for (const study::Revision& revision : context.study.revisions) {
      const auto& touches = revision.touches;
      if (std::find(touches.begin(), touches.end(), blocks[i].revision_group) != touches.end()) return true;
    }
  }
  return false;
}

MemoryNeed with_boot_loader(const Context& context, const Candidate& candidate, const Chip& chip,
                            MemoryNeed need) {
  if (!is_updated_in_field(context, candidate, chip)) return need;
  const figures::Range& bytes = context.effort.boot_loader_bytes.range;
  need.flash_bytes = {need.flash_bytes.low + bytes.low, need.flash_bytes.typical + bytes.typical,
                      need.flash_bytes.high + bytes.high};
  return need;
}

}  // namespace portweigh::options

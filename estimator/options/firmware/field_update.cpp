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

unsigned images_of(const Context& context, const Candidate& candidate, const Chip& chip) {
  return context.study.has_second_image && is_updated_in_field(context, candidate, chip) ? 2 : 1;
}

}  // namespace portweigh::options

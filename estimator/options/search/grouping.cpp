#include "options/search/grouping.hpp"

#include <algorithm>

namespace portweigh::options {
namespace {

bool stands_alone(const study::Study& study, const std::string& block) {
  const auto names_it = [&](const study::Placement& placement) { return placement.block == block; };
  const auto& assignment = study.assignment;
  return std::any_of(assignment.pinned.begin(), assignment.pinned.end(), names_it) ||
         std::any_of(assignment.forbidden.begin(), assignment.forbidden.end(), names_it);
}

std::string name_of_group(const study::FunctionBlock& block, bool is_line_code) {
  switch (block.layer) {
    case study::Layer::analogue:
      return "front-end";
    case study::Layer::physical:
      return is_line_code ? "line" : "framing";
    case study::Layer::host:
      return "host";
    case study::Layer::message:
    case study::Layer::policy:
    case study::Layer::pins:
      break;
  }
  return block.revision_group.empty() ? block.name : block.revision_group;
}

}  // namespace

std::vector<BlockGroup> group_blocks(const study::Study& study) {
  const auto& blocks = study.function.blocks;
  std::vector<BlockGroup> groups;
  const auto is_taken = [&](const std::string& name) {
    return std::any_of(groups.begin(), groups.end(), [&](const auto& group) { return group.name == name; });
  };
  for (std::size_t i = 0; i < blocks.size(); ++i) {
    const study::FunctionBlock& block = blocks[i];
    const bool is_line_code = block.kind->stage == blocks::Stage::line;
    const bool is_alone = stands_alone(study, block.name);
    const auto same = std::find_if(groups.begin(), groups.end(), [&](const BlockGroup& group) {
      const study::FunctionBlock& first = blocks[group.blocks.front()];
      return !is_alone && !stands_alone(study, first.name) && group.layer == block.layer &&
             first.revision_group == block.revision_group && group.is_line_code == is_line_code;
    });
    if (same != groups.end()) {
      same->blocks.push_back(i);
      continue;
    }
    std::string name = is_alone ? block.name : name_of_group(block, is_line_code);
    if (is_taken(name)) name = block.name;
    groups.push_back({std::move(name), {i}, block.layer, is_line_code});
  }
  return groups;
}

}  // namespace portweigh::options

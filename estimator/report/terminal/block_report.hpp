// One block on its own, as text and as JSON of docs/interface.md.
//
// Tested by tests/project/printed_text_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>

#include "options/fabric/block_library.hpp"
#include "parts/catalog.hpp"

namespace portweigh::report {

struct BlockFigures {
  options::BlockUse use;
  options::FabricTraits traits;
  std::string core;
  const options::LogicFigures* logic = nullptr;          // null: no logic
  const options::SwitchingFigures* switching = nullptr;  // there where logic is
  const options::FirmwareFigures* firmware = nullptr;    // null: no routine
  std::vector<std::string> other_methods;
  parts::Spread spread;
};

std::string block_text(const BlockFigures& figures);
nlohmann::ordered_json block_json(const BlockFigures& figures);

}  // namespace portweigh::report

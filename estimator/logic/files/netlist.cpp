#include <fmt/core.h>

#include "logic/files/aiger.hpp"
#include "logic/files/blif.hpp"
#include "logic/files/logic_file.hpp"

namespace portweigh::logic {

Network read_netlist(const std::string& path) {
  const std::string text = read_logic_file(path);
  if (text.starts_with("aag ") || text.starts_with("aig ")) return parse_aiger(text, path);
  if (path.ends_with(".aig") || path.ends_with(".aag")) return parse_aiger(text, path);
  if (path.ends_with(".blif")) return parse_blif(text, path);
  throw LogicFileError(
      fmt::format("{}:1: expected an AIGER header (aag or aig) or a file name ending in .blif", path));
}

}  // namespace portweigh::logic

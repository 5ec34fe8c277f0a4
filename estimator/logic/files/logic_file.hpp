// What the readers of netlist files share: the error they throw and reading a file as a whole.
#pragma once

#include <stdexcept>
#include <string>
#include <string_view>

#include "logic/network/network.hpp"

namespace portweigh::logic {

// Message: `file:line: what` or `file:byte N: what`.
class LogicFileError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// The file's bytes; LogicFileError if it can't be read or is larger than 1 GB.
std::string read_logic_file(const std::string& path);

// Reads `path` as AIGER (by its first bytes, aag or aig) or BLIF (extension .blif).
class Network;
Network read_netlist(const std::string& path);

}  // namespace portweigh::logic

// Runs the program in this process, as from a command line.
#pragma once

#include <string>
#include <vector>

namespace portweigh::tests {

struct Outcome {
  int code = 0;
  std::string out;
  std::string errors;
};

// `arguments` without the program's name.
Outcome run_program(std::vector<std::string> arguments);

inline const std::string demo = PORTWEIGH_STUDIES_DIR "/flow-meter.toml";

}  // namespace portweigh::tests

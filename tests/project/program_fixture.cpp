#include "program_fixture.hpp"

#include <sstream>

#include "cli/command_line.hpp"

namespace portweigh::tests {

Outcome run_program(std::vector<std::string> arguments) {
  arguments.insert(arguments.begin(), "portweigh");
  std::vector<const char*> pointers;
  for (const std::string& argument : arguments) pointers.push_back(argument.c_str());
  std::ostringstream out;
  std::ostringstream errors;
  const int code = cli::run(static_cast<int>(pointers.size()), pointers.data(), out, errors);
  return {code, out.str(), errors.str()};
}

}  // namespace portweigh::tests

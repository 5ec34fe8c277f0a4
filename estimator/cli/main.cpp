#include <unistd.h>

#include <iostream>

#include "cli/command_line.hpp"

int main(int argument_count, char** arguments) {
  return portweigh::cli::run(argument_count, arguments, std::cout, std::cerr,
                             {isatty(STDOUT_FILENO) != 0, isatty(STDERR_FILENO) != 0});
}

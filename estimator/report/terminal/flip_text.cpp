#include "report/terminal/flip_text.hpp"

#include <fmt/core.h>

namespace portweigh::report {

std::string change_text(const exploration::Flip& flip) {
  return flip.is_temperature ? fmt::format("{:+.3g} K", flip.value - flip.typical)
                             : fmt::format("{:+.0f} %", 100 * flip.relative);
}

}  // namespace portweigh::report

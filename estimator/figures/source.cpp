#include "figures/source.hpp"

#include <fmt/format.h>

namespace portweigh::figures {

std::string place_of(const Source& source) {
  if (source.file.empty()) return {};
  if (source.line == 0) return source.file;
  return fmt::format("{}:{}:{}", source.file, source.line, source.column);
}

}  // namespace portweigh::figures

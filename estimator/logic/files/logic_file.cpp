#include "logic/files/logic_file.hpp"

#include <fmt/core.h>

#include <fstream>

namespace portweigh::logic {
namespace {

constexpr std::streamoff largest_file_bytes = 1'000'000'000;

}  // namespace

std::string read_logic_file(const std::string& path) {
  std::ifstream stream(path, std::ios::binary | std::ios::ate);
  const std::streamoff size = stream ? static_cast<std::streamoff>(stream.tellg()) : -1;
  if (size < 0) throw LogicFileError(fmt::format("{}: can't be read", path));
  if (size > largest_file_bytes) throw LogicFileError(fmt::format("{}: larger than 1 GB", path));
  std::string text(static_cast<std::size_t>(size), '\0');
  stream.seekg(0);
  if (!stream.read(text.data(), size)) throw LogicFileError(fmt::format("{}: can't be read", path));
  return text;
}

}  // namespace portweigh::logic

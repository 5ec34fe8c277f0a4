#include "logic/files/logic_file.hpp"

#include <fmt/core.h>

#include <fstream>

namespace portweigh::logic {
namespace {

constexpr std::streamoff largest_file_bytes = 1'000'000'000;

std::string with_byte(const LogicFileError::Place& place, std::string_view what) {
  return place.byte ? fmt::format("byte {}: {}", *place.byte, what) : std::string(what);
}

std::string read_file(const std::string& path) {
  std::ifstream stream(path, std::ios::binary | std::ios::ate);
  const std::streamoff size = stream ? static_cast<std::streamoff>(stream.tellg()) : -1;
  if (size < 0) throw LogicFileError(path, {}, "can't be read");
  if (size > largest_file_bytes) throw LogicFileError(path, {}, "larger than 1 GB");
  std::string text(static_cast<std::size_t>(size), '\0');
  stream.seekg(0);
  if (!stream.read(text.data(), size)) throw LogicFileError(path, {}, "can't be read");
  return text;
}

}  // namespace

LogicFileError::LogicFileError(std::string_view file, const Place& place, std::string_view what)
    : std::runtime_error(place.line > 0 ? fmt::format("{}:{}:{}: {}", file, place.line, place.column, what)
                                        : fmt::format("{}: {}", file, with_byte(place, what))),
      place_(place),
      message_(with_byte(place, what)) {}

Network read_netlist(const std::string& path) {
  const std::string text = read_file(path);
  if (text.starts_with("aag ") || text.starts_with("aig ")) return parse_aiger(text, path);
  if (path.ends_with(".aig") || path.ends_with(".aag")) return parse_aiger(text, path);
  if (path.ends_with(".blif")) return parse_blif(text, path);
  throw LogicFileError(path, {1, 1}, "expected an AIGER header (aag or aig) or a file name ending in .blif");
}

}  // namespace portweigh::logic

#include "core_fixture.hpp"

#include <fmt/core.h>

#include "parts/core_reader.hpp"
#include "reading/document.hpp"

namespace portweigh::firmware {

Core read_core(const std::string& name) {
  auto document = reading::Document::load(fmt::format("{}/cores/{}.toml", PORTWEIGH_CATALOG_DIR, name));
  auto root = document.root();
  Core core = parts::read_core(root, name);
  document.throw_if_errors();
  return core;
}

std::vector<std::string> catalog_core_names() {
  return {"8-bit-two-stage",    "8-bit-accumulator", "16-bit-register", "32-bit-two-stage",
          "32-bit-three-stage", "32-bit-sequential", "host-processor"};
}

}  // namespace portweigh::firmware

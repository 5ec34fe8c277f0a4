#include "demo_fixture.hpp"

namespace portweigh::tests {

Demo::Demo()
    : catalog(parts::read_catalog(PORTWEIGH_CATALOG_DIR)),
      effort(parts::read_effort(PORTWEIGH_CATALOG_DIR "/effort.toml")),
      study(study::read_study(PORTWEIGH_STUDIES_DIR "/flow-meter.toml", PORTWEIGH_CATALOG_DIR)),
      library(catalog.cores),
      considered(options::consider(context(), 2)) {}

Demo& demo() {
  static Demo shared;
  return shared;
}

}  // namespace portweigh::tests

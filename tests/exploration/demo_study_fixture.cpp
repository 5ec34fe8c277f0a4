#include "demo_study_fixture.hpp"

namespace portweigh::tests {

DemoStudy::DemoStudy()
    : catalog(parts::read_catalog(PORTWEIGH_CATALOG_DIR)),
      effort(parts::read_effort(PORTWEIGH_CATALOG_DIR "/effort.toml")),
      study(study::read_study(PORTWEIGH_STUDIES_DIR "/flow-meter.toml", PORTWEIGH_CATALOG_DIR)),
      library(catalog.cores),
      considered(options::consider(context(), 2)) {}

DemoStudy& demo_study() {
  static DemoStudy shared;
  return shared;
}

}  // namespace portweigh::tests

// The demo study with the catalog that comes with the program, realised once for all tests of this program.
#pragma once

#include "options/context.hpp"
#include "options/search/consider.hpp"

namespace portweigh::tests {

struct DemoStudy {
  parts::Catalog catalog;
  parts::Effort effort;
  study::Study study;
  options::BlockLibrary library;
  options::Considered considered;

  DemoStudy();
  options::Context context() { return {catalog, effort, study, library}; }
};

DemoStudy& demo_study();

}  // namespace portweigh::tests

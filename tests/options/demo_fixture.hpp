// The demo study with the catalog that comes with the program, realised once for all tests of this program.
#pragma once

#include "options/context.hpp"
#include "options/search/consider.hpp"

namespace portweigh::tests {

struct Demo {
  parts::Catalog catalog;
  parts::Effort effort;
  study::Study study;
  options::BlockLibrary library;
  options::Considered considered;

  Demo();
  options::Context context() { return {catalog, effort, study, library}; }
};

Demo& demo();

}  // namespace portweigh::tests

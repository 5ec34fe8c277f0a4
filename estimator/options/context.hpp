// What every step of realising an option needs: the catalog, the study, and the counted blocks.
#pragma once

#include "options/fabric/block_library.hpp"
#include "parts/catalog.hpp"
#include "parts/effort.hpp"
#include "study/study.hpp"

namespace portweigh::options {

struct Context {
  const parts::Catalog& catalog;
  const parts::Effort& effort;
  const study::Study& study;
  BlockLibrary& library;
};

}  // namespace portweigh::options

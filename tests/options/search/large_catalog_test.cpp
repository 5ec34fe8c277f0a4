// A catalog of 60 parts made from the demo's: variants with other sizes, currents and prices.
#include <algorithm>
#include <catch2/catch.hpp>
#include <chrono>

#include "demo_fixture.hpp"
#include "parts/fixed_function_reader.hpp"
#include "parts/microcontroller_reader.hpp"
#include "parts/programmable_logic_reader.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

namespace {

void scale(reading::SourcedRange& range, double factor) {
  range.range = {range.range.low * factor, range.range.typical * factor, range.range.high * factor};
}

// The demo's parts again and again, each round a little larger and hungrier, until there are `count`.
template <class Parts, class Change>
Parts variants(const Parts& originals, std::size_t count, const Change& change) {
  Parts parts = originals;
  for (std::size_t i = 0; parts.size() < count; ++i) {
    const std::size_t round = i / originals.size() + 1;
    auto part = originals[i % originals.size()];
    part.part.id += "-" + std::to_string(round);
    name_inputs(part);
    change(part, 1 + 0.07 * static_cast<double>(round));
    parts.push_back(std::move(part));
  }
  parts.resize(std::min(parts.size(), count));
  return parts;
}

parts::Catalog large_catalog() {
  parts::Catalog catalog = demo().catalog;
  catalog.programmable_logic =
      variants(catalog.programmable_logic, 20, [](parts::ProgrammableLogic& part, double factor) {
        part.cells = static_cast<unsigned>(part.cells * factor);
        scale(part.toggle_energy, factor);
      });
  catalog.microcontrollers = variants(
      catalog.microcontrollers, 25,
      [](parts::Microcontroller& part, double factor) { scale(part.run_current_per_clock, factor); });
  catalog.fixed_functions =
      variants(catalog.fixed_functions, 15,
               [](parts::FixedFunction& part, double factor) { scale(part.active_current, factor); });
  return catalog;
}

// Without buffers, pins and the host's part: 14 of the 20 blocks.
study::Study smaller_study() {
  study::Study study = demo().study;
  std::erase_if(study.function.blocks, [](const study::FunctionBlock& block) {
    return block.kind->name == "buffer" || block.layer == study::Layer::host ||
           block.layer == study::Layer::pins || block.name == "capability-match";
  });
  return study;
}

}  // namespace

TEST_CASE("A catalog of 60 parts gives every option of the smaller one again") {
  const parts::Catalog catalog = large_catalog();
  REQUIRE(catalog.programmable_logic.size() + catalog.microcontrollers.size() +
              catalog.fixed_functions.size() ==
          60);
  const study::Study study = smaller_study();
  REQUIRE(study.function.blocks.size() == 14);
  BlockLibrary library(catalog.cores);
  const auto start = std::chrono::steady_clock::now();
  const Considered large = consider({catalog, demo().effort, study, library}, 2);
  const std::chrono::duration<double> time = std::chrono::steady_clock::now() - start;
  WARN("60 parts x 14 blocks: " << large.options.size() << " options and " << large.rejections.size()
                                << " rejections in " << time.count() << " s on two threads");
  const Considered small = consider({demo().catalog, demo().effort, study, library}, 2);
  CHECK(small.options.size() < large.options.size());
  for (const Option& option : small.options) {
    INFO(option.id);
    CHECK(std::any_of(large.options.begin(), large.options.end(),
                      [&](const Option& other) { return other.id == option.id; }));
  }
}

// Which small parts stand beside the chips: the search against trying every set, and what a part has to be.
#include "options/package/external_parts.hpp"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>
#include <random>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"
#include "options/search/consider.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

std::vector<parts::ExternalPart> bodies_of(const std::vector<unsigned>& channels) {
  std::vector<parts::ExternalPart> all;
  for (const unsigned count : channels) {
    parts::ExternalPart part;
    part.id = "body-" + std::to_string(all.size());
    part.channels = count;
    all.push_back(part);
  }
  return all;
}

// Cost of each count of each part, as a table; a price falls with the count as in a price list.
struct Costs {
  std::vector<std::vector<double>> table;
  const std::vector<parts::ExternalPart>& parts;

  double of(std::size_t part, unsigned count) const { return count == 0 ? 0 : table[part][count - 1]; }
  CostOfBodies function() const {
    return [this](const parts::ExternalPart& part, unsigned count) {
      return of(static_cast<std::size_t>(&part - parts.data()), count);
    };
  }
};

double cheapest_of_all(const Costs& costs, std::size_t part, int channels) {
  if (channels <= 0) return 0;
  if (part == costs.parts.size()) return std::numeric_limits<double>::infinity();
  double least = std::numeric_limits<double>::infinity();
  const auto each = static_cast<int>(costs.parts[part].channels);
  for (int count = 0; count <= (channels + each - 1) / each; ++count) {
    least = std::min(least, costs.of(part, static_cast<unsigned>(count)) +
                                cheapest_of_all(costs, part + 1, channels - count * each));
  }
  return least;
}

std::vector<std::string> bill_of(const Option& option) {
  std::vector<std::string> ids;
  for (const BillLine& line : option.bill) ids.push_back(line.id);
  return ids;
}

bool has(const std::vector<std::string>& ids, const std::string& id) {
  return std::find(ids.begin(), ids.end(), id) != ids.end();
}

}  // namespace

TEST_CASE("The chosen bodies cost as little as the cheapest of all sets") {
  std::mt19937 random(7);
  std::uniform_int_distribution<unsigned> channels(1, 4);
  std::uniform_real_distribution<double> price(0.05, 0.5);
  std::uniform_real_distribution<double> rebate(0.7, 1.0);
  for (int round = 0; round < 300; ++round) {
    const auto parts = bodies_of({channels(random), channels(random), channels(random)});
    const unsigned needed = 1 + static_cast<unsigned>(round) % 9;
    Costs costs{{}, parts};
    for (std::size_t i = 0; i < parts.size(); ++i) {
      auto& row = costs.table.emplace_back();
      double each = price(random);
      for (unsigned count = 1; count <= needed; ++count, each *= rebate(random)) row.push_back(count * each);
    }
    std::vector<const parts::ExternalPart*> pointers;
    for (const auto& part : parts) pointers.push_back(&part);
    const auto chosen = cheapest_bodies(pointers, needed, costs.function());
    REQUIRE(chosen);
    double total = 0;
    unsigned given = 0;
    for (const Bodies& bodies : *chosen) {
      total += costs.function()(*bodies.part, bodies.count);
      given += bodies.count * bodies.part->channels;
    }
    CHECK(given >= needed);
    CHECK(total == Approx(cheapest_of_all(costs, 0, static_cast<int>(needed))));
  }
  CHECK_FALSE(cheapest_bodies({}, 1, [](const auto&, unsigned) { return 1.0; }));
}

TEST_CASE("One comparator that is missing buys a dual, three a quad") {
  const auto& all = demo().catalog.external_parts;
  std::vector<const parts::ExternalPart*> comparators;
  for (const auto& part : all) {
    if (part.role == parts::ExternalRole::comparator) comparators.push_back(&part);
  }
  REQUIRE(comparators.size() == 2);
  const auto listed = [](const parts::ExternalPart& part, unsigned count) {
    return count * part.prices.breaks[1].price.value_si;
  };
  const auto one = cheapest_bodies(comparators, 1, listed);
  REQUIRE(one->size() == 1);
  CHECK(one->front().part->id == "comparator-dual");
  const auto three = cheapest_bodies(comparators, 3, listed);
  REQUIRE(three->size() == 1);
  CHECK(three->front().part->id == "comparator-quad");
}

TEST_CASE("A core gets the regulator of its voltage, and a memory that holds its configuration") {
  const std::pair<const char*, std::vector<std::string>> expected[] = {
      {"pl-sram-b", {"core-regulator-a", "configuration-memory-a"}},
      {"pl-sram-c", {"core-regulator-a", "configuration-memory-b"}},
      {"pl-wide-a", {"core-regulator-b", "configuration-memory-b"}}};
  for (const auto& [id, beside] : expected) {
    INFO(id);
    study::Study study = demo().study;
    study.only_parts = {id};
    study.assembly.allows_array = true;
    study.assembly.largest_body = {0.05, study.assembly.largest_body.unit, {}, {}};
    const Considered considered = considered_with(study);
    const auto ids = bill_of(option_named(considered, id));
    for (const std::string& part : beside) CHECK(has(ids, part));
  }
}

// The quad is cheap from 30,000 pieces on: a year takes 40,000, one of four orders 10,000.
TEST_CASE("The cheapest bodies are those of one order") {
  const auto bill_with = [](double orders) {
    static parts::Catalog catalog = demo().catalog;
    for (auto& part : catalog.external_parts) {
      if (part.id != "comparator-quad") continue;
      part.prices.breaks[1].quantity = 30000;
      part.prices.breaks[1].price.value_si = 0.08;
      part.prices.breaks.resize(2);
    }
    study::Study study = demo().study;
    study.only_parts = {"mcu-32b-mid"};
    study.orders_per_year.range = figures::exactly(orders);
    study::name_inputs(study);
    const Considered considered = consider({catalog, demo().effort, study, demo().library}, 1);
    return bill_of(option_named(considered, "mcu-32b-mid"));
  };
  CHECK(has(bill_with(4), "comparator-dual"));
  CHECK(has(bill_with(1), "comparator-quad"));
}

TEST_CASE("A second image takes a larger configuration memory, or one beside the fabric's own") {
  const auto memory_of = [](const std::string& id, bool has_second_image, bool has_revisions) {
    study::Study study = demo().study;
    study.only_parts = {id};
    study.has_second_image = has_second_image;
    if (!has_revisions) study.revisions.clear();
    const Considered considered = considered_with(study);
    for (const std::string& part : bill_of(option_named(considered, id))) {
      if (part.starts_with("configuration-memory")) return part;
    }
    return std::string("none");
  };
  CHECK(memory_of("pl-sram-b", false, true) == "configuration-memory-a");
  CHECK(memory_of("pl-sram-b", true, true) == "configuration-memory-b");
  CHECK(memory_of("pl-sram-b", true, false) == "configuration-memory-a");
  CHECK(memory_of("pl-flash-d", false, true) == "none");
  CHECK(memory_of("pl-flash-d", true, true) == "configuration-memory-a");
}

TEST_CASE("A need that no part of the catalog serves is told") {
  const Considered considered = [] {
    static parts::Catalog catalog = demo().catalog;
    auto& all = catalog.external_parts;
    all.erase(std::remove_if(all.begin(), all.end(),
                             [](const auto& part) { return part.id == "core-regulator-a"; }),
              all.end());
    static study::Study study = demo().study;
    study.only_parts = {"pl-sram-b"};
    return consider({catalog, demo().effort, study, demo().library}, 1);
  }();
  const auto found = std::find_if(considered.rejections.begin(), considered.rejections.end(),
                                  [](const auto& one) { return one.id == "pl-sram-b"; });
  REQUIRE(found != considered.rejections.end());
  CHECK(found->reason == "the catalog has no regulator of 1.1 V that works on the study's rail, 1 needed");
}

TEST_CASE("Each image starts on an erase page of its own") {
  parts::ExternalPart part = bodies_of({1}).front();
  part.role = parts::ExternalRole::configuration_flash;
  part.prices.breaks.resize(1);
  part.capacity_bytes = 7168;
  ExternalNeed need{parts::ExternalRole::configuration_flash, 1, {}, 3000, 2};
  part.erase_page_bytes = 1024;
  CHECK(serves(part, need, {3.2, 3.3, 3.4}));
  part.erase_page_bytes = 4096;
  CHECK_FALSE(serves(part, need, {3.2, 3.3, 3.4}));
  need.images = 1;
  CHECK(serves(part, need, {3.2, 3.3, 3.4}));
}

TEST_CASE("A part that doesn't work on the rail doesn't serve") {
  parts::ExternalPart part = bodies_of({1}).front();
  part.prices.breaks.resize(1);
  const ExternalNeed need{parts::ExternalRole::comparator, 1, {}, 0};
  CHECK(serves(part, need, {3.2, 3.3, 3.4}));
  part.supply_voltage = exact_range(3.3, "V");
  CHECK_FALSE(serves(part, need, {3.2, 3.3, 3.4}));
  part.supply_voltage->range = {1.8, 3.3, 5.5};
  CHECK(serves(part, need, {3.2, 3.3, 3.4}));
}

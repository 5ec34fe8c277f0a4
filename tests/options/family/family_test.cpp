// The demo family: what is shared, and that the whole is never dearer than the parts.
#include "options/family/family.hpp"

#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "money_fixture.hpp"

using namespace portweigh;
using namespace portweigh::options;
using namespace portweigh::tests;

namespace {

FamilyResult chosen_for(const study::Family& family) {
  return choose_for_family(demo().catalog, demo().effort, family, demo().library,
                           [](const Context& context) { return consider(context, 2); });
}

}  // namespace

TEST_CASE("In the demo family a product takes the platform that the others have paid for") {
  const auto family =
      study::read_family(PORTWEIGH_STUDIES_DIR "/families/shop-instruments.toml", PORTWEIGH_CATALOG_DIR);
  const FamilyResult result = chosen_for(family);
  REQUIRE(result.products.size() == 3);
  CHECK(result.without_option.empty());
  CHECK(result.family_cost < result.alone_shared_cost);
  CHECK(result.alone_shared_cost < result.alone_cost);
  bool any_differs = false;
  double own = 0;
  double saved = 0;
  for (const ProductChoice& product : result.products) {
    any_differs = any_differs || product.option != product.alone_option;
    CHECK(product.cost >= product.alone_cost);
    own += product.cost;
  }
  for (const SharedCost& shared : result.shared) {
    CHECK(shared.products.size() >= 2);
    saved += shared.saved;
  }
  CHECK(any_differs);
  CHECK(own - saved == Approx(result.family_cost));
}

TEST_CASE("A family of one product chooses what the product would") {
  const FamilyResult result = chosen_for({"one", "", "USD", {{"meter", study_of_three()}}});
  REQUIRE(result.products.size() == 1);
  CHECK(result.products[0].option == result.products[0].alone_option);
  CHECK(result.family_cost == Approx(result.alone_cost));
  CHECK(result.shared.empty());
}

TEST_CASE("A product that no option fits is named and left out") {
  study::Study impossible = study_of_three();
  impossible.budgets.push_back(
      {"board_area", 1e-9, figures::parse_unit("mm2"), 0, study::Strength::hard, 1, {}, {}});
  const FamilyResult result =
      chosen_for({"two", "", "USD", {{"meter", study_of_three()}, {"impossible", impossible}}});
  CHECK(result.without_option == std::vector<std::string>{"impossible"});
  CHECK(result.products.size() == 1);
}

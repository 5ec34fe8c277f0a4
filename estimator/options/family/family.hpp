// A family of products: the platform for each that makes the whole family cheapest.
//
//   own cost of an option  = cost over life of all units - what its shareable items cost once
//   shareable items        = one-time items with a key: blocks as logic or firmware, approval of a part,
//   tools
// Only options that keep every hard budget of their product at typical values count, each at the clock and core
// voltage that whoever considers them has taken. Prices stay those of each product's own volume. Compared are: every product alone paying everything itself, the same choice with
// shared items paid once, and the family's optimum (family_search.hpp). Tested by
// tests/options/family/family_test.cpp.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "options/search/consider.hpp"
#include "study/family_reader.hpp"

namespace portweigh::options {

struct ProductChoice {
  std::string product;
  std::string option;        // in the family's optimum
  std::string setting;       // of its processor, as of Option
  double cost = 0;           // over life, paying for everything itself
  std::string alone_option;  // cheapest alone
  double alone_cost = 0;
  std::size_t options = 0;  // that keep the hard budgets
};

struct SharedCost {
  std::string item;                   // "logic/crc-receive"
  std::vector<std::string> products;  // two or more that take it in the optimum
  double paid = 0;
  double saved = 0;  // against each paying it
};

struct FamilyResult {
  std::string name;
  std::string currency;
  std::vector<ProductChoice> products;
  std::vector<std::string> without_option;  // products of which no option keeps the hard budgets
  std::vector<SharedCost> shared;           // largest saving first
  double alone_cost = 0;                    // each product's best alone, nothing shared
  double alone_shared_cost = 0;             // the same options, shared items paid once
  double family_cost = 0;                   // the optimum
  std::uint64_t visited = 0;                // partial choices the search looked at
};

// How a product's options are found.
using Considering = std::function<Considered(const Context&)>;

FamilyResult choose_for_family(const parts::Catalog& catalog, const parts::Effort& effort,
                               const study::Family& family, BlockLibrary& library,
                               const Considering& considering);

}  // namespace portweigh::options

// What a part costs at the quantity of an order, from its price list.
//
//   steps    price(q) = smallest of P_0 and P_i max(q, Q_i) / q:  the price of the break reached, or of a higher break
//            bought up to it
//   log-log  a straight line of logarithms between two breaks, where the list says so
//   lots     instead of q, what is bought: q rounded up to whole lots; all of it is paid for
// Below the first break its price is taken (an order as large as it asks for, less often), beyond the last that one.
// One order is what a year takes over the study's orders_per_year. Worked example: 2.50, from 100 pieces 2.25: 80
// pieces cost 2.50 each, 95 cost 225 in all, for 100 are bought. Tested by tests/options/money/price_test.cpp.
#pragma once

#include <string>

#include "figures/ledger/ledger.hpp"
#include "options/context.hpp"

namespace portweigh::options {

// Of one piece; `quantity` of one order, dimensionless and positive. `conversion` brings the list's currency to the ledger's.
figures::Figure price_at(figures::Ledger& ledger, const parts::Prices& prices, figures::Figure quantity,
                         double conversion);
double price_at(const parts::Prices& prices, double quantity, double conversion);

// Of the list; empty: told in no currency of its own.
const std::string& currency_of(const parts::Prices& prices);
// How many units of the study's currency one unit of `currency` is, at the catalog's rates; 1 for an empty one.
double conversion(const Context& context, const std::string& currency);

}  // namespace portweigh::options

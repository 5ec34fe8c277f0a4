// What money of later years is worth today.
//
//   present value = sum of flow(t) / (1 + rate)^t      flow(0) is paid today, flow(t) at the end of year t
// Worked example: -1000 today, then 500, 400, 300, 100 at 10 % a year: 78.82.
// Tested by tests/options/money/discounting_test.cpp.
#pragma once

#include <span>

#include "figures/ledger/ledger.hpp"

namespace portweigh::options {

// `flows` are money, at least one; `rate` is a share a year.
figures::Figure present_value(std::span<const figures::Figure> flows, figures::Figure rate);

}  // namespace portweigh::options

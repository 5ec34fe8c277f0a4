// What each operation of a ledger computes, for one value and for many samples alike, so that both give the
// same bits.
//
//     with_function(node, read_table, [&](auto function) { y = function(a, b, c); });
// Samples are loops over the function, which the compiler makes vector code of where it can.
// Tested by tests/figures/evaluation/evaluate_test.cpp and
// tests/figures/evaluation/sample_evaluator_test.cpp.
#pragma once

#include <cmath>

#include "figures/evaluation/elementary.hpp"
#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

// Calls `use` with the node's function of three arguments, of which it ignores those that it doesn't have;
// not for inputs, constants and second names. `read_table(x)` is the node's lookup.
template <class ReadTable, class Use>
void with_function(const Node& node, const ReadTable& read_table, const Use& use) {
  const double exponent = node.number;
  switch (node.operation) {
    case Operation::input:
    case Operation::constant:
    case Operation::same:
      return;
    case Operation::add:
      return use([](double a, double b, double) { return a + b; });
    case Operation::subtract:
      return use([](double a, double b, double) { return a - b; });
    case Operation::multiply:
      return use([](double a, double b, double) { return a * b; });
    case Operation::divide:
      return use([](double a, double b, double) { return a / b; });
    case Operation::minimum:
      return use([](double a, double b, double) { return a < b ? a : b; });
    case Operation::maximum:
      return use([](double a, double b, double) { return a > b ? a : b; });
    case Operation::power:
      // The exponents that formulas use most need no logarithm.
      if (exponent == 2.0) return use([](double a, double, double) { return a * a; });
      if (exponent == -1.0) return use([](double a, double, double) { return 1.0 / a; });
      if (exponent == 0.5) return use([](double a, double, double) { return std::sqrt(a); });
      return use([exponent](double a, double, double) { return power_of(a, exponent); });
    case Operation::raise:
      return use([](double a, double b, double) { return power_of(a, b); });
    case Operation::log:
      return use([](double a, double, double) { return log_of(a); });
    case Operation::exp:
      return use([](double a, double, double) { return exp_of(a); });
    case Operation::round_up:
      return use([](double a, double, double) { return std::ceil(a); });
    case Operation::round_down:
      return use([](double a, double, double) { return std::floor(a); });
    case Operation::lookup:
      return use([&read_table](double a, double, double) { return read_table(a); });
    case Operation::at_least:
      return use([](double a, double b, double) { return a >= b ? 1.0 : 0.0; });
    case Operation::select:
      return use([](double a, double b, double c) { return a != 0.0 ? b : c; });
  }
}

}  // namespace portweigh::figures

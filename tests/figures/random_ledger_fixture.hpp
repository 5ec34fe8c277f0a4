// Random expression ledgers for tests of properties that must hold for any formula.
#pragma once

#include <cstdint>
#include <vector>

#include "figures/ledger/ledger.hpp"

namespace portweigh::figures::test {

struct RandomLedger {
  Ledger ledger;
  std::vector<Figure> figures;  // all of them, inputs first
};

// Inputs lie in 0.5..2; values stay in a range where exp and power are harmless. The same seed gives the same
// ledger.
[[nodiscard]] RandomLedger make_random_ledger(std::uint32_t seed, int inputs, int operations);

}  // namespace portweigh::figures::test

// Writers of AIGER and BLIF: circuits of the tests for the readers, for berkeley-abc and for the benchmark.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "logic/network/network.hpp"

namespace portweigh::logic {

enum class AigerForm : std::uint8_t { ascii, binary };

// Enable and reset become logic in front of the latch; XORs are written to AIGER as three ANDs. Both throw
// std::logic_error for networks with memories.
std::string write_aiger(const Network& network, AigerForm form);
std::string write_blif(const Network& network, std::string_view model);

}  // namespace portweigh::logic

// What a Ledger holds; apart from ledger.hpp so that figures can point at it while the ledger moves.
#pragma once

#include <cstdint>
#include <string>
#include <unordered_map>
#include <vector>

#include "figures/ledger/ledger.hpp"

namespace portweigh::figures {

struct LedgerStore {
  static constexpr std::uint32_t none = 0xFFFFFFFFU;

  std::vector<Node> nodes;
  std::vector<std::uint32_t> name_numbers;  // node -> index in names, or none
  std::vector<Name> names;
  std::vector<Input> inputs;
  std::vector<std::uint32_t> input_nodes;
  std::vector<LookupTable> tables;
  std::unordered_map<std::string, std::uint32_t> nodes_by_key;
  std::string currency;

  [[nodiscard]] Figure append(const Node& node);
  [[nodiscard]] Figure figure(std::uint32_t node) { return {this, node}; }
  [[nodiscard]] const Name* name_of(std::uint32_t node) const;
  void set_name(std::uint32_t node, Name name);
  // Throws LedgerError if another currency was used before.
  void accept_currency(const Unit& unit, std::string_view key);
};

}  // namespace portweigh::figures

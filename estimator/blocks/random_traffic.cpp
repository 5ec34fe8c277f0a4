#include "blocks/random_traffic.hpp"

#include <stdexcept>

namespace portweigh::blocks {

void RandomInput::find(const logic::Network& network) {
  if (!bits_.empty()) return;
  const std::string indexed = name_ + "[";
  for (const logic::NamedLiteral& input : network.inputs()) {
    if (input.name == name_ || input.name.starts_with(indexed)) bits_.push_back(input.literal);
  }
  if (bits_.empty()) throw std::logic_error("no input is called " + name_);
}

void RandomInput::set(logic::Simulator& simulator, std::mt19937_64& random) {
  set_rare(simulator, random, 1);
}

void RandomInput::set_rare(logic::Simulator& simulator, std::mt19937_64& random, unsigned halvings) {
  find(simulator.network());
  for (const logic::Literal bit : bits_) {
    std::uint64_t lanes = random();
    for (unsigned i = 1; i < halvings; ++i) lanes &= random();
    simulator.set_lanes(bit, lanes);
  }
}

}  // namespace portweigh::blocks

#include <algorithm>
#include <catch2/catch.hpp>

#include "demo_fixture.hpp"
#include "figures/evaluation/evaluate.hpp"

using namespace portweigh;
using namespace portweigh::options;
using portweigh::tests::demo;

// By hand from the catalog: 3.3 V; three comparators, of which two look for a cable. 32 uA each in pl-flash-d, slow
// 0.96 uA; mcu-32b-mid has two of 14 uA, slow 0.42 uA. A nanopower comparator takes 0.3 to 1 uA at 5 to 30 us [M].
TEST_CASE("Comparators inside are slow with nothing attached, and the receiver's is off") {
  const auto value = [](const std::string& id, const std::string& key) {
    const auto& options = demo().considered.options;
    const auto option =
        std::find_if(options.begin(), options.end(), [&](const auto& other) { return other.id == id; });
    REQUIRE(option != options.end());
    return figures::evaluate(option->ledger, option->ledger.at("power.comparators." + key));
  };
  CHECK(value("pl-flash-d", "busy") == Approx(3 * 3.3 * 32e-6));
  CHECK(value("pl-flash-d", "quiet") == Approx(3 * 3.3 * 32e-6));
  CHECK(value("pl-flash-d", "detached") == Approx(2 * 3.3 * 0.96e-6));
  CHECK(value("mcu-32b-mid", "busy") == Approx(2 * 3.3 * 14e-6));
  CHECK(value("mcu-32b-mid", "detached") == Approx(2 * 3.3 * 0.42e-6));
}

// C V Vdd for each rising edge: 1 nF, 1.125 V from 3.3 V 3.7125 nJ [C]. A message without objects has 114.375 rises
// and takes 424.617 nJ [C]; its preamble and control symbols have fewer edges than random data.
TEST_CASE("Every option that drives the line pays for charging it, once for each rise") {
  for (const Option& option : demo().considered.options) {
    INFO(option.id);
    const std::vector<figures::Setting> line = {{"function.line_capacitance", 1e-9},
                                                {"function.line_swing", 1.125}};
    const auto value = [&](const std::string& key) {
      return figures::evaluate(option.ledger, option.ledger.at(key), line);
    };
    const double edges = value("function.driven_edges_per_bit");
    CHECK(edges == Approx(0.5 * 129 / 80).epsilon(0.002));
    const double rises_hz = 0.5 * edges * value("function.bit_rate");
    CHECK(value("power.line.busy") == Approx(rises_hz * 3.7125e-9).epsilon(1e-6));
    // Half of the time this side sends: nearly half of the energy of one message after the other.
    const double message_bits = 149;
    CHECK(value("power.line.busy") ==
          Approx(0.5 * 424.617e-9 * value("function.bit_rate") / message_bits).epsilon(0.06));
    CHECK(value("power.line.quiet") == 0);
    CHECK(value("power.line.detached") == 0);
  }
}

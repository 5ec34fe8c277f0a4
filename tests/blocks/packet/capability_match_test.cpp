// Network and routine of the capability match against a plain model of the object layouts of IEC 62680-1-2,
// seen in zephyrproject-rtos/zephyr 0a04bc0, include/zephyr/drivers/usb_c/usbc_pd.h [S].
#include "blocks/packet/capability_match.hpp"

#include <catch2/catch.hpp>
#include <optional>
#include <random>
#include <vector>

namespace portweigh::blocks {
namespace {

// The model works in millivolts, milliamperes and microwatts, not in the units of the objects.
struct Offer {
  std::uint64_t lowest_mv, highest_mv;
  std::optional<std::uint64_t> current_ma;
  std::optional<std::uint64_t> power_mw;
};

std::optional<Offer> read_offer(std::uint32_t object) {
  const std::uint64_t upper = (object >> 20U) % 1024U * 50U;
  const std::uint64_t lower = (object >> 10U) % 1024U * 50U;
  const std::uint64_t amount = object % 1024U;
  switch (object >> 30U) {
    case 0:
      return Offer{lower, lower, amount * 10, std::nullopt};
    case 1:
      return Offer{lower, upper, std::nullopt, amount * 250};
    case 2:
      return Offer{lower, upper, amount * 10, std::nullopt};
    default:
      return std::nullopt;
  }
}

struct Match {
  std::uint64_t index = 0, power_uw = 0;
};

Match best_match(const std::vector<std::uint32_t>& objects, const PowerWish& wish) {
  Match best;
  for (std::size_t i = 0; i < objects.size(); ++i) {
    const auto offer = read_offer(objects[i]);
    if (!offer || offer->lowest_mv < wish.minimum_voltage * 50U ||
        offer->highest_mv > wish.maximum_voltage * 50U) {
      continue;
    }
    const std::uint64_t power_uw =
        offer->power_mw
            ? std::min<std::uint64_t>(*offer->power_mw, wish.wanted_power * 250U) * 1000U
            : std::min<std::uint64_t>(*offer->current_ma, wish.wanted_current * 10U) * offer->lowest_mv;
    if (power_uw > best.power_uw) best = {i + 1, power_uw};
  }
  return best;
}

Settings settings_for(unsigned objects) {
  auto settings = Settings::standard(capability_match_kind().settings);
  settings.set("objects", std::uint64_t{objects});
  return settings;
}

struct Twins {
  explicit Twins(unsigned objects_in_all) : objects(objects_in_all) {}
  unsigned objects;
  Settings settings = settings_for(objects);
  logic::Network network = capability_match_kind().network(settings);
  logic::Simulator simulator{network};
  firmware::Routine routine = capability_match_routine(objects);
  firmware::Machine machine{routine};

  void check(const std::vector<std::uint32_t>& offers, const PowerWish& wish) {
    const Match expected = best_match(offers, wish);
    run_network(offers, wish);
    REQUIRE(simulator.value("best_index") == expected.index);
    REQUIRE(simulator.value("best_power") * 500 == expected.power_uw);
    load_machine(offers, wish);
    REQUIRE(machine.run({static_cast<std::uint32_t>(offers.size())}) == expected.index);
    REQUIRE(std::uint64_t{machine.get("best_power")} * 500 == expected.power_uw);
    REQUIRE(machine.get("best_amount") == simulator.value("best_amount"));
  }

 private:
  void run_network(const std::vector<std::uint32_t>& offers, const PowerWish& wish) {
    simulator.set("minimum_voltage", wish.minimum_voltage);
    simulator.set("maximum_voltage", wish.maximum_voltage);
    simulator.set("wanted_current", wish.wanted_current);
    simulator.set("wanted_power", wish.wanted_power);
    simulator.set("start", 1);
    simulator.clock();
    simulator.set("start", 0);
    for (const std::uint32_t offer : offers) {
      simulator.set("object", offer);
      simulator.set("object_valid", 1);
      simulator.clock();
      simulator.set("object_valid", 0);
      simulator.clock(capability_match_clocks - 1);
      REQUIRE(simulator.value("busy") == 0);
    }
    REQUIRE(simulator.value("complete") == (offers.size() == objects ? 1U : 0U));
  }
  void load_machine(const std::vector<std::uint32_t>& offers, const PowerWish& wish) {
    machine.set("minimum_voltage", wish.minimum_voltage);
    machine.set("maximum_voltage", wish.maximum_voltage);
    machine.set("wanted_current", wish.wanted_current);
    machine.set("wanted_power", wish.wanted_power);
    machine.fill("objects", offers);
  }
};

}  // namespace

TEST_CASE("the best of offered power objects is found by network and routine") {
  std::mt19937_64 random(11);
  for (const unsigned objects : {1U, 2U, 3U, 5U, 7U}) {
    Twins twins(objects);
    for (int message = 0; message < 60; ++message) {
      std::vector<std::uint32_t> offers(objects);
      for (auto& offer : offers) {
        offer = message % 2 == 0 ? plausible_power_object(random()) : static_cast<std::uint32_t>(random());
      }
      const auto draw = random();
      twins.check(offers, {.minimum_voltage = static_cast<std::uint32_t>(draw % 300),
                           .maximum_voltage = static_cast<std::uint32_t>(300 + (draw >> 10U) % 724),
                           .wanted_current = static_cast<std::uint32_t>((draw >> 24U) % 1024),
                           .wanted_power = static_cast<std::uint32_t>((draw >> 40U) % 1024)});
    }
  }
}

TEST_CASE("worked cases of capability matching") {
  Twins twins(7);
  const std::uint32_t five_volt_three_ampere = 100U << 10U | 300U;
  const std::uint32_t nine_volt_three_ampere = 180U << 10U | 300U;
  const std::uint32_t battery_20_watt = 1U << 30U | 240U << 20U | 100U << 10U | 80U;
  const PowerWish wish{
      .minimum_voltage = 100, .maximum_voltage = 240, .wanted_current = 200, .wanted_power = 80};
  twins.check({five_volt_three_ampere, nine_volt_three_ampere}, wish);
  CHECK(twins.simulator.value("best_index") == 2);
  CHECK(twins.simulator.value("best_power") == 36000);  // 9 V * 2 A = 18 W
  twins.check({nine_volt_three_ampere, battery_20_watt}, wish);
  CHECK(twins.simulator.value("best_index") == 2);
  // The first of equals wins, and nothing that fits means index 0.
  twins.check({nine_volt_three_ampere, nine_volt_three_ampere}, wish);
  CHECK(twins.simulator.value("best_index") == 1);
  twins.check({400U << 10U | 300U, 3U << 30U | 100U}, wish);
  CHECK(twins.simulator.value("best_index") == 0);
}

}  // namespace portweigh::blocks

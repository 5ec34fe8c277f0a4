// Capability matching: of the offered power objects, the one that gives most power inside the wish list.
//
// Object layouts (IEC 62680-1-2, as zephyrproject-rtos/zephyr 0a04bc0 has them): bits 31..30 type. Fixed 00:
// voltage 19..10 in 50 mV, current 9..0 in 10 mA. Battery 01: maximum voltage 29..20, minimum 19..10,
// power 9..0 in 250 mW. Variable 10: maximum voltage 29..20, minimum 19..10, current 9..0. Type 11
// (augmented) is passed over.
//
//   fits   = lowest voltage >= wish minimum and highest voltage <= wish maximum
//   amount = min(offered, wanted)                   current, or power of a battery
//   power  = (battery ? 500 : lowest voltage) * amount      in units of 0.5 mW
//
// The first object of the largest power wins. Example: 9 V 3 A (180, 300) against 5..12 V, 2 A: 36000 = 18 W.
// Network: one object per strobe, 10-step shift-and-add multiplier (objects arrive far slower than that), so
// no parallel multiplier is built. Tested by tests/blocks/packet/capability_match_test.cpp.
#include "blocks/packet/capability_match.hpp"

#include <array>
#include <bit>
#include <random>

#include "logic/network/word.hpp"

namespace portweigh::blocks {
namespace {

using logic::Bit;
using logic::Network;
using logic::Word;

constexpr unsigned field_bits = 10;
constexpr unsigned power_bits = 2 * field_bits;

unsigned objects_of(const Settings& settings) {
  return static_cast<unsigned>(settings.integer("objects"));
}

struct WishWords {
  Word minimum_voltage, maximum_voltage, wanted_current, wanted_power;
};

struct DecodedObject {
  Bit fits;
  Word factor;  // what the amount is multiplied by
  Word amount;
};

DecodedObject decode_object(const Word& object, const WishWords& wish) {
  Network& network = object.network();
  const Bit is_fixed = (~object[31]) & (~object[30]);
  const Bit is_battery = (~object[31]) & object[30];
  const Bit is_reserved = object[31] & object[30];
  const Word lowest = object.slice(10, field_bits);
  const Word highest = select(is_fixed, lowest, object.slice(20, field_bits));
  const Word offered = object.slice(0, field_bits);
  const Word limit = select(is_battery, wish.wanted_power, wish.wanted_current);
  return {.fits = (~is_reserved) & (lowest >= wish.minimum_voltage) & (highest <= wish.maximum_voltage),
          .factor = select(is_battery, constant_word(network, battery_power_scale, field_bits), lowest),
          .amount = select(offered < limit, offered, limit)};
}

// One step: add the factor where the lowest product bit is set, shift right.
Word multiplied_step(const Word& product, const Word& factor) {
  const Word upper = product.slice(field_bits, field_bits);
  const logic::Sum sum =
      add_with_carry(upper, gate(product[0], factor), constant_bit(product.network(), false));
  return concatenate(concatenate(product.slice(1, field_bits - 1), sum.value), sum.carry);
}

Network capability_match_network(const Settings& settings) {
  const unsigned objects = objects_of(settings);
  const auto index_bits = static_cast<unsigned>(std::bit_width(objects));
  Network network;
  const Bit reset = add_input(network, "reset");
  const Bit start = add_input(network, "start");
  const Bit object_valid = add_input(network, "object_valid");
  const Word object = add_input_word(network, "object", 32);
  const WishWords wish{add_input_word(network, "minimum_voltage", field_bits),
                       add_input_word(network, "maximum_voltage", field_bits),
                       add_input_word(network, "wanted_current", field_bits),
                       add_input_word(network, "wanted_power", field_bits)};
  const Bit clear = reset | start;
  const DecodedObject offer = decode_object(object, wish);

  const Word index = add_registers(network, "index", index_bits);
  const Word step = add_registers(network, "step", 4);
  const Word product = add_registers(network, "product", power_bits);
  const Bit is_multiplying = add_register(network, "multiplying");
  const Bit is_comparing = add_register(network, "comparing");
  const Bit is_busy = is_multiplying | is_comparing;
  const Bit is_complete = index == objects;
  const Bit accept = object_valid & !is_busy & !is_complete;
  const Bit load = accept & offer.fits;
  const Bit last_step = is_multiplying & (step == field_bits - 1U);

  connect(index, index + 1U, {.enable = accept, .reset = clear});
  connect(step, step + 1U, {.enable = is_multiplying, .reset = clear | load});
  connect(is_multiplying, load | (is_multiplying & !last_step), {.reset = clear});
  connect(is_comparing, last_step, {.reset = clear});
  const Word factor = registered("factor", offer.factor, {.enable = load});
  const Word amount = registered("amount", offer.amount, {.enable = load});
  connect(product, select(load, offer.amount.resized(power_bits), multiplied_step(product, factor)),
          {.enable = load | is_multiplying});

  const Word best_power = add_registers(network, "best_power", power_bits);
  const Bit is_better = is_comparing & (product > best_power);
  connect(best_power, product, {.enable = is_better, .reset = clear});
  const Word best_index = registered("best_index", index, {.enable = is_better, .reset = clear});
  const Word best_amount = registered("best_amount", amount, {.enable = is_better, .reset = clear});

  add_output(best_index, "best_index");  // 1 for the first object, 0: nothing fits
  add_output(best_power, "best_power");
  add_output(best_amount, "best_amount");
  add_output(is_busy, "busy");
  add_output(is_complete & !is_busy, "complete");
  return network;
}

// Messages without pause: start, then an object as soon as the last one is done.
class CapabilityTraffic {
 public:
  CapabilityTraffic(unsigned objects, TrafficState state, std::uint64_t seed)
      : objects_(objects), state_(state), random_(seed) {}

  void drive(logic::Simulator& simulator, std::uint64_t clock) {
    simulator.set("reset", clock == 0 ? 1 : 0);
    if (clock == 0) drive_wish(simulator);
    const bool is_active = state_ == TrafficState::active && clock > 0;
    const std::uint64_t position = clock % (std::uint64_t{objects_ + 1} * capability_match_clocks);
    const bool is_strobe = is_active && position % capability_match_clocks == 0;
    simulator.set("start", is_strobe && position == 0 ? 1 : 0);
    simulator.set("object_valid", is_strobe && position > 0 ? 1 : 0);
    if (!is_strobe || position == 0) return;
    for (unsigned stream = 0; stream < logic::Simulator::streams; ++stream) {
      simulator.set("object", stream, plausible_power_object(random_()));
    }
  }

 private:
  static void drive_wish(logic::Simulator& simulator) {
    simulator.set("minimum_voltage", 90);
    simulator.set("maximum_voltage", 300);
    simulator.set("wanted_current", 300);
    simulator.set("wanted_power", 180);
  }

  unsigned objects_;
  TrafficState state_;
  std::mt19937_64 random_;
};

Drive capability_match_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  return [traffic = CapabilityTraffic(objects_of(settings), state, seed)](
             logic::Simulator& simulator, std::uint64_t clock) mutable { traffic.drive(simulator, clock); };
}

void load_wish(firmware::Machine& machine, const PowerWish& wish) {
  machine.set("minimum_voltage", wish.minimum_voltage);
  machine.set("maximum_voltage", wish.maximum_voltage);
  machine.set("wanted_current", wish.wanted_current);
  machine.set("wanted_power", wish.wanted_power);
}

// The longest path: every object is a variable supply that fits, offers more than is wanted and beats the
// last.
firmware::Counts worst_message(const firmware::Routine& routine, unsigned objects) {
  firmware::Machine machine(routine);
  load_wish(machine,
            {.minimum_voltage = 0, .maximum_voltage = 1023, .wanted_current = 300, .wanted_power = 100});
  for (unsigned i = 0; i < objects; ++i) {
    machine.set_element("objects", i, 2U << 30U | 400U << 20U | (100U + i) << 10U | 500U);
  }
  machine.run({objects});
  return machine.counts();
}

// Object `i` of an offer in the order the standard asks for: 5 V first, fixed supplies by rising voltage,
// then battery, variable and augmented ones.
std::uint32_t object_of_offer(unsigned i, std::uint64_t draw) {
  constexpr std::array<std::uint32_t, 4> voltages{100, 180, 300, 400};
  const auto amount = 150 + static_cast<std::uint32_t>(draw % 350);
  if (i < voltages.size()) return voltages[i] << 10U | amount;
  const auto low = 100 + static_cast<std::uint32_t>((draw >> 16U) % 100);
  const auto high = low + 50 + static_cast<std::uint32_t>((draw >> 32U) % 150);
  const auto type = i == 4 ? 1U : i == 5 ? 2U : 3U;
  return type << 30U | high << 20U | low << 10U | amount;
}

// Offers and wishes: 5 V up to 9 V at least and 20 V at most, 1 A to 5 A.
FirmwareRun capability_match_run(const Settings& settings, std::string_view) {
  const unsigned objects = objects_of(settings);
  FirmwareRun run{.routine = capability_match_routine(objects), .counts = {}, .events = 500};
  firmware::Machine machine(run.routine);
  std::mt19937_64 random(1);
  for (std::uint64_t i = 0; i < run.events; ++i) {
    const auto draw = random();
    load_wish(machine, {.minimum_voltage = 90,
                        .maximum_voltage = 185 + static_cast<std::uint32_t>(draw % 240),
                        .wanted_current = 100 + static_cast<std::uint32_t>((draw >> 16U) % 400),
                        .wanted_power = 60 + static_cast<std::uint32_t>((draw >> 32U) % 200)});
    for (unsigned object = 0; object < objects; ++object) {
      machine.set_element("objects", object, object_of_offer(object, random()));
    }
    machine.run({objects});
  }
  run.counts = machine.counts();
  run.paths = {worst_message(run.routine, objects)};
  return run;
}

}  // namespace

std::uint32_t plausible_power_object(std::uint64_t draw) {
  constexpr std::array<std::uint32_t, 6> voltages{100, 180, 240, 300, 400, 560};
  const auto low = voltages[(draw >> 8U) % voltages.size()];
  const auto high = low + static_cast<std::uint32_t>((draw >> 16U) % 200);
  const auto amount = 50 + static_cast<std::uint32_t>((draw >> 32U) % 450);
  const auto choice = draw % 16;
  if (choice < 10) return low << 10U | amount;
  if (choice < 13) return 2U << 30U | high << 20U | low << 10U | amount;
  if (choice < 15) return 1U << 30U | high << 20U | low << 10U | amount;
  return 3U << 30U | amount;
}

firmware::Routine capability_match_routine(unsigned objects) {
  firmware::Routine r("capability_match");
  const auto message = r.parameter_structure("message");
  const auto wish = r.parameter_structure("wish");
  const auto best = r.parameter_structure("best");
  const auto count = r.parameter_u8("count");
  const auto offers = message.array_u32("objects", objects);
  const auto minimum = wish.field_u16("minimum_voltage");
  const auto maximum = wish.field_u16("maximum_voltage");
  const auto wanted_current = wish.field_u16("wanted_current");
  const auto wanted_power = wish.field_u16("wanted_power");
  const auto i = r.local_u8("i");
  const auto object = r.local_u32("object");
  const auto type = r.local_u8("type");
  const auto lowest = r.local_u16("lowest");
  const auto highest = r.local_u16("highest");
  const auto amount = r.local_u16("amount");
  const auto power = r.local_u32("power");
  const auto best_power = r.local_u32("best_power_so_far");
  const auto best_index = r.local_u8("best_index_so_far");
  const auto best_amount = r.local_u16("best_amount_so_far");

  r.set(best_power, 0);
  r.set(best_index, 0);
  r.set(best_amount, 0);
  r.for_count(i, count, [&] {
    r.set(object, offers[i]);
    r.set(type, cast_u8(object >> 30));
    r.if_(type == 3, [&] { r.continue_(); });
    r.set(lowest, cast_u16(object >> 10) & 0x3FF);
    r.set(highest, lowest);
    r.if_(type != 0, [&] { r.set(highest, cast_u16(object >> 20) & 0x3FF); });
    r.if_(lowest < minimum || highest > maximum, [&] { r.continue_(); });
    r.set(amount, cast_u16(object) & 0x3FF);
    r.if_else(
        type == 1,
        [&] {
          r.if_(amount > wanted_power, [&] { r.set(amount, wanted_power); });
          r.set(power, cast_u32(amount) * battery_power_scale);
        },
        [&] {
          r.if_(amount > wanted_current, [&] { r.set(amount, wanted_current); });
          r.set(power, cast_u32(lowest) * cast_u32(amount));
        });
    r.if_(power > best_power, [&] {
      r.set(best_power, power);
      r.set(best_index, i + 1);
      r.set(best_amount, amount);
    });
  });
  r.set(best.field_u32("best_power"), best_power);
  r.set(best.field_u16("best_amount"), best_amount);
  r.return_(best_index);
  return r;
}

Kind capability_match_kind() {
  Kind kind;
  kind.name = "capability-match";
  kind.summary = "offered power objects against a wish list: largest power within the limits, and its index";
  kind.spread_class = "fsm";
  kind.settings = {
      {"objects", "most objects in an offer", IntegerDomain{1, 7, 7}},
      {"bits", "bits of an object; the layouts of the open standard have 32", IntegerDomain{32, 32, 32}},
  };
  kind.network = capability_match_network;
  kind.traffic = capability_match_traffic;
  kind.methods = {{"object-loop", {}}};
  kind.run = capability_match_run;
  kind.event = always(Event::message);
  kind.pace = [](const Settings& settings) {
    return Pace{Event::message, (objects_of(settings) + 1.0) * capability_match_clocks};
  };
  kind.stage = Stage::policy;
  return kind;
}

}  // namespace portweigh::blocks

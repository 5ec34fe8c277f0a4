// Kind "crc": settings, code arithmetic, traffic.
#include "blocks/packet/crc.hpp"

#include <fmt/core.h>

#include <memory>
#include <random>

#include "blocks/random_traffic.hpp"

namespace portweigh::blocks {
namespace {

constexpr std::uint64_t all_ones = ~std::uint64_t{0};
// A policy message of seven objects with its check value: 34 bytes.
constexpr std::uint64_t traffic_message_bits = 272;

std::vector<Setting> crc_settings() {
  return {
      {"width", "bits of the check value", IntegerDomain{1, 32, 64}},
      {"polynomial", "generator without its leading term, highest power first",
       IntegerDomain{1, 0x04C11DB7, all_ones}},
      {"reflected", "least significant bit of each byte first, as most serial links do", FlagDomain{true}},
      {"bits_per_clock", "message bits taken at each clock", IntegerDomain{1, 1, 64}},
      {"initial", "register at the start of a message; all ones are cut to the width",
       IntegerDomain{0, all_ones, all_ones}},
      {"final", "exclusive or on the result; all ones are cut to the width",
       IntegerDomain{0, all_ones, all_ones}},
      {"residue_check", "an output that says whether a message with its check value is right",
       FlagDomain{false}},
      {"form", "how the equations are built: bit after bit, a balanced sum for each register, or the smaller",
       ChoiceDomain{{"smallest", "unrolled", "rows"}, "smallest"}},
      {"method", "firmware: how a byte is taken",
       ChoiceDomain{{"bitwise", "nibble-table", "byte-table"}, "byte-table"}},
  };
}

std::uint64_t mirrored(std::uint64_t value, unsigned width) {
  std::uint64_t result = 0;
  for (unsigned i = 0; i < width; ++i) result |= (value >> i & 1U) << (width - 1 - i);
  return result;
}

std::uint64_t fitting(const Settings& settings, std::string_view name, const CrcCode& code) {
  const std::uint64_t value = settings.integer(name);
  if (value == all_ones && name != "polynomial") return code.mask();
  if ((value & ~code.mask()) != 0) {
    throw SettingError(fmt::format("setting \"{}\": {:#x} does not fit \"width\" {}, expected at most {:#x}",
                                   name, value, code.width, code.mask()));
  }
  return value;
}

std::uint64_t events_of_message(const Settings& settings) {
  return traffic_message_bits / static_cast<std::uint64_t>(settings.integer("bits_per_clock")) + 1;
}

// Messages back to back: a reset in place of an event between them, random bits in each of the 64 streams.
Drive crc_traffic(const Settings& settings, TrafficState state, std::uint64_t seed) {
  const std::uint64_t events = events_of_message(settings);
  auto random = std::make_shared<std::mt19937_64>(seed);
  auto data = std::make_shared<RandomInput>("data");
  return [state, events, random, data](logic::Simulator& simulator, std::uint64_t clock) {
    const bool is_event = state == TrafficState::active && clock % traffic_spacing == 0;
    const bool is_start = clock == 0 || (is_event && clock / traffic_spacing % (events + 1) == 0);
    simulator.set("reset", is_start ? 1 : 0);
    simulator.set("enable", is_event && !is_start ? 1 : 0);
    if (is_event) data->set(simulator, *random);
  };
}

// A method set by hand in the settings wins over the one that is asked for.
CrcMethod chosen_method(const Settings& settings, std::string_view method) {
  const bool is_by_hand = method.empty() || settings.was_set("method");
  return crc_method(is_by_hand ? std::string_view(settings.choice("method")) : method);
}

// Messages of the lengths of a policy message with 0 to 7 objects, from the code's own start; their work is
// shared over their bytes. Worst is a message of one byte, which bears alone what is done once.
FirmwareRun crc_run(const Settings& settings, std::string_view method) {
  const CrcCode code = crc_code(settings);
  FirmwareRun run{.routine = crc_routine(code, chosen_method(settings, method)), .counts = {}, .events = 0};
  firmware::Machine machine(run.routine);
  std::mt19937_64 random(1);
  const std::uint64_t state = CrcStep::placed(code, code.held(code.initial));
  const auto low = static_cast<std::uint32_t>(state & 0xFFFFFFFFU);
  const auto run_message = [&](std::uint32_t length) {
    if (CrcStep::variable_bits(code) < 64) {
      machine.run({length, low});
    } else {
      machine.run({length, low, static_cast<std::uint32_t>(state >> 32U)});
    }
  };
  for (std::uint32_t objects = 0; objects < 8; ++objects) {
    const std::uint32_t length = 2 + 4 * objects;
    for (std::uint32_t i = 0; i < length; ++i) {
      machine.set_element("data", i, static_cast<std::uint32_t>(random() & 0xFFU));
    }
    run_message(length);
    run.events += length;
  }
  run.counts = machine.counts();
  run.counts.events = run.events;
  machine.clear_counts();
  run_message(1);
  run.paths = {machine.counts()};
  return run;
}

Pins crc_pins(const Settings& /*settings*/) {
  return {};
}

}  // namespace

std::uint64_t CrcCode::held(std::uint64_t catalogue_value) const {
  return is_reflected ? mirrored(catalogue_value, width) : catalogue_value;
}

std::uint64_t CrcCode::advance(std::uint64_t state, bool bit) const {
  const auto incoming = static_cast<std::uint64_t>(bit);
  const std::uint64_t leaving = is_reflected ? state & 1U : state >> (width - 1) & 1U;
  const std::uint64_t shifted = is_reflected ? state >> 1U : state << 1U & mask();
  return (leaving ^ incoming) != 0 ? shifted ^ held(polynomial) : shifted;
}

std::uint64_t CrcCode::residue() const {
  std::uint64_t state = 0;
  for (unsigned i = 0; i < width; ++i) {
    const unsigned sent = is_reflected ? i : width - 1 - i;
    // The register so far is zero plus what `final_xor` has put in; the sent bit is that of the check value.
    state = advance(state, (final_xor >> sent & 1U) != 0);
  }
  return state;
}

CrcCode crc_code(const Settings& settings) {
  CrcCode code;
  code.width = static_cast<unsigned>(settings.integer("width"));
  code.is_reflected = settings.flag("reflected");
  code.polynomial = fitting(settings, "polynomial", code);
  code.initial = fitting(settings, "initial", code);
  code.final_xor = fitting(settings, "final", code);
  return code;
}

Kind crc_kind() {
  Kind kind;
  kind.name = "crc";
  kind.summary = "cyclic redundancy check: any width, polynomial and number of bits a clock";
  kind.spread_class = "crc";
  kind.settings = crc_settings();
  kind.network = [](const Settings& settings) { return crc_network(settings); };
  kind.traffic = crc_traffic;
  kind.methods = {{"byte-table", {}}, {"nibble-table", {}}, {"bitwise", {}}, {"crc-unit", {"crc-unit"}}};
  kind.run = crc_run;
  kind.pins = crc_pins;
  kind.event = always(Event::byte);
  kind.pace = [](const Settings& settings) {
    const auto steps = 8.0 / static_cast<double>(settings.integer("bits_per_clock"));
    const auto events = static_cast<double>(events_of_message(settings));
    return Pace{Event::byte, steps * traffic_spacing * (events + 1) / events};
  };
  kind.stage = Stage::packet;
  return kind;
}

}  // namespace portweigh::blocks

// A kind of block: one protocol function as a logic network and, where firmware can do it, as a routine.
//
// Each kind lives in one file (line_code.cpp, crc.cpp, ...) and is described by one `Kind` value, listed in
// registry.cpp. All members but name, summary and settings may be empty: an analogue front end has no
// network, a netlist has no routine. Conventions shared by all networks:
//   - one clock; all outputs registered or directly driven by registers where a designer would register them;
//   - reset is a `reset` input, synchronous; clock enables are used where the function allows idling;
//   - inputs and outputs are named in snake_case, the same names the traffic and the tests use.
// All routines: one `FirmwareRun` for each method, executed on generated, seeded traffic that covers the common
// paths in their natural shares, and on the traffic that takes the longest path.
//
// Adding a kind: DEVELOPERS.md, "Add a block". Tested by tests/blocks/<folder>/<kind>_test.cpp and registry_test.cpp.
#pragma once

#include <algorithm>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "blocks/protocol_facts.hpp"
#include "blocks/settings.hpp"
#include "firmware/execute.hpp"
#include "firmware/routine.hpp"
#include "logic/network/network.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {

// Signals that leave the chip because of this block.
struct Pins {
  unsigned digital_inputs = 0;
  unsigned digital_outputs = 0;
  unsigned bidirectional = 0;  // open-drain or tri-state
  unsigned analogue = 0;       // comparator inputs, sense pins, switches
  unsigned total() const { return digital_inputs + digital_outputs + bidirectional + analogue; }
};

// Analogue functions that must exist somewhere: in the part, or as external parts.
struct AnalogueNeeds {
  unsigned comparators = 0;
  unsigned watching = 0;  // of the comparators: those that look for a cable, on with nothing attached
  unsigned switches = 0;
  unsigned references = 0;
};

// What a block sees in a port state: nothing happening, or traffic without pause.
enum class TrafficState : std::uint8_t { idle, active };

// Sets a network's inputs for clock number `clock`, before the clock edge; owns its random generator.
using Drive = std::function<void(logic::Simulator&, std::uint64_t clock)>;

// A routine that has been run: the program, how often each statement ran, and for how many events.
struct FirmwareRun {
  firmware::Routine routine;
  firmware::Counts counts;  // over all events, natural mix
  std::uint64_t events = 0;
  // What one activation ran, each different, longest first by statements: which one takes most cycles depends on
  // the core class.
  std::vector<firmware::Counts> paths = {};
  // Path of each activation in turn, where the traffic is a stream and all paths are kept; else empty.
  std::vector<std::uint16_t> order = {};
};

// A way to do the block in firmware, and the microcontroller peripherals it needs ("capture", "dma",
// "crc-unit", "bit-serial-port", "compare-output", "comparator", "i2c-target", ...).
struct Method {
  std::string name;
  std::vector<std::string> peripherals;
  bool polls = false;  // no interrupt: the core watches for the event and does nothing else meanwhile
  std::optional<Event> event = {};  // where it is not that of the kind
};

// Counts that the user brings along instead of a working twin.
struct GivenCounts {
  std::uint64_t luts = 0, registers = 0, levels = 0, ram_bits = 0;
  std::uint64_t cycles = 0, code_bytes = 0, data_bytes = 0;
};

struct Kind {
  std::string name;
  std::string summary;       // one line for `list blocks`
  std::string spread_class;  // row of the spread table: "code-table", "crc", "line-code", "uart", "fsm", ...
  std::vector<Setting> settings;

  std::function<logic::Network(const Settings&)> network;
  std::function<Drive(const Settings&, TrafficState, std::uint64_t seed)> traffic;
  std::vector<Method> methods;  // first one is the default; empty where there is no firmware
  // Peripherals of a method where they depend on the settings (bus and role of a host interface).
  std::function<std::vector<std::string>(const Settings&, std::string_view method)> peripherals;
  // Whether a method exists with these settings; empty: always (an encoder and a decoder have different
  // ones).
  std::function<bool(const Settings&, std::string_view method)> offers;
  std::function<FirmwareRun(const Settings&, std::string_view method)> run;
  std::function<Pins(const Settings&)> pins;
  std::function<AnalogueNeeds(const Settings&)> analogue;
  std::function<GivenCounts(const Settings&)> given;
  // Reads the files that the settings name, to tell their mistakes as reading::InputError.
  std::function<void(const Settings&)> check_files;
  // What a reader of the block's figures must know; "" : nothing.
  std::function<std::string(const Settings&)> note;

  std::function<Pace(const Settings&)> pace;  // of `traffic`; empty: the network works at every clock

  // Protocol facts. What sets the routine off; there where there is a routine.
  std::function<Event(const Settings&)> event;
  Stage stage = Stage::anywhere;
  std::function<LineFacts(const Settings&)> line;       // line codes
  std::function<SymbolFacts(const Settings&)> symbols;  // codes of bytes, and what holds one
  // What it makes of a stream of bits on the way to the line, first bit first: symbol codes and stuffing.
  std::function<std::vector<bool>(const Settings&, const std::vector<bool>&)> sent;
  std::function<BusFacts(const Settings&)> bus;  // interfaces of a host bus
  // Bits on the line of the message that is one event of the routine, where a stream of bytes makes it up.
  std::function<double(const Settings&)> message_bits;
  std::vector<std::string> contained_kinds;  // whose work its routine does as well
  bool runs_while_quiet =
      false;  // its outputs need the clock with a cable attached and no message on the line

  bool contains(const Kind& other) const {
    return std::find(contained_kinds.begin(), contained_kinds.end(), other.name) != contained_kinds.end();
  }
  // What the part must have for `method` with these settings.
  std::vector<std::string> needed_peripherals(const Settings& chosen, const Method& method) const {
    return peripherals ? peripherals(chosen, method.name) : method.peripherals;
  }
  // The methods that exist with these settings; the first is the default.
  std::vector<Method> offered_methods(const Settings& chosen) const {
    std::vector<Method> offered;
    for (const Method& method : methods) {
      if (!offers || offers(chosen, method.name)) offered.push_back(method);
    }
    return offered;
  }
};

// The event of kinds whose settings don't change it.
inline std::function<Event(const Settings&)> always(Event event) {
  return [event](const Settings&) { return event; };
}

}  // namespace portweigh::blocks

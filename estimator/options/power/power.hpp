// The steps of an option's power: what each contributor draws, then by state, average and heat, then a
// battery's life. Each step is described in the file of its name.
#pragma once

#include <string>
#include <vector>

#include "options/fabric/count_cells.hpp"
#include "options/package/package.hpp"

namespace portweigh::options {

// What one contributor draws from the supply, in W.
struct PowerContribution {
  std::string name;       // "clock tree"
  figures::Figure busy;   // attached, line carrying bits
  figures::Figure quiet;  // attached, line quiet
  figures::Figure detached;
  EngineKind heats = EngineKind::none;  // the chip that carries this engine; none: no main part
};

// What waking a processor or a fabric takes, J: attached for a message or another event where the line was quiet, detached.
struct WakeUps {
  std::string name;
  figures::Figure attached_j;
  figures::Figure detached_j;
  std::optional<figures::Figure> ticking_w = {};  // while timers run that need ticks
};

struct Drawn {
  std::vector<PowerContribution> power;
  std::vector<WakeUps> wake_ups;
};

// How a contributor is called: "power.<key>.busy" is "<label>, line busy".
struct Contributor {
  std::string key;
  std::string label;
  const char* busy_label = "busy";
  const char* quiet_label = "quiet";
  EngineKind heats = EngineKind::none;
};

// Names the three figures of a contributor and adds them.
void add_contribution(Draft& draft, Drawn& drawn, const Contributor& who, figures::Figure busy,
                      figures::Figure quiet, figures::Figure detached);

// Messages a second without pause, each with its turn-round: what hosts, state machines and registers see.
figures::Figure message_rate(Draft& draft);

// Edges that this side drives for each bit on the line: it sends half of the messages.
figures::Figure driven_edges_per_bit(Draft& draft);

void add_fabric_power(Draft& draft, const Placed& placed, const Packaged& packaged, const Cells& cells,
                      Drawn& drawn);
void add_processor_power(Draft& draft, const Firmware& firmware, Drawn& drawn);
// Each processor's clock as an implied limit, once its power has named the clock.
void add_clock_limits(Draft& draft, const Placed& placed);
void add_other_power(Draft& draft, const Placed& placed,
                     Drawn& drawn);  // fixed function, host, external parts

struct Power {
  figures::Figure average_w;
  figures::Figure standby_w;
};

OrShortfall<Power> sum_power_and_heat(Draft& draft, const Packaged& packaged, const Drawn& drawn);

void add_battery(Draft& draft, const study::Battery& battery, const Power& power);

}  // namespace portweigh::options

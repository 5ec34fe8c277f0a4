// The list of all kinds of block; adding a kind is one include and one line here.
//
// Tested by tests/blocks/registry_test.cpp.
#include "blocks/registry.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "blocks/host_bus/host_interface.hpp"
#include "blocks/host_bus/register_bank.hpp"
#include "blocks/line/bit_stuffing.hpp"
#include "blocks/line/line_code.hpp"
#include "blocks/line/scrambler.hpp"
#include "blocks/line/symbol_code.hpp"
#include "blocks/packet/buffer.hpp"
#include "blocks/packet/capability_match.hpp"
#include "blocks/packet/crc.hpp"
#include "blocks/packet/framing.hpp"
#include "blocks/pins/pins.hpp"
#include "blocks/pins/pulse_width.hpp"
#include "blocks/pins/timer_bank.hpp"
#include "blocks/processor/soft_processor.hpp"
#include "blocks/state_machine/state_machine.hpp"
#include "blocks/supplied/given_counts.hpp"
#include "blocks/supplied/netlist.hpp"
#include "reading/suggest.hpp"

namespace portweigh::blocks {
namespace {

constexpr const char* any_method = "automatic";

// Kinds with several methods let the user choose one; crc has its own, which also acts on other blocks' sums.
void add_method_setting(Kind& kind) {
  const auto is_method = [](const Setting& setting) { return setting.name == "method"; };
  if (kind.methods.size() < 2 || std::any_of(kind.settings.begin(), kind.settings.end(), is_method)) return;
  ChoiceDomain choices{{any_method}, any_method};
  for (const Method& method : kind.methods) choices.options.push_back(method.name);
  kind.settings.push_back(
      {"method", "firmware: the way it is done; automatic: the best the part allows", std::move(choices)});
}

std::vector<Kind> list_kinds() {
  std::vector<Kind> kinds;
  kinds.push_back(register_bank_kind());
  kinds.push_back(capability_match_kind());
  kinds.push_back(analogue_front_end_kind());
  kinds.push_back(measured_kind());
  kinds.push_back(host_interface_kind());
  kinds.push_back(soft_processor_kind());
  kinds.push_back(netlist_kind());
  kinds.push_back(line_code_kind());
  kinds.push_back(scrambler_kind());
  kinds.push_back(bit_stuffing_kind());
  kinds.push_back(symbol_code_kind());
  kinds.push_back(crc_kind());
  kinds.push_back(timer_bank_kind());
  kinds.push_back(pulse_width_kind());
  kinds.push_back(pins_kind());
  kinds.push_back(buffer_kind());
  kinds.push_back(state_machine_kind());
  kinds.push_back(framing_kind());
  for (Kind& kind : kinds) add_method_setting(kind);
  return kinds;
}

}  // namespace

std::span<const Kind> kinds() {
  static const std::vector<Kind> all = list_kinds();
  return all;
}

void check_method(const Kind& kind, const Settings& settings) {
  if (kind.methods.size() < 2 || !settings.was_set("method")) return;
  const std::string& chosen = settings.choice("method");
  std::vector<std::string> names;
  for (const Method& method : kind.offered_methods(settings)) names.push_back(method.name);
  if (std::find(names.begin(), names.end(), chosen) != names.end()) return;
  throw SettingError(
      fmt::format("setting \"method\": \"{}\" does not go with the other settings, expected {}", chosen,
                  fmt::join(names, ", ")));
}

const Kind& host_interface() {
  return find_kind("host-interface");
}

const Kind& register_bank() {
  return find_kind("register-bank");
}

const Kind& soft_processor() {
  return find_kind("soft-processor");
}

const Kind& find_kind(std::string_view name) {
  const auto all = kinds();
  const auto found =
      std::find_if(all.begin(), all.end(), [&](const Kind& kind) { return kind.name == name; });
  if (found != all.end()) return *found;
  std::vector<std::string> names;
  for (const Kind& kind : all) names.push_back(kind.name);
  throw SettingError(reading::unknown_name_message("block", name, names));
}

}  // namespace portweigh::blocks

#include <fmt/core.h>

#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "blocks/registry.hpp"
#include "cli/session.hpp"
#include "reading/diagnostic.hpp"
#include "reading/suggest.hpp"
#include "report/terminal/block_report.hpp"

namespace portweigh::cli {
namespace {

struct BlockArguments {
  Common common;
  std::string kind;
  std::vector<std::string> settings;  // NAME=VALUE
  unsigned lut_inputs = 4;
  bool carry_chain = false;
  bool plain_registers = false;
  unsigned smallest_ram_bits = 0;
  std::string core = "32-bit-two-stage";
  std::string optimise = "middle";  // what the compiler is asked for: size, speed, middle
};

options::BlockUse block_of(const BlockArguments& arguments) {
  const blocks::Kind& kind = blocks::find_kind(arguments.kind);
  options::BlockUse use{&kind, blocks::Settings::standard(kind.settings)};
  for (const std::string& text : arguments.settings) {
    const auto equals = text.find('=');
    if (equals == std::string::npos) {
      throw blocks::SettingError(fmt::format("--set {}: expected NAME=VALUE", text));
    }
    use.settings.set(text.substr(0, equals), text.substr(equals + 1));
  }
  blocks::check_method(kind, use.settings);
  return use;
}

// Firmware counts that the user brings along are exact; constants are within the code bytes.
std::optional<options::FirmwareFigures> given_firmware(const options::BlockUse& use) {
  if (!use.kind->given) return std::nullopt;
  const blocks::GivenCounts given = use.kind->given(use.settings);
  if (given.cycles == 0 && given.code_bytes == 0 && given.data_bytes == 0) return std::nullopt;
  const auto exactly = [](std::uint64_t count) {
    const auto value = static_cast<double>(count);
    return firmware::CostRange{value, value, value};
  };
  options::FirmwareFigures figures;
  figures.method = "measured";
  figures.cost.cycles = exactly(given.cycles);
  figures.cost.code_bytes = exactly(given.code_bytes);
  figures.cost.ram_bytes = static_cast<double>(given.data_bytes);
  figures.worst_cycles = figures.cost.cycles;
  return figures;
}

// What the reader of the figures must know about them; empty: nothing.
std::string note_on(const options::BlockUse& use) {
  return use.kind->note ? use.kind->note(use.settings) : "";
}

const options::FirmwareFigures* chosen_method(const std::vector<options::FirmwareFigures>& methods,
                                              const blocks::Settings& settings) {
  if (methods.empty()) return nullptr;
  for (const auto& [name, value] : settings.values()) {
    const auto* wanted = name == "method" ? std::get_if<std::string>(&value) : nullptr;
    if (wanted == nullptr) continue;
    for (const options::FirmwareFigures& method : methods) {
      if (method.method == *wanted) return &method;
    }
  }
  return &methods.front();
}

firmware::Goal goal_of(const std::string& optimise) {
  if (optimise == "size") return firmware::Goal::size;
  return optimise == "speed" ? firmware::Goal::speed : firmware::Goal::middle;
}

void check_core(const parts::Catalog& catalog, const std::string& core) {
  if (catalog.cores.contains(core)) return;
  std::vector<std::string> names;
  for (const auto& [name, value] : catalog.cores) names.push_back(name);
  throw reading::InputError(
      reading::Diagnostic{"--core", 0, 0, reading::unknown_name_message("core class", core, names), ""});
}

int run_block(const BlockArguments& arguments, std::ostream& out) {
  parts::Catalog catalog = parts::read_catalog(arguments.common.catalog);
  check_core(catalog, arguments.core);
  firmware::Core& core = catalog.cores.at(arguments.core);
  core = firmware::built_for(core, goal_of(arguments.optimise));
  report::BlockFigures figures;
  figures.use = block_of(arguments);
  // No part is given, so how its RAM reads is not known either: memories are RAM bits.
  figures.traits = {.lut_inputs = arguments.lut_inputs,
                    .has_carry_chain = arguments.carry_chain,
                    .has_register_control = !arguments.plain_registers,
                    .smallest_ram_bits = arguments.smallest_ram_bits,
                    .ram_reads = logic::RamReads::any};
  figures.core = arguments.core;
  options::BlockLibrary library(catalog.cores);
  const blocks::Kind& kind = *figures.use.kind;
  if (kind.network || kind.given) {
    figures.logic = &library.logic(figures.use, figures.traits);
    figures.switching = &library.switching(figures.use, figures.traits);
  }
  const auto& methods = library.firmware(figures.use, arguments.core);
  const std::optional<options::FirmwareFigures> given = given_firmware(figures.use);
  figures.firmware = given ? &*given : chosen_method(methods, figures.use.settings);
  for (const options::FirmwareFigures& method : methods) {
    if (&method != figures.firmware) figures.other_methods.push_back(method.method);
  }
  const auto spread = catalog.lut_spreads.find(kind.spread_class);
  figures.spread = spread != catalog.lut_spreads.end() ? spread->second : catalog.lut_spreads.at("default");
  const std::string note = note_on(figures.use);
  if (arguments.common.format == Format::json) {
    nlohmann::ordered_json json = report::block_json(figures);
    if (!note.empty()) json["note"] = note;
    out << json.dump(2) << "\n";
  } else {
    out << report::block_text(figures);
    if (!note.empty()) out << "\nNote: " << note << "\n";
  }
  return 0;
}

void declare_block(Options& options, BlockArguments& arguments) {
  options.required("KIND", arguments.kind, "kind of block, see: portweigh list blocks");
  options.repeated("--set", arguments.settings, "setting of the block, NAME=VALUE (repeatable)");
  options.whole("--lut-inputs", arguments.lut_inputs, 3, 8, "inputs of a LUT");
  options.flag("--carry-chain", arguments.carry_chain, "adders take one cell a bit");
  options.flag("--plain-registers", arguments.plain_registers, "registers without enable and reset");
  options.count("--smallest-ram", arguments.smallest_ram_bits, "memories with fewer bits become registers");
  options.optional("--core", arguments.core, "core class, see: portweigh list cores");
  options.choice("--optimise", arguments.optimise, {"size", "speed", "middle"},
                 "firmware compiled for size or speed; middle (the default): the mean of both");
}

}  // namespace

Verb block_verb();
Verb block_verb() {
  return make_verb<BlockArguments>(
      "block", "one block on its own: what it takes in logic and in firmware",
      "portweigh block crc --set width=16 --set polynomial=0x1021 --lut-inputs 4", declare_block, run_block);
}

}  // namespace portweigh::cli

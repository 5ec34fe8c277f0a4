#include "study/function_reader.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <set>

#include "blocks/registry.hpp"
#include "reading/suggest.hpp"
#include "study/block_settings_reader.hpp"

namespace portweigh::study {
namespace {

using namespace reading;
namespace dims = figures::dimensions;

using Folders = std::vector<std::filesystem::path>;

const Fields<Timing>& timing_fields() {
  const auto time = QuantityRule(dims::time).between(1e-9, 3600);
  static const Fields<Timing> fields = {
      range("bit_rate", &Timing::bit_rate, QuantityRule(dims::frequency).between(1, 1e9), "kHz",
            "bits a second on the wire")
          .as_input("bit rate"),
      count("oversampling", &Timing::oversampling, 2, 64, "samples of a bit that a decoder takes",
            Presence::optional),
      range("message_bits", &Timing::message_bits, QuantityRule(dims::dimensionless).between(1, 1e6), "1",
            "bits of a message on the wire, with preamble")
          .as_input("bits of a message"),
      range("line_capacitance", &Timing::line_capacitance, QuantityRule(dims::capacitance).between(0, 1e-6),
            "nF", "what the transmitter drives: cable and receivers")
          .as_input("capacitance of the line"),
      range("line_swing", &Timing::line_swing, QuantityRule(dims::voltage).between(0, 50), "V",
            "from low to high on the line")
          .as_input("swing on the line"),
      quantity("turn_round", &Timing::turn_round, time, "us",
               "last bit received to first bit of the acknowledgement"),
      quantity("inter_frame_gap", &Timing::inter_frame_gap, time, "us", "least pause between two messages"),
      quantity("response", &Timing::response, time, "ms", "message received to the policy's answer"),
      quantity("tick", &Timing::tick, time, "us", "resolution of the protocol's timers")};
  return fields;
}

const std::vector<std::pair<std::string, Layer>>& layers() {
  static const std::vector<std::pair<std::string, Layer>> all = {
      {"analogue", Layer::analogue}, {"physical", Layer::physical}, {"message", Layer::message},
      {"policy", Layer::policy},     {"host", Layer::host},         {"pins", Layer::pins}};
  return all;
}

// What a block says beside its kind and settings.
const Fields<FunctionBlock>& block_fields() {
  using B = FunctionBlock;
  std::vector<std::pair<std::string, std::string>> deadlines;
  for (const char* name : {"turn-round", "inter-frame-gap", "response", "tick"}) {
    deadlines.emplace_back(name, name);
  }
  static const Fields<FunctionBlock> fields = {
      text("name", &B::name, "unique in the function", Pattern::identifier),
      choice("layer", &B::layer, layers(), "where options split the function"),
      text("feature", &B::feature, "what a fixed-function part must offer to replace it; absent: any does",
           Pattern::identifier, Presence::optional),
      text("revision_group", &B::revision_group, "what a change of the standard touches together",
           Pattern::identifier, Presence::optional),
      choice("deadline", &B::deadline, std::move(deadlines),
             "time of the timing table by which its event must be done; absent: the event's own rule",
             Presence::optional),
      choice("direction", &B::direction,
             {{"receive", Direction::receive}, {"transmit", Direction::transmit}, {"both", Direction::both}},
             "which half of the traffic it works on; kinds with a setting of that name take it from there",
             Presence::optional),
      remembered_source(&B::source)};
  return fields;
}

const blocks::Kind* read_kind(TableReader& reader) {
  const auto name = reader.required_string("kind", Pattern::identifier);
  if (name.empty()) return nullptr;
  std::vector<std::string> names;
  for (const auto& kind : blocks::kinds()) {
    if (kind.name == name) return &kind;
    names.push_back(kind.name);
  }
  reader.report("kind", unknown_name_message("block kind", name, names));
  return nullptr;
}

// Tells the mistakes of the files a block names; what they hold is read again where it is built.
void check_files(const FunctionBlock& block, Diagnostics& mistakes) {
  if (!block.kind->check_files) return;
  try {
    block.kind->check_files(block.settings);
  } catch (const InputError& error) {
    mistakes.append(error.diagnostics());
  }
}

FunctionBlock read_block(TableReader& reader, const Folders& folders, Diagnostics& mistakes) {
  FunctionBlock block;
  read_record(reader, block_fields(), block);
  block.kind = read_kind(reader);
  auto settings = reader.optional_table("settings");
  if (block.kind == nullptr) {
    // Without its kind nothing is known of the settings, so none of them is called unknown.
    if (settings) {
      for (const auto& key : settings->keys()) settings->accept(key);
    }
    return block;
  }
  if (settings) {
    block.settings = read_settings(*settings, *block.kind, folders);
  } else {
    block.settings = blocks::Settings::standard(block.kind->settings);
  }
  const auto& declared = block.kind->settings;
  const bool has_setting =
      std::any_of(declared.begin(), declared.end(), [](const auto& one) { return one.name == "direction"; });
  if (has_setting && block.direction != Direction::both) {
    reader.report("direction",
                  fmt::format("kind \"{}\" has a setting of that name, expected it there", block.kind->name));
  }
  check_files(block, mistakes);
  return block;
}

void check_names(std::vector<TableReader>& readers, const PortFunction& function) {
  std::set<std::string> names;
  for (std::size_t i = 0; i < readers.size(); ++i) {
    const auto& name = function.blocks[i].name;
    if (name.empty() || names.insert(name).second) continue;
    readers[i].report("name", fmt::format("block \"{}\" is listed twice, expected a unique name", name));
  }
}

PortFunction read_root(TableReader& root, const Folders& folders, Diagnostics& mistakes) {
  PortFunction function;
  function.name = root.required_string("name", Pattern::identifier);
  function.summary = root.required_string("summary");
  function.source = root.source();
  function.needs_silicon = root.optional_boolean("needs_silicon").value_or(true);
  auto timing = root.required_table("timing");
  read_record(timing, timing_fields(), function.timing);
  name_inputs(timing_fields(), function.timing, {"function", "", ""});
  auto readers = root.required_tables("block");
  for (auto& reader : readers) function.blocks.push_back(read_block(reader, folders, mistakes));
  check_names(readers, function);
  if (mistakes.is_empty()) function.stream = stream_of(function.blocks);
  return function;
}

}  // namespace

std::vector<FieldInfo> function_infos() {
  auto block = infos_of(block_fields());
  block.insert(block.begin() + 1, {"kind", "kind of block, as in `list blocks`", Presence::required,
                                   Multiplicity::one, TextShape{Pattern::identifier}});
  block.push_back({"settings", "settings of the kind, as in `block KIND --set`; absent: their defaults",
                   Presence::optional, Multiplicity::named, AnyScalarShape{}});
  return {
      {"name", "unique name", Presence::required, Multiplicity::one, TextShape{Pattern::identifier}},
      {"summary", "one line for people", Presence::required, Multiplicity::one, TextShape{}},
      {"needs_silicon", "false: resistors alone do it", Presence::optional, Multiplicity::one, FlagShape{}},
      {"timing", "times set by the protocol", Presence::required, Multiplicity::one,
       TableShape{infos_of(timing_fields())}},
      {"block", "blocks of the function", Presence::required, Multiplicity::list,
       TableShape{std::move(block)}}};
}

PortFunction read_function(const std::filesystem::path& file, const std::filesystem::path& catalog_folder) {
  auto document = Document::load(file);
  auto root = document.root();
  Diagnostics mistakes;
  const Folders folders = {file.parent_path(), catalog_folder / "state-machines"};
  auto function = read_root(root, folders, mistakes);
  document.throw_if_errors(mistakes);
  return function;
}

}  // namespace portweigh::study

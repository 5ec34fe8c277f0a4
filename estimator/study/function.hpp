// A port function: the blocks it is made of, and the times the protocol sets.
//
// Read from catalog/functions/*.toml or a file named by the study. Blocks belong to a layer, by which options
// split them: analogue, physical (line code to framing), message, policy, host, pins.
// Tested by tests/study/function_reader_test.cpp.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "blocks/kind.hpp"
#include "reading/quantity_rule.hpp"

namespace portweigh::study {

using reading::SourcedQuantity;
using reading::SourcedRange;

enum class Layer { analogue, physical, message, policy, host, pins };

enum class Direction { receive, transmit, both };

struct FunctionBlock {
  std::string name;  // "line-decode": unique in the function
  const blocks::Kind* kind = nullptr;
  blocks::Settings settings;
  Layer layer = Layer::physical;
  std::string feature;         // what a fixed-function part must offer to replace it; "" : any does
  std::string revision_group;  // what a change of the standard touches together: "policy", "message", ...
  // Firmware: which time of the timing table is the deadline of its event: "turn-round", "inter-frame-gap",
  // "response" or "tick"; "" : the event's own rule.
  std::string deadline;
  // Which half of the traffic it works on; kinds with a setting of that name take it from there.
  Direction direction = Direction::both;
  figures::Source source;
};

// Times set by the protocol. Each block's event takes its least period and its deadline from here.
struct Timing {
  SourcedRange bit_rate;  // Hz
  unsigned oversampling = 8;
  SourcedRange message_bits;  // bits of a message on the wire, with preamble
  // What a transmitter drives, and how far: cable and receivers, F, and V. Without: no line to drive.
  std::optional<SourcedRange> line_capacitance;
  std::optional<SourcedRange> line_swing;
  SourcedQuantity turn_round;       // s: last bit received to first bit of the acknowledgement
  SourcedQuantity inter_frame_gap;  // s: least pause between two messages
  SourcedQuantity response;         // s: message received to the policy's answer
  SourcedQuantity tick;             // s: resolution of the protocol's timers
};

struct PortFunction {
  std::string name;
  std::string summary;
  std::vector<FunctionBlock> blocks;
  Timing timing;
  blocks::StreamFacts stream;  // of the bits on the line
  bool needs_silicon = true;   // false: resistors only
  figures::Source source;
};

// Random data through what the blocks make of it, symbols and stuffing, measured on 2^16 bytes. Preambles and
// control symbols are left out: with 4b5b on a biphase-mark line the edges come out 2 % high by that.
blocks::StreamFacts stream_of(const std::vector<FunctionBlock>& blocks);

// `catalog_folder` is where state tables are looked up that don't stand beside the file. Throws
// reading::InputError with every mistake, those of the state tables included.
PortFunction read_function(const std::filesystem::path& file, const std::filesystem::path& catalog_folder);

}  // namespace portweigh::study

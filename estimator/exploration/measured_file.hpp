// Results of synthesis, compilers and the bench, in a file of the user, to calibrate estimates with.
//
//     [[synthesis]]  block, settings, lut_inputs, carry_chain; luts
//     [[firmware]]   block, settings, core, method; cycles of an event, code_bytes
//     [[bench]]      study, option, figure, measured; input: what is held to blame for the difference
// A study's path is relative to the file. Tested by tests/exploration/measured_file_test.cpp.
#pragma once

#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "options/fabric/block_library.hpp"
#include "parts/catalog.hpp"
#include "study/study.hpp"

namespace portweigh::exploration {

struct MeasuredLogic {
  options::BlockUse use;
  options::FabricTraits traits;
  unsigned luts = 0;
  figures::Source source;
};

struct MeasuredFirmware {
  options::BlockUse use;
  std::string core;
  std::string method;            // empty: the kind's first
  std::optional<double> cycles;  // of an event, without interrupt entry and exit
  std::optional<double> code_bytes;
  figures::Source source;
};

struct MeasuredFigure {
  std::string study;  // path, as written
  std::string option;
  std::string figure;
  std::string input;  // key, as `list inputs` names it
  double value_si = 0.0;
  figures::Unit unit;
  figures::Source source;
};

struct Measured {
  std::string name;
  std::vector<MeasuredLogic> logic;
  std::vector<MeasuredFirmware> firmware;
  std::vector<MeasuredFigure> figures;
  std::map<std::string, study::Study> studies;  // by path, as written
};

// Throws reading::InputError with every mistake of the file and of the studies it names.
Measured read_measured(const std::filesystem::path& file, const parts::Catalog& catalog);

}  // namespace portweigh::exploration

// Everything there is to choose from: the parts, core classes and spreads of one catalog folder.
//
// Layout of the folder: programmable-logic/*.toml, microcontrollers/*.toml, fixed-function/*.toml,
// external/*.toml (one part a file, the file's name is the part's id), cores/*.toml, spreads.toml,
// currencies.toml. Parts are in the order of their ids, so that results don't depend on the file system.
// Tested by tests/parts/catalog_test.cpp.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

#include "firmware/core.hpp"
#include "parts/external_part.hpp"
#include "parts/fixed_function.hpp"
#include "parts/microcontroller.hpp"
#include "parts/programmable_logic.hpp"
#include "reading/diagnostic.hpp"

namespace portweigh::parts {

// How far real designs lie from the estimate of a class of block: low = typical * low_factor, and so on.
struct Spread {
  double low_factor = 1;
  double high_factor = 1;
  figures::Source source;
};

struct CurrencyRate {
  double per_base = 1;  // units of this currency for one unit of the base currency
  std::string date;     // ISO 8601 day of the rate
  figures::Source source;
};

struct Catalog {
  std::filesystem::path folder;
  std::vector<ProgrammableLogic> programmable_logic;
  std::vector<Microcontroller> microcontrollers;
  std::vector<FixedFunction> fixed_functions;
  std::vector<ExternalPart> external_parts;
  std::map<std::string, firmware::Core> cores;
  std::map<std::string, Spread> lut_spreads;  // by Kind::spread_class; "default" is always there
  std::map<std::string, CurrencyRate> currencies;
};

// Reads the whole folder. Throws reading::InputError with every mistake of every file.
Catalog read_catalog(const std::filesystem::path& folder);

}  // namespace portweigh::parts

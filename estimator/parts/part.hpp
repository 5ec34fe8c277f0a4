// What every part of the catalog has, whatever it is: packages, prices, life, and how it can be changed
// later.
//
// Plain data, read and checked by the readers in this folder; every physical value remembers its range, unit
// and place in its file. Tested by tests/parts/catalog_test.cpp.
#pragma once

#include <string>
#include <vector>

#include "reading/quantity_rule.hpp"

namespace portweigh::parts {

using reading::SourcedQuantity;
using reading::SourcedRange;

enum class Leads { peripheral, array };  // leads along the edges, or balls or lands under the body

struct Package {
  std::string name;  // "qfn-24": generic outline names only
  Leads leads = Leads::peripheral;
  SourcedQuantity body_length;      // m
  SourcedQuantity body_width;       // m
  SourcedQuantity height;           // m
  SourcedQuantity pitch;            // m, between lead centres
  unsigned rows = 0;                // of an array: leads along a side; 0: as few as hold its usable pins
  unsigned layers = 0;              // least layers of a board for it; 0: by the rule for its rows and pitch
  unsigned usable_pins = 0;         // left for the application after supply, ground and programming pins
  SourcedRange thermal_resistance;  // junction to ambient on a typical board, K/W
};

// Price of one unit where `quantity` are ordered at once, in the part's currency. Quantities rise from break to break.
struct PriceBreak {
  double quantity = 0;
  SourcedQuantity price;
};

// What a quantity between two breaks costs: the price of the break below, as a quotation says, or a price between the
// two on a straight line of logarithms, where the maker offers that.
enum class BetweenBreaks { steps, log_log };

struct Prices {
  std::vector<PriceBreak> breaks;
  BetweenBreaks between = BetweenBreaks::steps;
  double lot = 1;          // bought in whole lots of so many, such as a reel
  double low_factor = 1;   // a good negotiation
  double high_factor = 1;  // a bad one
  figures::Source source;  // of the list
};

// How a part in the field follows a change of the standard: not at all, by returning it to the factory or
// programming fixture, or by the product itself.
enum class Upgrade { none, factory, field };

struct Part {
  std::string id;  // "pl-2k": unique in the catalog
  std::string summary;
  bool is_invented = false;  // values and prices are made up
  std::string family;        // parts of one family are pin- or tool-compatible steps of one size ladder
  std::vector<Package> packages;
  Prices prices;
  Upgrade upgrade = Upgrade::none;
  SourcedRange supply_voltage;       // V; low..high is what it works on, typical the characterised point
  SourcedQuantity highest_junction;  // K
  SourcedQuantity lead_time;         // s
  bool has_second_source = false;
  SourcedQuantity availability;   // s the maker promises to supply it
  SourcedRange programming_time;  // s in production, for each unit; 0 where there is nothing to load
  figures::Source source;         // the head of its file
};

}  // namespace portweigh::parts

// What a physical value in a file must be: its dimension and the magnitudes that make sense.
//
// Every dimension has a range outside which a value is surely a slip (power 0..1 kW, frequency 0..100 GHz,
// voltage 0..1 kV, current 0..100 A, time 0..100 years, money 0..1e9, temperature 0..1000 K, ...); a caller
// that knows better says so: QuantityRule(dimensions::power).between(0, 5.0). The ranges are common practice
// for port electronics, wide on purpose; they catch slips of prefix, not of judgement. Tested by
// tests/reading/table_reader_test.cpp.
#pragma once

#include <string>

#include "figures/ledger/source.hpp"
#include "figures/units/unit.hpp"

namespace portweigh::reading {

struct Bounds {
  double lower_si = 0.0;
  double upper_si = 0.0;
};

[[nodiscard]] Bounds sane_bounds(const figures::Dimension& dimension);

struct QuantityRule {
  figures::Dimension dimension;
  Bounds bounds;
  bool is_difference = false;  // "20 degC" is then a difference of 20 K, without offset

  // Implicit on purpose: required_quantity("clock", dimensions::frequency) reads well.
  QuantityRule(const figures::Dimension& of);  // NOLINT(google-explicit-constructor)

  [[nodiscard]] QuantityRule between(double lower_si, double upper_si) const;
  [[nodiscard]] QuantityRule as_difference() const;
};

// What a value is called where it enters a ledger; given once by its field (field.hpp). Empty where no figure
// takes the value.
struct InputName {
  std::string key;          // "parts.pl-2k.leakage_current"
  std::string label;        // for people
  std::string correlation;  // values of one group move together: "process of pl-2k"; empty: it moves alone
};

struct SourcedQuantity {
  double value_si = 0.0;
  figures::Unit unit;
  figures::Source source;
  InputName input = {};
};

struct SourcedRange {
  figures::Range range;  // SI
  figures::Unit unit;    // of the typical value
  figures::Source source;
  InputName input = {};
};

}  // namespace portweigh::reading

// Reads the two reference tables of a catalog: spreads.toml and currencies.toml.
//
//     [luts.crc]                      [rates.EUR]
//     low_factor = 0.9                per_base = 0.93
//     high_factor = 1.15              date = "2025-01-02"
// A row for "default" must be there; the base currency gets the rate 1. A rate without a date is refused,
// since nobody could tell how old it is. Tested by tests/parts/reference_reader_test.cpp.
#pragma once

#include "parts/catalog.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

std::vector<reading::FieldInfo> spreads_infos();
std::vector<reading::FieldInfo> currencies_infos();

std::map<std::string, Spread> read_spreads(reading::TableReader& root);
std::map<std::string, CurrencyRate> read_currencies(reading::TableReader& root);

}  // namespace portweigh::parts

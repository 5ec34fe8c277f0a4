#include "figures/units/unit_table.hpp"

#include <algorithm>
#include <cctype>

namespace portweigh::figures {
namespace {

enum class Prefixes { none, read_only, shown, binary_too };

struct Entry {
  std::string_view text;
  std::string_view base;  // how it is shown
  Dimension dimension;
  double factor;
  double offset;
  Prefixes prefixes;
};

constexpr double day_s = 86400.0;
constexpr double year_s = 365.242198781 * day_s;  // tropical year, as in UDUNITS

constexpr Entry entries[] = {
    {"1", "1", dimensions::dimensionless, 1.0, 0.0, Prefixes::none},
    {"%", "%", dimensions::dimensionless, 0.01, 0.0, Prefixes::none},
    {"W", "W", dimensions::power, 1.0, 0.0, Prefixes::shown},
    {"A", "A", dimensions::current, 1.0, 0.0, Prefixes::shown},
    {"V", "V", dimensions::voltage, 1.0, 0.0, Prefixes::shown},
    {"F", "F", dimensions::capacitance, 1.0, 0.0, Prefixes::shown},
    {"J", "J", dimensions::energy, 1.0, 0.0, Prefixes::shown},
    {"Hz", "Hz", dimensions::frequency, 1.0, 0.0, Prefixes::shown},
    {"s", "s", dimensions::time, 1.0, 0.0, Prefixes::shown},
    {"m", "m", dimensions::length, 1.0, 0.0, Prefixes::shown},
    {"g", "g", dimensions::mass, 1e-3, 0.0, Prefixes::shown},
    {"C", "C", dimensions::charge, 1.0, 0.0, Prefixes::shown},
    {"H", "H", dimensions::inductance, 1.0, 0.0, Prefixes::shown},
    {"Ohm", "Ohm", dimensions::resistance, 1.0, 0.0, Prefixes::shown},
    {"ohm", "Ohm", dimensions::resistance, 1.0, 0.0, Prefixes::shown},
    {"\u03A9", "Ohm", dimensions::resistance, 1.0, 0.0, Prefixes::shown},  // Greek capital omega
    {"\u2126", "Ohm", dimensions::resistance, 1.0, 0.0, Prefixes::shown},  // ohm sign
    {"K", "K", dimensions::temperature, 1.0, 0.0, Prefixes::read_only},
    {"degC", "degC", dimensions::temperature, 1.0, 273.15, Prefixes::none},
    {"\u00B0C", "degC", dimensions::temperature, 1.0, 273.15, Prefixes::none},
    {"degF", "degF", dimensions::temperature, 5.0 / 9.0, 459.67 * 5.0 / 9.0, Prefixes::none},
    {"inch", "inch", dimensions::length, 0.0254, 0.0, Prefixes::none},
    {"min", "min", dimensions::time, 60.0, 0.0, Prefixes::none},
    {"h", "h", dimensions::time, 3600.0, 0.0, Prefixes::none},
    {"hour", "h", dimensions::time, 3600.0, 0.0, Prefixes::none},
    {"d", "d", dimensions::time, day_s, 0.0, Prefixes::none},
    {"day", "d", dimensions::time, day_s, 0.0, Prefixes::none},
    {"year", "year", dimensions::time, year_s, 0.0, Prefixes::none},
    {"years", "year", dimensions::time, year_s, 0.0, Prefixes::none},
    {"Ah", "Ah", dimensions::charge, 3600.0, 0.0, Prefixes::shown},
    {"Wh", "Wh", dimensions::energy, 3600.0, 0.0, Prefixes::shown},
    {"bit", "bit", dimensions::dimensionless, 1.0, 0.0, Prefixes::binary_too},
    {"B", "B", dimensions::dimensionless, 8.0, 0.0, Prefixes::binary_too},
    {"byte", "B", dimensions::dimensionless, 8.0, 0.0, Prefixes::none},
};

constexpr Prefix extra_prefixes[] = {
    {"\u00B5", 1e-6}, {"\u03BC", 1e-6}, {"c", 1e-2}};  // micro sign, Greek mu
constexpr Prefix binary_prefixes[] = {{"Ki", 1024.0}, {"Mi", 1048576.0}, {"Gi", 1073741824.0}};

constexpr std::string_view codes =
    "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BOV BRL BSD BTN BWP "
    "BYN BZD CAD CDF CHE CHF CHW CLF CLP CNY COP COU CRC CUC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB "
    "EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HRK HTG HUF IDR ILS INR IQD IRR ISK JMD JOD "
    "JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU "
    "MUR MVR MWK MXN MXV MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD "
    "RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SLL SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY "
    "TTD TWD TZS UAH UGX USD USN UYI UYU UYW UZS VED VES VND VUV WST XAF XCD XOF XPF YER ZAR ZMW ZWL ";

std::string lower(std::string_view text) {
  std::string result(text);
  std::transform(result.begin(), result.end(), result.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  return result;
}

const Entry* find_entry(std::string_view text) {
  const auto* found = std::find_if(std::begin(entries), std::end(entries),
                                   [text](const Entry& entry) { return entry.text == text; });
  return found == std::end(entries) ? nullptr : found;
}

Symbol symbol_of(const Entry& entry, double prefix_factor) {
  const bool is_shown = entry.prefixes == Prefixes::shown || entry.prefixes == Prefixes::binary_too;
  return {entry.dimension, entry.factor * prefix_factor, entry.offset,
          is_shown ? std::string(entry.base) : "", ""};
}

// Dividing by 1e6 instead of multiplying by 1e-6 would round differently; every caller uses this one product.
std::optional<Symbol> find_prefixed(std::string_view text, const Prefix& prefix) {
  if (prefix.text.empty() || !text.starts_with(prefix.text)) return std::nullopt;
  const auto* entry = find_entry(text.substr(prefix.text.size()));
  if (entry == nullptr || entry->prefixes == Prefixes::none) return std::nullopt;
  return symbol_of(*entry, prefix.factor);
}

}  // namespace

bool is_currency_code(std::string_view text) {
  if (text.size() != 3) return false;
  for (std::size_t at = 0; at + 3 <= codes.size(); at += 4) {
    if (codes.substr(at, 3) == text) return true;
  }
  return false;
}

const std::vector<Prefix>& engineering_prefixes() {
  static const std::vector<Prefix> prefixes = {{"f", 1e-15}, {"p", 1e-12}, {"n", 1e-9}, {"u", 1e-6},
                                               {"m", 1e-3},  {"", 1.0},    {"k", 1e3},  {"M", 1e6},
                                               {"G", 1e9},   {"T", 1e12}};
  return prefixes;
}

std::optional<Symbol> find_symbol(std::string_view text) {
  if (const auto* entry = find_entry(text)) return symbol_of(*entry, 1.0);
  if (is_currency_code(text)) return Symbol{dimensions::money, 1.0, 0.0, "", std::string(text)};
  for (const auto& prefix : engineering_prefixes()) {
    if (auto symbol = find_prefixed(text, prefix)) return symbol;
  }
  for (const auto& prefix : extra_prefixes) {
    if (auto symbol = find_prefixed(text, prefix)) return symbol;
  }
  for (const auto& prefix : binary_prefixes) {
    if (!text.starts_with(prefix.text)) continue;
    const auto* entry = find_entry(text.substr(prefix.text.size()));
    if (entry == nullptr || entry->prefixes != Prefixes::binary_too) continue;
    auto symbol = symbol_of(*entry, prefix.factor);
    symbol.base_symbol.clear();  // "2 KiB" stays KiB
    return symbol;
  }
  return std::nullopt;
}

std::vector<std::string> symbols_in_other_case(std::string_view text) {
  const std::string wanted = lower(text);
  std::vector<std::string> found;
  for (const auto& entry : entries) {
    for (const auto& prefix : engineering_prefixes()) {
      if (!prefix.text.empty() && entry.prefixes == Prefixes::none) continue;
      std::string candidate = std::string(prefix.text) + std::string(entry.base);
      if (lower(candidate) == wanted && std::find(found.begin(), found.end(), candidate) == found.end()) {
        found.push_back(std::move(candidate));
      }
    }
  }
  return found;
}

std::vector<std::string> plain_symbols() {
  std::vector<std::string> symbols;
  for (const auto& entry : entries) symbols.emplace_back(entry.text);
  return symbols;
}

}  // namespace portweigh::figures

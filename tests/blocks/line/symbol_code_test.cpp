// Symbol codes against tables written out column by column, network and routine alike.
#include "blocks/line/symbol_code.hpp"

#include <array>
#include <catch2/catch.hpp>
#include <map>
#include <optional>
#include <random>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "firmware/execute.hpp"
#include "logic/simulation/simulate.hpp"

namespace portweigh::blocks {
namespace {

// Table of 4b5b symbols of USB Power Delivery, IEC 62680-1-2; seen in sigrokproject/libsigrokdecode 4539e9c,
// decoders/usb_power_delivery/pd.py [S].
const std::array<const char*, 16> published_nibbles{"11110", "01001", "10100", "10101", "01010", "01011",
                                                    "01110", "01111", "10010", "10011", "10110", "10111",
                                                    "11010", "11011", "11100", "11101"};
// Sync-1, Sync-2, Sync-3, RST-1, RST-2, EOP, same table [S].
const std::array<const char*, 6> published_controls{"11000", "10001", "00110", "00111", "11001", "01101"};

unsigned binary(const std::string& text) {
  return static_cast<unsigned>(std::stoul(text, nullptr, 2));
}

// "abcdeifghj" with `a` as bit 0.
unsigned symbol_of(const std::string& text) {
  unsigned symbol = 0;
  for (std::size_t i = 0; i < text.size(); ++i) symbol |= static_cast<unsigned>(text[i] == '1') << i;
  return symbol;
}

using Columns = std::pair<const char*, const char*>;  // disparity minus, plus

// 5b/6b of D.x, IEEE 802.3 table 36-1a, from memory [M]; D0.0 and D21.5 also in check values.
const std::array<Columns, 32> published_six{
    {{"100111", "011000"}, {"011101", "100010"}, {"101101", "010010"}, {"110001", "110001"},
     {"110101", "001010"}, {"101001", "101001"}, {"011001", "011001"}, {"111000", "000111"},
     {"111001", "000110"}, {"100101", "100101"}, {"010101", "010101"}, {"110100", "110100"},
     {"001101", "001101"}, {"101100", "101100"}, {"011100", "011100"}, {"010111", "101000"},
     {"011011", "100100"}, {"100011", "100011"}, {"010011", "010011"}, {"110010", "110010"},
     {"001011", "001011"}, {"101010", "101010"}, {"011010", "011010"}, {"111010", "000101"},
     {"110011", "001100"}, {"100110", "100110"}, {"010110", "010110"}, {"110110", "001001"},
     {"001110", "001110"}, {"101110", "010001"}, {"011110", "100001"}, {"101011", "010100"}}};
// 3b/4b of D.x.y, primary and alternate seven last [M].
const std::array<Columns, 9> published_four{{{"1011", "0100"},
                                             {"1001", "1001"},
                                             {"0101", "0101"},
                                             {"1100", "0011"},
                                             {"1101", "0010"},
                                             {"1010", "1010"},
                                             {"0110", "0110"},
                                             {"1110", "0001"},
                                             {"0111", "1000"}}};
// Control characters: byte, columns (Widmer & Franaszek 1983; IEEE 802.3 clause 36) [S].
struct PublishedControl {
  unsigned x;
  unsigned y;
  Columns columns;
};
const std::array<PublishedControl, 12> published_k{{{28, 0, {"0011110100", "1100001011"}},
                                                    {28, 1, {"0011111001", "1100000110"}},
                                                    {28, 2, {"0011110101", "1100001010"}},
                                                    {28, 3, {"0011110011", "1100001100"}},
                                                    {28, 4, {"0011110010", "1100001101"}},
                                                    {28, 5, {"0011111010", "1100000101"}},
                                                    {28, 6, {"0011110110", "1100001001"}},
                                                    {28, 7, {"0011111000", "1100000111"}},
                                                    {23, 7, {"1110101000", "0001010111"}},
                                                    {27, 7, {"1101101000", "0010010111"}},
                                                    {29, 7, {"1011101000", "0100010111"}},
                                                    {30, 7, {"0111101000", "1000010111"}}}};

int disparity_of(const std::string& bits) {
  int sum = 0;
  for (const char bit : bits) sum += bit == '1' ? 1 : -1;
  return sum;
}

// The whole code as one table of 2 x 268 rows.
std::string column_of(unsigned x, unsigned y, bool is_plus) {
  const std::string six = is_plus ? published_six.at(x).second : published_six.at(x).first;
  const bool is_plus_middle = disparity_of(six) == 0 ? is_plus : !is_plus;
  const std::set<unsigned> alternate =
      is_plus_middle ? std::set<unsigned>{11, 13, 14} : std::set<unsigned>{17, 18, 20};
  const Columns four = published_four.at(y == 7 && alternate.count(x) != 0 ? 8 : y);
  return six + (is_plus_middle ? four.second : four.first);
}

struct Character {
  unsigned byte;
  bool is_control;
  bool operator==(const Character&) const = default;
};

struct Code {
  std::map<std::pair<unsigned, bool>, std::string> columns[2];
  std::map<unsigned, Character> characters[2];
};

const Code& code() {
  static const Code whole = [] {
    Code c;
    for (const bool is_plus : {false, true}) {
      for (unsigned byte = 0; byte < 256; ++byte) {
        c.columns[is_plus][{byte, false}] = column_of(byte & 31U, byte >> 5, is_plus);
      }
      for (const auto& k : published_k) {
        c.columns[is_plus][{k.x | k.y << 5, true}] = is_plus ? k.columns.second : k.columns.first;
      }
      for (const auto& [character, text] : c.columns[is_plus]) {
        c.characters[is_plus][symbol_of(text)] = {character.first, character.second};
      }
    }
    return c;
  }();
  return whole;
}

Settings settings_of(const std::string& name, const std::string& direction) {
  auto settings = Settings::standard(symbol_code_kind().settings);
  settings.set("code", name);
  settings.set("direction", direction);
  return settings;
}

class Bench {
 public:
  explicit Bench(const Settings& settings) : network_(symbol_code_network(settings)), simulator_(network_) {
    simulator_.set("reset", 1);
    simulator_.clock();
    simulator_.set("reset", 0);
  }
  // Inputs, a clock without enable, a clock with it.
  void step(const std::vector<std::pair<const char*, unsigned>>& inputs) {
    for (const auto& [name, value] : inputs) simulator_.set(name, value);
    const auto before = simulator_.value(network_.outputs()[0].name);
    simulator_.set("enable", 0);
    simulator_.clock();
    CHECK(simulator_.value(network_.outputs()[0].name) == before);
    simulator_.set("enable", 1);
    simulator_.clock();
  }
  std::uint64_t value(const char* name) const { return simulator_.value(name); }

 private:
  logic::Network network_;
  logic::Simulator simulator_;
};

struct Decoded {
  Character character{0, false};
  bool is_code_error = false;
  bool is_disparity_error = false;
};

// By the table alone: neither column, other column; disparity from the bits.
class ReferenceDecoder {
 public:
  Decoded decode(unsigned symbol) {
    Decoded result;
    const auto& right = code().characters[is_plus_];
    const auto& other = code().characters[!is_plus_];
    if (const auto found = right.find(symbol); found != right.end()) {
      result.character = found->second;
    } else if (const auto wrong = other.find(symbol); wrong != other.end()) {
      result.character = wrong->second;
      result.is_disparity_error = true;
    } else {
      result.is_code_error = true;
    }
    std::string bits;
    for (unsigned i = 0; i < 10; ++i) bits += (symbol >> i & 1U) != 0 ? '1' : '0';
    follow(bits.substr(0, 6), "000111");
    follow(bits.substr(6), "0011");
    return result;
  }

 private:
  // More ones than zeros leave plus, fewer minus; of the balanced parts only two tell the disparity.
  void follow(const std::string& part, const std::string& plus_only) {
    const std::string minus_only(plus_only.rbegin(), plus_only.rend());
    if (disparity_of(part) > 0 || part == plus_only) is_plus_ = true;
    if (disparity_of(part) < 0 || part == minus_only) is_plus_ = false;
  }

  bool is_plus_ = false;
};

}  // namespace

TEST_CASE("the published 8b10b table is consistent with itself") {
  CHECK(code().columns[0].size() == 268);
  CHECK(code().characters[0].size() == 268);  // no two characters share a symbol
  CHECK(code().characters[1].size() == 268);
  CHECK(code().columns[0].at({0, false}) == "1001110100");  // D0.0 [M]
  CHECK(code().columns[1].at({0, false}) == "0110001011");
  CHECK(code().columns[0].at({21U | 5U << 5, false}) == "1010101010");  // D21.5 [M]
  CHECK(code().columns[1].at({21U | 5U << 5, false}) == "1010101010");
  // A symbol of both columns means the same character in both.
  for (const auto& [symbol, character] : code().characters[0]) {
    const auto other = code().characters[1].find(symbol);
    if (other != code().characters[1].end()) CHECK(other->second == character);
  }
}

TEST_CASE("4b5b: every nibble, control symbol and error") {
  Bench encoder(settings_of("4b5b", "encode"));
  for (unsigned i = 0; i < 16; ++i) {
    encoder.step({{"data", i}, {"control", 0}});
    CHECK(encoder.value("symbol") == binary(published_nibbles.at(i)));
  }
  for (unsigned i = 0; i < 6; ++i) {
    encoder.step({{"data", i}, {"control", 1}});
    CHECK(encoder.value("symbol") == binary(published_controls.at(i)));
  }
  Bench decoder(settings_of("4b5b", "decode"));
  unsigned valid = 0;
  for (unsigned symbol = 0; symbol < 32; ++symbol) {
    decoder.step({{"symbol", symbol}});
    if (decoder.value("valid") == 0) continue;
    ++valid;
    const auto data = static_cast<std::size_t>(decoder.value("data"));
    CHECK(binary(decoder.value("control") != 0 ? published_controls.at(data) : published_nibbles.at(data)) ==
          symbol);
  }
  CHECK(valid == 22);
}

TEST_CASE("4b5b in firmware: low nibble first, and back") {
  const auto encode = symbol_code_routine(settings_of("4b5b", "encode"));
  const auto decode = symbol_code_routine(settings_of("4b5b", "decode"));
  firmware::Machine encoder(encode);
  firmware::Machine decoder(decode);
  for (unsigned byte = 0; byte < 256; ++byte) {
    const unsigned symbols = encoder.run({byte});
    CHECK(symbols ==
          (binary(published_nibbles.at(byte & 15U)) | binary(published_nibbles.at(byte >> 4)) << 5));
    CHECK(decoder.run({symbols}) == byte);
  }
  CHECK(decoder.run({binary("1100001001")}) == 0x100);
  CHECK(decoder.run({binary("0100100000")}) == 0x100);
}

TEST_CASE("8b10b: every character in both disparities, network and routine") {
  Bench encoder(settings_of("8b10b", "encode"));
  const auto routine = symbol_code_routine(settings_of("8b10b", "encode"));
  firmware::Machine machine(routine);
  EightTenEncoder plain;
  std::set<std::pair<unsigned, bool>> seen[2];
  std::mt19937_64 random(11);
  bool is_plus = false;
  std::string line;
  for (unsigned i = 0; i < 20000; ++i) {
    auto row = code().columns[is_plus].begin();
    std::advance(row, static_cast<std::ptrdiff_t>(random() % 268));
    const auto [byte, is_control] = row->first;
    seen[is_plus].insert(row->first);
    const unsigned expected = symbol_of(row->second);
    if (i < 4000) {
      encoder.step({{"data", byte}, {"control", is_control}});
      REQUIRE(encoder.value("symbol") == expected);
    }
    REQUIRE(machine.run({byte, is_control}) == expected);
    REQUIRE(plain.encode(byte, is_control) == expected);
    is_plus = is_plus != (disparity_of(row->second) != 0);
    if (i < 4000) REQUIRE(encoder.value("disparity") == is_plus);
    if (!(is_control && (byte & 31U) == 28 && byte >> 5 == 7)) line += row->second;
  }
  CHECK(seen[0].size() == 268);
  CHECK(seen[1].size() == 268);
  CHECK(line.find("000000") == std::string::npos);  // run length at most five [M]
  CHECK(line.find("111111") == std::string::npos);
}

TEST_CASE("8b10b: all 1024 symbols in both disparities decode alike in table, network and routine") {
  Bench decoder(settings_of("8b10b", "decode"));
  const auto routine = symbol_code_routine(settings_of("8b10b", "decode"));
  firmware::Machine machine(routine);
  ReferenceDecoder reference;
  std::mt19937_64 random(12);
  unsigned code_errors = 0;
  unsigned disparity_errors = 0;
  const auto check = [&](unsigned symbol) {
    const Decoded expected = reference.decode(symbol);
    decoder.step({{"symbol", symbol}});
    const std::uint32_t result = machine.run({symbol});
    CAPTURE(symbol);
    REQUIRE(decoder.value("code_error") == expected.is_code_error);
    REQUIRE(decoder.value("disparity_error") == expected.is_disparity_error);
    REQUIRE((result >> 9 & 1U) == expected.is_code_error);
    REQUIRE((result >> 10 & 1U) == expected.is_disparity_error);
    REQUIRE(decoder.value("disparity") == machine.get("disparity"));
    code_errors += expected.is_code_error ? 1U : 0U;
    disparity_errors += expected.is_disparity_error ? 1U : 0U;
    if (expected.is_code_error) return;
    REQUIRE(decoder.value("data") == expected.character.byte);
    REQUIRE(decoder.value("control") == expected.character.is_control);
    REQUIRE((result & 0xFFU) == expected.character.byte);
    REQUIRE((result >> 8 & 1U) == expected.character.is_control);
  };
  for (unsigned symbol = 0; symbol < 1024; ++symbol) {
    for (const char* leader : {"0110001011", "1001110100"}) {  // last part leaves the disparity plus, minus
      check(symbol_of(leader));
      check(symbol);
    }
  }
  CHECK(code_errors > 1000);
  CHECK(disparity_errors > 300);
  for (unsigned i = 0; i < 2000; ++i) check(static_cast<unsigned>(random() & 0x3FFU));
}

}  // namespace portweigh::blocks

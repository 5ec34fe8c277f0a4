#pragma once

// What the runners of the C twins share: the recorded events, the symbols, and where each value lies.
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

namespace twins {

struct Access {
  std::string name;
  unsigned index = 0;
  std::uint32_t value = 0;
};

struct Event {
  std::vector<std::uint32_t> arguments;
  std::vector<Access> pokes;
  std::vector<Access> expected;
  bool has_result = false;
  std::uint32_t result = 0;
};

struct Symbol {
  std::uint32_t address = 0;
  unsigned bytes = 1;
};

struct Twin {
  std::vector<Event> events;
  std::map<std::string, Symbol> symbols;
  std::vector<std::uint32_t> structures;  // addresses, in the order of the arguments
  std::uint32_t entry = 0;
};

inline std::vector<Event> read_events(const std::string& path) {
  std::vector<Event> events;
  std::ifstream file(path);
  std::string line;
  while (std::getline(file, line)) {
    std::istringstream text(line);
    std::string word;
    text >> word;
    if (word == "event") {
      events.emplace_back();
      std::uint32_t value = 0;
      while (text >> value) events.back().arguments.push_back(value);
    } else if (word == "result") {
      events.back().has_result = true;
      text >> events.back().result;
    } else {
      Access access;
      text >> access.name >> access.index >> access.value;
      (word == "poke" ? events.back().pokes : events.back().expected).push_back(access);
    }
  }
  return events;
}

// `addresses` is the output of nm; `alignment` the largest alignment of the target.
inline Twin read_twin(const std::string& base, const std::string& addresses, unsigned alignment,
                      std::uint32_t address_mask) {
  Twin twin;
  twin.events = read_events(base + ".events");
  std::map<std::string, std::uint32_t> at;
  std::ifstream file(addresses);
  std::string line;
  while (std::getline(file, line)) {
    std::istringstream text(line);
    std::string hex, kind, name;
    text >> hex >> kind >> name;
    at[name] = static_cast<std::uint32_t>(std::stoul(hex, nullptr, 16)) & address_mask;
  }
  twin.entry = at.at("event_function");
  std::map<std::string, std::uint32_t> filled;
  std::ifstream symbols(base + ".symbols");
  std::string name, owner;
  unsigned bytes = 0;
  unsigned length = 0;
  while (symbols >> name >> owner >> bytes >> length) {
    if (owner == "-") {
      twin.symbols[name] = {at.at(name), bytes};
      continue;
    }
    if (!filled.contains(owner)) filled[owner] = 0;
    auto& used = filled[owner];
    const unsigned align = bytes < alignment ? bytes : alignment;
    used = (used + align - 1) / align * align;
    twin.symbols[name] = {at.at("memory_" + owner) + used, bytes};
    used += bytes * length;
  }
  std::ifstream source(base + ".c");
  while (std::getline(source, line)) {
    // "struct v_x memory_v_x;" stands once for each structure, in the order of the parameters.
    const auto place = line.find(" memory_");
    if (line.rfind("struct ", 0) != 0 || place == std::string::npos) continue;
    twin.structures.push_back(at.at(line.substr(place + 1, line.find(';') - place - 1)));
  }
  return twin;
}

}  // namespace twins

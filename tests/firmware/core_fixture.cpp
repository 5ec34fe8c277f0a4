#include "core_fixture.hpp"

#include <algorithm>
#include <map>
#include <stdexcept>

#include <fmt/core.h>
// This folder's tests are not linked to the library, so its code is compiled here.
#define TOML_IMPLEMENTATION
#include <toml++/toml.h>

namespace portweigh::firmware {

namespace {

double with_unit(const std::string& text) {
  static const std::map<std::string, double> factors = {{"s", 1},     {"us", 1e-6}, {"ms", 1e-3}, {"Hz", 1},
                                                        {"kHz", 1e3}, {"MHz", 1e6}, {"GHz", 1e9}};
  const auto space = text.find(' ');
  return std::stod(text.substr(0, space)) * factors.at(text.substr(space + 1));
}

// Every leaf of the file by its dotted key.
void collect_leaves(const toml::table& table, const std::string& prefix,
                    std::map<std::string, const toml::node*>& leaves) {
  for (const auto& [key, child] : table) {
    const std::string path = prefix + std::string(key.str());
    if (const auto* inner = child.as_table()) {
      collect_leaves(*inner, path + ".", leaves);
    } else {
      leaves[path] = &child;
    }
  }
}

}  // namespace

Core read_core(const std::string& name) {
  const std::string path = fmt::format("{}/cores/{}.toml", PORTWEIGH_CATALOG_DIR, name);
  const toml::table file = toml::parse_file(path);
  std::map<std::string, const toml::node*> leaves;
  collect_leaves(file, "", leaves);
  const auto take = [&](const std::string& key) -> const toml::node& {
    const auto found = leaves.find(key);
    if (found == leaves.end()) throw std::runtime_error(path + ": missing " + key);
    const auto* leaf = found->second;
    leaves.erase(found);
    return *leaf;
  };
  Core core;
  core.name = take("name").value<std::string>().value();
  core.text = take("text").value<std::string>().value();
  for (const auto& field : core_fields()) {
    const auto& leaf = take(field.key);
    const auto number = leaf.value<double>();
    const double value = number ? *number : with_unit(leaf.value<std::string>().value());
    if (!(value >= field.lower && value <= field.upper)) {
      throw std::runtime_error(fmt::format("{}: {} = {} outside its range", path, field.key, value));
    }
    field.value(core) = value;
  }
  for (const auto& choice : core_choices()) {
    const auto word = take(choice.key).value<std::string>().value();
    const auto found = std::find(choice.names.begin(), choice.names.end(), word);
    if (found == choice.names.end()) throw std::runtime_error(path + ": unknown word " + word);
    choice.assign(core, static_cast<std::size_t>(found - choice.names.begin()));
  }
  for (const auto& [key, leaf] : leaves) {
    if (key == "source") continue;
    if (!key.ends_with(".source")) throw std::runtime_error(path + ": unknown key " + key);
    core.sources[key.substr(0, key.size() - 7)] = leaf->value<std::string>().value();
  }
  // The file's own source stands for each table without one.
  if (const auto of_file = leaves.find("source"); of_file != leaves.end()) {
    for (const auto& field : core_fields()) {
      core.sources.try_emplace(field.key.substr(0, field.key.rfind('.')),
                               of_file->second->value<std::string>().value());
    }
  }
  return core;
}

std::vector<std::string> catalog_core_names() {
  return {"8-bit-two-stage",    "8-bit-accumulator", "16-bit-register", "32-bit-two-stage",
          "32-bit-three-stage", "32-bit-sequential", "host-processor"};
}

}  // namespace portweigh::firmware

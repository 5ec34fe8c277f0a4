#include "reading/node_text.hpp"

#include <toml++/toml.h>

#include <fmt/core.h>

namespace portweigh::reading {

std::string kind_of(const toml::node& node) {
  switch (node.type()) {
    case toml::node_type::table:
      return "a table";
    case toml::node_type::array:
      return "an array";
    case toml::node_type::string:
      return "a string";
    case toml::node_type::integer:
      return "an integer";
    case toml::node_type::floating_point:
      return "a number";
    case toml::node_type::boolean:
      return "a boolean";
    default:
      return "a date or time";
  }
}

std::string value_text(const toml::node& node) {
  constexpr std::size_t longest = 60;
  if (const auto* text = node.as_string()) {
    if (text->get().size() > longest) return "a long string";
    return fmt::format("\"{}\"", text->get());
  }
  if (const auto* integer = node.as_integer()) return fmt::format("{}", integer->get());
  if (const auto* number = node.as_floating_point()) return fmt::format("{}", number->get());
  if (const auto* boolean = node.as_boolean()) return boolean->get() ? "true" : "false";
  return kind_of(node);
}

}  // namespace portweigh::reading

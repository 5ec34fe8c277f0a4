// Words for TOML values in messages.
#pragma once

#include <toml++/impl/forward_declarations.h>

#include <string>

namespace portweigh::reading {

// "a string", "an integer", "a table".
[[nodiscard]] std::string kind_of(const toml::node& node);

// The value as it can be shown inside a message: "\"7 mW\"", "12", "a table". Long strings are cut.
[[nodiscard]] std::string value_text(const toml::node& node);

}  // namespace portweigh::reading

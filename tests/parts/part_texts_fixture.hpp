// Small, valid files of every kind of part for the readers' tests, and what a reader says of a changed one.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "parts/reading_context.hpp"
#include "reading/table_reader.hpp"

namespace portweigh::parts::texts {

std::string common();  // the keys of Part, without packages and prices
std::string packages_and_prices();
std::string programmable_logic();
std::string microcontroller();
std::string fixed_function();
std::string external_part();

// The text with `from` replaced by `to`; fails the test if `from` isn't there.
std::string changed(std::string text, const std::string& from, const std::string& to);

ReadingContext context();

// "part.toml:3:10: what is wrong" for each mistake, in the order told; empty if the text is right.
std::vector<std::string> mistakes(const std::string& text,
                                  const std::function<void(reading::TableReader&)>& read);

}  // namespace portweigh::parts::texts

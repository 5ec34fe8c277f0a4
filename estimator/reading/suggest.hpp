// The nearest valid name for a mistyped one, if it is near enough to be meant.
//
// Distance: optimal string alignment (Damerau-Levenshtein with each pair swapped at most once), letters
// compared without case. Near enough: distance at most a third of the longer name, rounded up, and below the
// length of the typed name. Damerau, Communications of the ACM 7(3), 1964. Worked example:
// nearest_name("leakge", {"clock", "leakage"}) is "leakage"; nearest_name("zebra", ...) is none. Tested by
// tests/reading/suggest_test.cpp.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace portweigh::reading {

[[nodiscard]] std::size_t edit_distance(std::string_view a, std::string_view b);

// The first of the nearest candidates; none if all are far.
[[nodiscard]] std::optional<std::string> nearest_name(std::string_view typed,
                                                      std::span<const std::string> candidates);

// The nearest candidates, however far, nearest first and at most `most`; none for an absurdly long name.
[[nodiscard]] std::vector<std::string> nearest_names(std::string_view typed,
                                                     std::span<const std::string> candidates,
                                                     std::size_t most);

// `unknown key "leakge", expected one of clock, leakage; nearest: "leakage"`. `kind` is the noun ("key",
// "block").
[[nodiscard]] std::string unknown_name_message(std::string_view kind, std::string_view typed,
                                               std::span<const std::string> candidates);

}  // namespace portweigh::reading

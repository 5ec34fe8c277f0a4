// Colour for terminals: what is met in green, what is missed in red, headings bold.
//
// Colour only repeats what signs and words say already. Tested by tests/report/terminal/colour_test.cpp.
#pragma once

#include <cstdint>
#include <string>

namespace portweigh::report {

enum class Colour : std::uint8_t { off, on };
enum class Tone : std::uint8_t { plain, good, bad, strong };

// `text` between the escape sequences of a tone (ECMA-48, select graphic rendition), or as it is.
std::string painted(std::string text, Tone tone, Colour colour);

}  // namespace portweigh::report

#include "report/terminal/colour.hpp"

namespace portweigh::report {

std::string painted(std::string text, Tone tone, Colour colour) {
  if (colour == Colour::off || tone == Tone::plain) return text;
  const char* const code = tone == Tone::good ? "32" : tone == Tone::bad ? "31" : "1";
  return "\x1b[" + std::string(code) + "m" + text + "\x1b[0m";
}

}  // namespace portweigh::report

#include "report/escape.hpp"

#include <nlohmann/json.hpp>

namespace portweigh::report {

std::string html_text(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    switch (c) {
      case '&':
        safe += "&amp;";
        break;
      case '<':
        safe += "&lt;";
        break;
      case '>':
        safe += "&gt;";
        break;
      case '"':
        safe += "&quot;";
        break;
      case '\'':
        safe += "&#39;";
        break;
      default:
        safe += c;
    }
  }
  return safe;
}

std::string json_in_script(const nlohmann::ordered_json& json) {
  // Outside of strings these characters don't occur in JSON; inside, an escape means the same. U+2028 and
  // U+2029 are the three-byte sequences E2 80 A8 and E2 80 A9.
  const std::string plain = json.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace);
  std::string safe;
  safe.reserve(plain.size());
  for (std::size_t i = 0; i < plain.size(); ++i) {
    const std::string_view three = std::string_view(plain).substr(i, 3);
    if (plain[i] == '<') {
      safe += "\\u003c";
    } else if (plain[i] == '>') {
      safe += "\\u003e";
    } else if (plain[i] == '&') {
      safe += "\\u0026";
    } else if (three == "\xE2\x80\xA8" || three == "\xE2\x80\xA9") {
      safe += three.back() == '\xA8' ? "\\u2028" : "\\u2029";
      i += 2;
    } else {
      safe += plain[i];
    }
  }
  return safe;
}

std::string markdown_text(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    if (c == '\n' || c == '\r') {
      safe += ' ';
      continue;
    }
    if (c == '&') {
      safe += "&amp;";
      continue;
    }
    if (std::string_view("\\`*_[]<>|#~").find(c) != std::string_view::npos) safe += '\\';
    safe += c;
  }
  return safe;
}

}  // namespace portweigh::report

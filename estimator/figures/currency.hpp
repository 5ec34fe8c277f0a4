// Currency codes, so that a slip such as "MHZ" is not taken for money.
#pragma once

#include <string_view>

namespace portweigh::figures {

// True for the alphabetic codes of ISO 4217 (as listed by the iso-codes project; metals and test codes left
// out).
[[nodiscard]] bool is_currency_code(std::string_view text);

}  // namespace portweigh::figures

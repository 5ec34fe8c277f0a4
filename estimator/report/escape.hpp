// Text from files made harmless for each format: what a part is called shows as text everywhere.
//
// `<script>` is `&lt;script&gt;` in HTML, `\u003cscript\u003e` inside a JSON script element, `\<script\>` in
// Markdown; cells of CSV are csv_cell() of exploration_text.hpp. Tested by tests/report/escape_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <string_view>

namespace portweigh::report {

// For text and for attribute values in double quotes.
std::string html_text(std::string_view text);

// Compact JSON that can stand in a <script> element: no "<", ">", "&" or line separators; it reads back the
// same.
std::string json_in_script(const nlohmann::ordered_json& json);

// One line of Markdown text or a table's cell.
std::string markdown_text(std::string_view text);

}  // namespace portweigh::report

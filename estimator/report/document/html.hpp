// The report as one HTML file: no network, live in the reader's browser, printable.
//
// All text is written here, so that the file reads and prints without scripts; the scripts of page/ add
// charts, make figures explain themselves and recompute them (page_data.hpp). A content security policy
// forbids every request and the evaluation of text as code. Tested by tests/report/document/html_test.cpp and
// tests/browser.
#pragma once

#include <string>

#include "report/document/document.hpp"

namespace portweigh::report {

std::string report_html(const Document& document);

// A whole page around a body, with the report's style; for documents without live parts.
std::string plain_page(const std::string& title, const std::string& body);

// Near the top of every page that recommends. Escaped.
std::string cautions_section(const Notices& notices);
// A note for each reason for which parts were left out; empty where none was.
std::string html_exclusions(const Notices& notices);

// A table with a caption, column heads and, as row heads, its first column. Escaped.
std::string html_table(const Table& table, const std::string& id);

}  // namespace portweigh::report

// The report as Markdown, CSV and JSON.
//
// CSV (RFC 4180) is one table with a row for each statement: section, subject, name, value, unit, low, high,
// limit, margin, probability, text, source. Values are SI, temperatures in kelvin, money in the study's
// currency. JSON is the saved run: what `rank --json` prints, the analysis, the texts, and every option's
// ledger (figures/export.hpp), so that `compare` can tell what moved; its schema is docs/report.schema.json.
// Tested by tests/report/document/report_formats_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>

#include "report/document/document.hpp"

namespace portweigh::report {

std::string report_markdown(const Document& document);
std::string report_csv(const Document& document);
nlohmann::ordered_json report_json(const Document& document);

}  // namespace portweigh::report

// The fixed parts of the report page, made from the files in page/ and the chart library by
// estimator/report/document/embed_page.cmake.
#pragma once

#include <string_view>

namespace portweigh::report::page {

extern const std::string_view vega;     // script: module registry and the chart library
extern const std::string_view style;    // style sheet
extern const std::string_view scripts;  // script: evaluator, ranking, charts, controls

}  // namespace portweigh::report::page

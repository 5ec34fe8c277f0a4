// JSON Schema (draft 2020-12) of a file, generated from the list of its fields.
//
// Editors use it to complete and check catalogs and studies. A physical value becomes a string pattern
// "number unit" with an example; a range becomes that or a table with low, typical, high and source; bounds
// that a pattern can't express are told in the description. Every table takes `source` and nothing that is
// not declared. Tested by tests/parts/schema_test.cpp and tests/study/schema_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "reading/field.hpp"

namespace portweigh::reading {

[[nodiscard]] nlohmann::ordered_json schema_of(const std::string& file_name, const std::string& title,
                                               const std::vector<FieldInfo>& fields);

// The schema of one table, to be put into another by a caller that knows more than a list of fields says.
[[nodiscard]] nlohmann::ordered_json table_schema(const std::vector<FieldInfo>& fields);

// Indented text with a newline at its end, as it stands in catalog/schema/.
[[nodiscard]] std::string to_text(const nlohmann::ordered_json& schema);

}  // namespace portweigh::reading

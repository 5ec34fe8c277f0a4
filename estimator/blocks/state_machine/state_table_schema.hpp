// JSON Schema of a state table, for editors: catalog/schema/state-machine.schema.json is this text.
//
// Tested by tests/blocks/state_machine/state_table_schema_test.cpp: the file is up to date, and the reader knows the same
// keys.
#pragma once

#include <nlohmann/json_fwd.hpp>

namespace portweigh::blocks {

nlohmann::ordered_json state_table_schema();

}  // namespace portweigh::blocks

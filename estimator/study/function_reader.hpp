// Reads a port function: its timing and its blocks with their settings.
//
// A block's settings are checked against the declarations of its kind, each mistake at its own place. The
// table of a state machine (and the file of a netlist) is looked up beside the function's file and then in
// catalog/state-machines, and is read once here, so that its mistakes are told with the rest.
// Tested by tests/study/function_reader_test.cpp.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "reading/field.hpp"
#include "study/function.hpp"

namespace portweigh::study {

std::vector<reading::FieldInfo> function_infos();

// JSON Schema of a function's file: that of its fields, and for each kind of block that of its settings.
nlohmann::ordered_json function_schema();

}  // namespace portweigh::study

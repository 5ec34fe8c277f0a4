// Reads a core class from catalog/cores. Its keys are those of firmware::core_fields() and core_choices().
//
// Numbers counted in seconds or hertz are written with their unit, all others plainly. Any table may say its
// `source`. Tested by tests/parts/core_reader_test.cpp.
#pragma once

#include "firmware/core.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

std::vector<reading::FieldInfo> core_infos();

// `expected_name`: the file's name without its extension.
firmware::Core read_core(reading::TableReader& reader, const std::string& expected_name);

}  // namespace portweigh::parts

// Reads a core class from catalog/cores: every key is required. Numbers counted in seconds or hertz are
// written with their unit, all others plainly; any table may say its `source`.
// Tested by tests/parts/core_reader_test.cpp.
#pragma once

#include "firmware/core.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

const reading::Fields<firmware::Core>& core_fields();

// `expected_name`: the file's name without its extension.
firmware::Core read_core(reading::TableReader& reader, const std::string& expected_name);

}  // namespace portweigh::parts

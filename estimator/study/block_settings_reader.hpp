// Reads the settings of a block against the declarations of its kind.
//
// Tested by tests/study/function_reader_test.cpp.
#pragma once

#include <filesystem>
#include <vector>

#include "blocks/kind.hpp"
#include "reading/table_reader.hpp"

namespace portweigh::study {

// `folders`: where a file named by a setting is looked for, in this order.
blocks::Settings read_settings(reading::TableReader& reader, const blocks::Kind& kind,
                               const std::vector<std::filesystem::path>& folders);

}  // namespace portweigh::study

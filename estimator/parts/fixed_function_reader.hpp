// Reads a fixed-function controller. Tested by tests/parts/fixed_function_reader_test.cpp.
#pragma once

#include "parts/fixed_function.hpp"
#include "parts/reading_context.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

const reading::Fields<FixedFunction>& fixed_function_fields();  // without those of Part
std::vector<reading::FieldInfo> fixed_function_infos();         // with them

// After its id was changed, all values get new names; what was read has them.
void name_inputs(FixedFunction& device);
FixedFunction read_fixed_function(reading::TableReader& reader, const ReadingContext& context);

}  // namespace portweigh::parts

// Reads a programmable-logic device. Tested by tests/parts/programmable_logic_reader_test.cpp.
#pragma once

#include "parts/programmable_logic.hpp"
#include "parts/reading_context.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

const reading::Fields<ProgrammableLogic>& programmable_logic_fields();  // without those of Part
std::vector<reading::FieldInfo> programmable_logic_infos();             // with them

// After its id was changed, all values get new names; what was read has them.
void name_inputs(ProgrammableLogic& device);
ProgrammableLogic read_programmable_logic(reading::TableReader& reader, const ReadingContext& context);

}  // namespace portweigh::parts

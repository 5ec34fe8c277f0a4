// Reads a microcontroller. Tested by tests/parts/microcontroller_reader_test.cpp.
#pragma once

#include "parts/microcontroller.hpp"
#include "parts/reading_context.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

// Every peripheral that a way to do a block in firmware may ask for, with its meaning.
const std::vector<std::pair<std::string, std::string>>& known_peripherals();

const reading::Fields<Microcontroller>& microcontroller_fields();  // without those of Part
std::vector<reading::FieldInfo> microcontroller_infos();           // with them

// After its id was changed, all values get new names; what was read has them.
void name_inputs(Microcontroller& device);
Microcontroller read_microcontroller(reading::TableReader& reader, const ReadingContext& context);

}  // namespace portweigh::parts

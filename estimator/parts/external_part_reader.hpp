// Reads a small part that stands beside the main one. Tested by tests/parts/external_part_reader_test.cpp.
#pragma once

#include "parts/external_part.hpp"
#include "parts/reading_context.hpp"
#include "reading/field.hpp"

namespace portweigh::parts {

const reading::Fields<ExternalPart>& external_part_fields();

ExternalPart read_external_part(reading::TableReader& reader, const ReadingContext& context);

}  // namespace portweigh::parts

// Reads the table "assignment" of a study and checks it against the blocks of its function.
//
// Tested by tests/study/assignment_reader_test.cpp.
#pragma once

#include "reading/field.hpp"
#include "study/study.hpp"

namespace portweigh::study {

reading::Field<Study> assignment_field();
reading::Field<Study> while_line_busy_field();

// Blocks must be blocks of the study's function, each pinned at most once.
void check_assignment(reading::TableReader& root, const Study& study);

}  // namespace portweigh::study

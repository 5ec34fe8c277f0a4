// Fields of a study; read_study itself is declared in study.hpp.
//
// Beyond bounds, a study is checked as a whole: typical shares of its states add up to 1, exactly one state
// is active, money is in its currency, and every name it uses (function, currency, core class, parts,
// figures, revision groups) exists. Tested by tests/study/study_reader_test.cpp.
#pragma once

#include "reading/field.hpp"
#include "study/study.hpp"

namespace portweigh::study {

const reading::Fields<Budget>& budget_fields();
const reading::Fields<Money>& money_fields();
const reading::Fields<Revision>& revision_fields();
const reading::Fields<Life>& life_fields();
const reading::Fields<Reuse>& reuse_fields();

// Turns the dates of revisions into years after the start of production; mistakes go to the document.
void read_dates(reading::TableReader& root, Study& study);

std::vector<reading::FieldInfo> study_infos();

}  // namespace portweigh::study

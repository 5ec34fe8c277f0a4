// Checks of a study as a whole, after its keys were read one by one. Mistakes go to the reader's document.
//
// Tested by tests/study/study_reader_test.cpp.
#pragma once

#include "reading/table_reader.hpp"
#include "study/catalog_names.hpp"
#include "study/study.hpp"

namespace portweigh::study {

// The elements of excluded_parts; a list of plain ids is told what was expected.
std::vector<reading::TableReader> excluded_part_readers(reading::TableReader& root);

void check_study(reading::TableReader& root, const Study& study, const CatalogNames& names);

// The groups a revision touches must be groups of blocks of the study's function or of another of the
// catalog.
void check_revision_groups(reading::TableReader& root, const Study& study, const CatalogNames& names);

// Reused blocks must be blocks of the study's function, reused parts parts of the catalog.
void check_reuse(reading::TableReader& root, const Study& study, const CatalogNames& names);

}  // namespace portweigh::study

// How sure the first option's place is, in a word tied to numbers, and which option leads oftener.
//
//   firm    keeps all hard budgets in at least 95 % of the samples, and is first in at least 80 % of them
//   likely  keeps them in at least 80 %, and is first in at least 50 %
//   open    otherwise
// "First" is with weights of the budgets left open, a draw of them for each sample; the order itself goes by
// the study's weights. So another option may be first oftener, and then it is named with what puts it behind
// (a hard budget missed at typical values, less probability, or less margin). Example: sure in 99 %, first in
// 28 % is open. Tested by tests/report/certainty_test.cpp.
#pragma once

#include <string>

#include "report/saved/run.hpp"

namespace portweigh::report {

enum class Certainty { firm, likely, open };

Certainty certainty_of(const decision::RankedOption& first);

// "firm", "likely", "open".
std::string_view word_of(Certainty certainty);

// What the words stand for, as one clause.
std::string certainty_scale();

// The option that is first oftest, unless that is the first one (or as often); null where there is none.
const decision::RankedOption* oftener_first(const decision::Ranking& ranking);

// "mcu-x is first oftener, in 60 %, but its weighted margin at the study's weights is smaller (+41 % against
// +44 %)"; empty where no other option leads oftener.
std::string rival_words(const Run& run);

// "5 % .. 95 %: 1.69 .. 6.03 USD" of the cost over life, with what that says of the typical value; empty
// where the option has no such figure, or where it is exact.
std::string life_cost_words(const decision::RankedOption& ranked);

}  // namespace portweigh::report

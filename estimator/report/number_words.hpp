// Numbers as sentences and tables say them.
//
// A count of samples in which something held says how probable it is only so far: where all or none of n did,
// the share is within 3/n of one or zero with 95 % confidence (the rule of three; Hanley and Lippman-Hand, J.
// Am. Med. Assoc. 249, 1983 [M]). Example: 4096 of 4096 reads "at least 99.9 %", none "at most 0.1 %", 3686
// "90 %". Tested by tests/report/number_words_test.cpp.
#pragma once

#include <string>
#include <string_view>

#include "figures/units/unit.hpp"

namespace portweigh::report {

// A share of `samples`, without its error.
std::string share_words(double share, unsigned samples);

// The same with its standard error where it has one: "90 % (± 0.5 %)".
std::string share_words(double share, unsigned samples, double standard_error);

// Money to two decimals (to two significant digits where it is less than a tenth), shares and probabilities
// in percent, everything else as format_quantity says it. `label` is what people know the value by: "share of
// units that come back" is a share.
std::string amount_words(double value_si, const figures::Unit& unit, std::string_view label);

// Rounded to so many decimals; zero has no sign.
std::string fixed(double value, int decimals);
std::string signed_fixed(double value, int decimals);  // "+1.50", "0.00", "-1.50"

// "1 block", "2 blocks".
std::string counted(std::size_t count, std::string_view noun);

}  // namespace portweigh::report

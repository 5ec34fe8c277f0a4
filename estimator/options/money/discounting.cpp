#include "options/money/discounting.hpp"

namespace portweigh::options {

using figures::Figure;

Figure present_value(std::span<const Figure> flows, Figure rate) {
  Figure value = flows.front();
  for (std::size_t year = 1; year < flows.size(); ++year) {
    value = value + flows[year] / power(1.0 + rate, static_cast<double>(year));
  }
  return value;
}

}  // namespace portweigh::options

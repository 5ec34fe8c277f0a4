#include "report/saved/run.hpp"

#include <algorithm>
#include <iterator>

namespace portweigh::report {

std::vector<decision::SettingSummary> Run::other_settings_of(const std::string& id) const {
  std::vector<decision::SettingSummary> own;
  std::copy_if(other_settings.begin(), other_settings.end(), std::back_inserter(own),
               [&](const decision::SettingSummary& one) { return one.option == id; });
  return own;
}

}  // namespace portweigh::report

#include "exploration/selection.hpp"

#include <algorithm>

namespace portweigh::exploration {

std::vector<options::Option> select_options(std::vector<options::Option> options,
                                            const std::vector<std::string>& ids) {
  if (ids.empty()) return options;
  std::erase_if(options, [&](const options::Option& option) {
    return std::find(ids.begin(), ids.end(), option.id) == ids.end();
  });
  return options;
}

}  // namespace portweigh::exploration

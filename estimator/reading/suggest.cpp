#include "reading/suggest.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <utility>
#include <vector>

namespace portweigh::reading {
namespace {

constexpr std::size_t longest_name = 100;  // that is compared

char lower(char c) {
  return static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
}

}  // namespace

std::size_t edit_distance(std::string_view a, std::string_view b) {
  // Three rows of the table suffice: this, the one above, and the one above that for swaps.
  std::vector<std::size_t> two_above(b.size() + 1);
  std::vector<std::size_t> above(b.size() + 1);
  std::vector<std::size_t> row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) above[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const bool is_equal = lower(a[i - 1]) == lower(b[j - 1]);
      row[j] = std::min({above[j] + 1, row[j - 1] + 1, above[j - 1] + (is_equal ? 0U : 1U)});
      const bool is_swap =
          i > 1 && j > 1 && lower(a[i - 1]) == lower(b[j - 2]) && lower(a[i - 2]) == lower(b[j - 1]);
      if (is_swap) row[j] = std::min(row[j], two_above[j - 2] + 1);
    }
    std::swap(two_above, above);
    std::swap(above, row);
  }
  return above[b.size()];
}

std::vector<std::string> nearest_names(std::string_view typed, std::span<const std::string> candidates,
                                       std::size_t most) {
  if (typed.size() > longest_name) return {};
  std::vector<std::pair<std::size_t, std::string>> by_distance;
  for (const auto& candidate : candidates) {
    if (candidate.size() <= longest_name)
      by_distance.emplace_back(edit_distance(typed, candidate), candidate);
  }
  std::stable_sort(by_distance.begin(), by_distance.end(),
                   [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<std::string> names;
  for (std::size_t i = 0; i < by_distance.size() && i < most; ++i) names.push_back(by_distance[i].second);
  return names;
}

std::optional<std::string> nearest_name(std::string_view typed, std::span<const std::string> candidates) {
  if (typed.size() > longest_name) return std::nullopt;
  std::optional<std::string> nearest;
  std::size_t least = typed.size();
  for (const auto& candidate : candidates) {
    if (candidate.size() > longest_name) continue;
    const auto distance = edit_distance(typed, candidate);
    const auto allowed = (std::max(typed.size(), candidate.size()) + 2) / 3;
    if (distance <= allowed && distance < least) {
      least = distance;
      nearest = candidate;
    }
  }
  return nearest;
}

std::string unknown_name_message(std::string_view kind, std::string_view typed,
                                 std::span<const std::string> candidates) {
  auto message = fmt::format("unknown {} \"{}\"", kind, typed);
  if (candidates.empty()) return message + fmt::format(", expected no {} here", kind);
  message +=
      fmt::format(", expected {}{}", candidates.size() > 1 ? "one of " : "", fmt::join(candidates, ", "));
  if (const auto nearest = nearest_name(typed, candidates))
    message += fmt::format("; nearest: \"{}\"", *nearest);
  return message;
}

}  // namespace portweigh::reading

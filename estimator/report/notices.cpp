#include "report/notices.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>

#include "report/terminal/text_table.hpp"

namespace portweigh::report {
namespace {

using nlohmann::ordered_json;

constexpr int columns = 80;

ConsideredParts count(const parts::Catalog& catalog,
                      const std::function<bool(const std::string& part)>& is_considered) {
  ConsideredParts parts;
  const auto add = [&](bool is_invented) {
    ++parts.all;
    parts.invented += is_invented ? 1 : 0;
  };
  const auto add_considered = [&](const auto& some) {
    for (const auto& one : some) {
      if (is_considered(one.part.id)) add(one.part.is_invented);
    }
  };
  add_considered(catalog.programmable_logic);
  add_considered(catalog.microcontrollers);
  add_considered(catalog.fixed_functions);
  for (const parts::ExternalPart& part : catalog.external_parts) add(part.is_invented);
  return parts;
}

}  // namespace

std::vector<std::string> cautions(const ConsideredParts& parts) {
  std::vector<std::string> all = {
      "Early estimates for comparing architectures: data sheets and measurement come first.",
      "Ports carry up to 240 W and batteries burn: safety standards, local codes and licensed practice "
      "decide."};
  if (parts.invented > 0) {
    all.push_back(fmt::format("Invented, prices included: {} of {} parts.", parts.invented, parts.all));
  }
  return all;
}

Notices notices_of(const parts::Catalog& catalog, const study::Study& study) {
  Notices notices;
  notices.cautions =
      cautions(count(catalog, [&](const std::string& part) { return study::is_considered(study, part); }));
  for (const study::ExcludedPart& one : study.excluded_parts) {
    notices.excluded.push_back({one.part, one.reason, ""});
  }
  return notices;
}

Notices notices_of(const parts::Catalog& catalog, const study::Family& family) {
  Notices notices;
  notices.cautions = cautions(count(catalog, [&](const std::string& part) {
    return std::any_of(family.products.begin(), family.products.end(),
                       [&](const auto& product) { return study::is_considered(product.study, part); });
  }));
  std::map<std::pair<std::string, std::string>, std::vector<std::string>> products;  // by part and reason
  for (const study::FamilyProduct& product : family.products) {
    for (const study::ExcludedPart& one : product.study.excluded_parts) {
      products[{one.part, one.reason}].push_back(product.name);
    }
  }
  for (const auto& [what, names] : products) {
    const bool is_common = names.size() == family.products.size();
    notices.excluded.push_back(
        {what.first, what.second, is_common ? "" : fmt::format("{}", fmt::join(names, ", "))});
  }
  return notices;
}

Notices merged(const Notices& before, const Notices& after) {
  const auto has = [](const auto& all, const auto& one) {
    return std::find(all.begin(), all.end(), one) != all.end();
  };
  Notices both;
  both.cautions = before.cautions;
  for (const std::string& caution : after.cautions) {
    if (!has(both.cautions, caution)) both.cautions.push_back(caution);
  }
  for (Exclusion one : before.excluded) {
    if (!has(after.excluded, one)) one.scope = "before";
    both.excluded.push_back(std::move(one));
  }
  for (Exclusion one : after.excluded) {
    if (has(before.excluded, one)) continue;
    one.scope = "after";
    both.excluded.push_back(std::move(one));
  }
  return both;
}

std::vector<std::string> exclusion_lines(const std::vector<Exclusion>& excluded) {
  struct Group {
    const Exclusion* first;
    std::vector<std::string> ids;
  };
  std::vector<Group> groups;
  for (const Exclusion& one : excluded) {
    const auto found = std::find_if(groups.begin(), groups.end(), [&](const Group& group) {
      return group.first->reason == one.reason && group.first->scope == one.scope;
    });
    if (found == groups.end()) {
      groups.push_back({&one, {one.id}});
    } else {
      found->ids.push_back(one.id);
    }
  }
  std::vector<std::string> lines;
  for (const Group& group : groups) {
    lines.push_back(fmt::format("Left out by the study{}: {}: {}",
                                group.first->scope.empty() ? "" : fmt::format(" ({})", group.first->scope),
                                fmt::join(group.ids, ", "), group.first->reason));
  }
  return lines;
}

std::string notices_text(const Notices& notices) {
  std::string text = "\n";
  for (const std::string& line : exclusion_lines(notices.excluded)) text += wrap(line, columns, "  ");
  return text + wrap(fmt::format("{}", fmt::join(notices.cautions, " ")), columns, "  ");
}

void add_notices(ordered_json& json, const Notices& notices) {
  ordered_json excluded = ordered_json::array();
  for (const Exclusion& one : notices.excluded) {
    excluded.push_back({{"id", one.id}, {"reason", one.reason}});
    if (!one.scope.empty()) excluded.back()["scope"] = one.scope;
  }
  json["excluded"] = std::move(excluded);
  json["cautions"] = notices.cautions;
}

Notices notices_in(const ordered_json& json) {
  Notices notices;
  notices.cautions = json.value("cautions", std::vector<std::string>());
  for (const auto& one : json.value("excluded", ordered_json::array())) {
    notices.excluded.push_back({one.at("id").get<std::string>(), one.at("reason").get<std::string>(),
                                one.value("scope", std::string())});
  }
  return notices;
}

}  // namespace portweigh::report

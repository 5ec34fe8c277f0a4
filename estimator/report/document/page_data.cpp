#include "report/document/page_data.hpp"

#include <map>
#include <nlohmann/json.hpp>

#include "study/figure_names.hpp"

namespace portweigh::report {
namespace {

using nlohmann::ordered_json;

// Entries that stand once, by their text.
class Pool {
 public:
  std::size_t add(const ordered_json& entry) {
    const auto [found, is_new] = index_.try_emplace(entry.dump(), entries_.size());
    if (is_new) entries_.push_back(entry);
    return found->second;
  }
  ordered_json take() { return std::move(entries_); }

 private:
  std::map<std::string, std::size_t> index_;
  ordered_json entries_ = ordered_json::array();
};

class Packer {
 public:
  explicit Packer(const Document& document) : document_(document), currency_(document.run->study.currency) {}

  std::size_t unit(const figures::Unit& unit) {
    ordered_json entry = {{"t", unit.text}, {"f", unit.factor}};
    if (unit.offset != 0) entry["o"] = unit.offset;
    if (!unit.base_symbol.empty()) {
      entry["b"] = unit.base_symbol;
      entry["p"] = figures::parse_unit(unit.base_symbol).factor;
    }
    if (unit.dimension.money != 0) entry["m"] = 1;
    if (unit.dimension == figures::dimensions::time) entry["d"] = 1;
    if (unit.dimension == figures::dimensions::dimensionless) entry["n"] = 1;
    return units_.add(entry);
  }

  ordered_json ledger(const figures::Ledger& ledger) {
    ordered_json nodes = ordered_json::array();
    ordered_json names = ordered_json::array();
    for (std::uint32_t i = 0; i < ledger.nodes().size(); ++i) {
      nodes.push_back(node(ledger, i));
      const figures::Name* name = ledger.name_of(i);
      if (name == nullptr || name->key.empty() || ledger.nodes()[i].operation == figures::Operation::input)
        continue;
      names.push_back({i, names_.add({name->key, name->label, unit(name->unit)})});
    }
    return {{"nodes", std::move(nodes)}, {"names", std::move(names)}};
  }

  void take_into(ordered_json& data) {
    data["units"] = units_.take();
    data["inputs"] = inputs_.take();
    data["names"] = names_.take();
    data["tables"] = tables_.take();
  }

 private:
  ordered_json node(const figures::Ledger& ledger, std::uint32_t index) {
    const figures::Node& of = ledger.nodes()[index];
    ordered_json packed = ordered_json::array({static_cast<int>(of.operation)});
    if (of.operation == figures::Operation::input) {
      packed.push_back(input(ledger.inputs()[of.detail]));
      return packed;
    }
    if (of.operation == figures::Operation::constant) {
      packed.push_back(of.number);
      packed.push_back(unit(figures::coherent_unit(of.dimension, currency_)));
      return packed;
    }
    for (std::size_t i = 0; i < of.argument_count; ++i) packed.push_back(of.arguments[i]);
    if (of.operation == figures::Operation::power) packed.push_back(of.number);
    if (of.operation == figures::Operation::lookup) packed.push_back(table(ledger.tables()[of.detail]));
    return packed;
  }

  std::size_t input(const figures::Input& of) {
    ordered_json entry = {{"k", of.key},
                          {"l", of.label},
                          {"r", {of.range.low, of.range.typical, of.range.high}},
                          {"u", unit(of.unit)},
                          {"s", {of.source.text, document_.run->places.of(of.source)}}};
    if (!of.correlation.empty()) entry["c"] = of.correlation;
    return inputs_.add(entry);
  }

  std::size_t table(const figures::LookupTable& of) {
    return tables_.add(
        {{"x", of.x}, {"y", of.y}, {"log", of.scale == figures::Scale::log_log}, {"l", of.label}});
  }

  const Document& document_;
  std::string currency_;
  Pool units_;
  Pool inputs_;
  Pool names_;
  Pool tables_;
};

bool is_temperature(const figures::Unit& unit) {
  return unit.dimension == figures::dimensions::temperature;
}

ordered_json option_data(const Document& document, std::size_t shown, Packer& packer) {
  const decision::RankedOption& ranked = ranked_at(document, shown);
  const options::Option& option = option_at(document, shown);
  ordered_json figures = ordered_json::object();
  for (const auto& [key, figure] : ranked.figures) figures[key] = {figure.value, figure.low, figure.high};
  ordered_json limits = ordered_json::array();
  for (const options::ImpliedLimit& limit : option.implied_limits) {
    ordered_json entry = {{"figure", limit.figure}, {"limit", limit.limit_si}, {"meaning", limit.meaning}};
    const figures::Figure figure = option.ledger.at(limit.figure);
    if (is_temperature(option.ledger.name_of(figure.index())->unit)) entry["is_temperature"] = true;
    limits.push_back(std::move(entry));
  }
  return {{"id", option.id},
          {"kind", options::to_string(option.kind)},
          {"rank", ranked.rank},
          {"probability", ranked.probability_meets_budgets},
          {"first", ranked.first_rank_share},
          {"figures", std::move(figures)},
          {"limits", std::move(limits)},
          {"notes", option.notes},
          {"ledger", packer.ledger(option.ledger)}};
}

ordered_json budgets_data(const Document& document, Packer& packer) {
  ordered_json budgets = ordered_json::array();
  const auto& all = document.run->study.budgets;
  for (std::size_t b = 0; b < all.size(); ++b) {
    ordered_json probabilities = ordered_json::array();
    for (std::size_t i = 0; i < document.shown.size(); ++i) {
      const auto& results = ranked_at(document, i).budgets;
      probabilities.push_back(b < results.size() ? results[b].probability : 0);
    }
    budgets.push_back({{"figure", all[b].figure},
                       {"label", label_of_figure(all[b].figure)},
                       {"limit", all[b].limit_si},
                       {"margin", all[b].margin},
                       {"weight", all[b].weight},
                       {"hard", all[b].strength == study::Strength::hard},
                       {"unit", packer.unit(all[b].unit)},
                       {"is_temperature", is_temperature(all[b].unit)},
                       {"probabilities", std::move(probabilities)}});
  }
  return budgets;
}

ordered_json flips_data(const Document& document, Packer& packer) {
  ordered_json flips = ordered_json::array();
  for (const NamedFlip& named : document.analysis.sensitivity.flips) {
    double low = named.flip.typical;
    double high = named.flip.typical;
    std::string label = named.flip.input;
    for (const options::Option& option : document.run->considered.options) {
      for (const figures::Input& input : option.ledger.inputs()) {
        if (input.key != named.flip.input) continue;
        low = input.range.low;
        high = input.range.high;
        label = input.label;
      }
    }
    flips.push_back({{"key", named.flip.input},
                     {"label", label},
                     {"range", {low, named.flip.typical, high}},
                     {"value", named.flip.value},
                     {"base", named.flip.base},
                     {"unit", packer.unit(named.unit)},
                     {"leader", named.new_leader},
                     {"inside", named.flip.is_within_range}});
  }
  return flips;
}

ordered_json drivers_data(const Document& document) {
  ordered_json all = ordered_json::array();
  for (const Sensitivity::Figure& figure : document.analysis.sensitivity.figures) {
    ordered_json drivers = ordered_json::array();
    for (const exploration::Driver& driver : figure.drivers.drivers) {
      constexpr std::size_t most = 5;
      if (drivers.size() < most)
        drivers.push_back({driver.coordinate, driver.first.value, driver.total.value});
    }
    all.push_back(
        {{"figure", figure.key}, {"label", label_of_figure(figure.key)}, {"drivers", std::move(drivers)}});
  }
  return all;
}

ordered_json shares_data(const RankShares& shares) {
  ordered_json rows = ordered_json::array();
  for (std::size_t i = 0; i < shares.options.size(); ++i) {
    ordered_json row = ordered_json::array();
    for (Eigen::Index rank = 0; rank < shares.shares.cols(); ++rank) {
      row.push_back(shares.shares(static_cast<Eigen::Index>(i), rank));
    }
    rows.push_back({{"id", shares.options[i]}, {"shares", std::move(row)}});
  }
  return rows;
}

}  // namespace

ordered_json page_data(const Document& document) {
  const Run& run = *document.run;
  Packer packer(document);
  ordered_json options = ordered_json::array();
  for (std::size_t i = 0; i < document.shown.size(); ++i) options.push_back(option_data(document, i, packer));
  ordered_json states = ordered_json::array();
  for (const study::PortState& state : run.study.states) states.push_back(state.name);
  ordered_json figures = ordered_json::object();
  for (const study::FigureName& name : study::known_figures()) figures[name.name] = name.label;
  ordered_json revisions = ordered_json::array();
  for (const study::Revision& revision : run.study.revisions) revisions.push_back(revision.name);
  const WinnerMap& map = document.analysis.winner_map;
  ordered_json data = {
      {"study", run.study.name},
      {"currency", run.study.currency},
      {"ambient", run.study.ambient.range.typical},
      {"samples", run.ranking.sampling.samples},
      {"built", run.considered.options.size()},
      {"budgets", budgets_data(document, packer)},
      {"figure_labels", std::move(figures)},
      {"states", std::move(states)},
      {"revisions", std::move(revisions)},
      {"structural", document.structural_inputs},
      {"map", {{"clock", map.clock_rates_hz}, {"duty", map.duty_cycles}, {"leaders", map.leaders}}},
      {"flips", flips_data(document, packer)},
      {"drivers", drivers_data(document)},
      {"shares", shares_data(document.analysis.rank_shares)},
      {"options", std::move(options)}};
  const std::pair<const char*, const char*> shown_units[] = {
      {"watt", "W"}, {"hertz", "Hz"}, {"one", "1"}, {"percent", "%"}};
  ordered_json known = ordered_json::object();
  for (const auto& [name, text] : shown_units) known[name] = packer.unit(figures::parse_unit(text));
  known["money"] = packer.unit(figures::parse_unit(run.study.currency));
  data["known_units"] = std::move(known);
  packer.take_into(data);
  return data;
}

}  // namespace portweigh::report

#include "report_fixture.hpp"

namespace portweigh::tests {
namespace {

using figures::Figure;
using options::Option;
using options::OptionKind;

figures::Unit unit(const char* text) {
  return figures::parse_unit(text);
}

figures::Source at_line(int line) {
  return {"invented", "small.toml", line, 1};
}

Option make_option(const std::string& id, OptionKind kind, double price, double power_w, double duty) {
  Option option;
  option.id = id;
  option.kind = kind;
  option.parts = {id};
  option.bill = {{id, "main part", 1}};
  figures::Ledger& ledger = option.ledger;
  const Figure volume =
      ledger.input({"volume_per_year", "units a year", figures::exactly(1000), unit("1"), at_line(1), ""});
  const Figure years =
      ledger.input({"years", "years of production", figures::exactly(5), unit("1"), at_line(2), ""});
  const Figure share = ledger.input({"duty_cycle",
                                     "share of time in the active state",
                                     {duty / 2, duty, duty * 2},
                                     unit("1"),
                                     at_line(3),
                                     ""});
  const Figure each = ledger.input({"parts." + id + ".price",
                                    "price of " + id,
                                    {0.9 * price, price, 1.2 * price},
                                    unit("USD"),
                                    at_line(4),
                                    "prices"});
  const Figure power = ledger.input({"parts." + id + ".power",
                                     "power of " + id,
                                     {0.75 * power_w, power_w, 1.25 * power_w},
                                     unit("mW"),
                                     at_line(5),
                                     ""});
  const Figure once =
      ledger.input({"study.engineering", "engineering", figures::exactly(2000), unit("USD"), at_line(6), ""});
  const Figure units = ledger.name(volume * years, "units", "units over life", unit("1"));
  const Figure parts = ledger.name(each, "parts_cost", "parts of a unit", unit("USD"));
  const Figure cost = ledger.name(parts + ledger.constant(0.25, figures::dimensions::money, "test"),
                                  "unit_cost", "unit cost", unit("USD"));
  const Figure one_time =
      ledger.name(once / units, "one_time_cost_per_unit", "share of the one-time cost", unit("USD"));
  ledger.name(cost + one_time, "cost_per_unit_over_life", "cost for each unit over life", unit("USD"));
  const Figure active = ledger.name(power, "state_power.active.core", "core, active", unit("mW"));
  const Figure state = ledger.name(active, "state_power.active", "power, active", unit("mW"));
  ledger.name(state, "active_power", "power while active", unit("mW"));
  ledger.name(state * share, "average_power", "power on average", unit("mW"));
  return option;
}

study::Budget budget(const char* figure, const char* in, double limit_si, study::Strength strength) {
  study::Budget made;
  made.figure = figure;
  made.limit_si = limit_si;
  made.unit = unit(in);
  made.strength = strength;
  return made;
}

}  // namespace

report::Run small_run(const SmallRun& wanted) {
  report::Run run;
  run.study.name = wanted.study_name;
  run.study.summary = "a product made up for tests";
  run.study.currency = "USD";
  study::PortState active;
  active.name = "active";
  active.is_active = true;
  run.study.states = {active};
  run.study.budgets = {budget("active_power", "mW", 5e-3, study::Strength::hard),
                       budget("unit_cost", "USD", wanted.cost_limit, study::Strength::hard),
                       budget("average_power", "uW", 1e-4, study::Strength::wish)};
  run.considered.options.push_back(
      make_option("ff-alpha", OptionKind::fixed_function, wanted.alpha_price, 4e-3, wanted.duty_cycle));
  run.considered.options.push_back(
      make_option(wanted.second_id, OptionKind::microcontroller, 2.0, 6e-3, wanted.duty_cycle));
  run.considered.options.push_back(
      make_option("pl-gamma", OptionKind::programmable_logic, 2.5, 2e-3, wanted.duty_cycle));
  run.considered.rejections = {
      {"pl-delta", OptionKind::programmable_logic, {"pl-delta"}, "needs 90 cells, it has 64"}};
  run.ranking = decision::rank(run.considered.options, run.study, {512, 1, 1});
  run.notices = {report::cautions({5, 3}), {{"ff-omega", wanted.exclusion_reason, ""}}};
  return run;
}

report::Run empty_run() {
  report::Run run;
  run.study.name = "nothing fits";
  run.study.currency = "USD";
  run.considered.rejections = {{"pl-one", OptionKind::programmable_logic, {"pl-one"}, "too small"},
                               {"pl-two", OptionKind::programmable_logic, {"pl-two"}, "too small"}};
  run.ranking = decision::rank(run.considered.options, run.study, {16, 1, 1});
  return run;
}

}  // namespace portweigh::tests

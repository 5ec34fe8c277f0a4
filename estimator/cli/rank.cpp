#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/session.hpp"
#include "report/saved/rank_json.hpp"
#include "report/terminal/rank_text.hpp"

namespace portweigh::cli {
namespace {

struct RankArguments {
  Common common;
  std::filesystem::path study;
  bool all = false;
  bool require_fit = false;
  unsigned samples = 4096;
  std::uint64_t seed = 1;
};

int run_rank(const RankArguments& arguments, std::ostream& out) {
  const auto session = open_session(arguments.common, arguments.study);
  const report::Run run = ranked_run(*session, arguments.common, arguments.samples, arguments.seed);
  if (arguments.common.format == Format::json) {
    out << report::rank_json(run).dump(2) << "\n";
  } else {
    out << report::rank_text(run, arguments.all ? report::Detail::all : report::Detail::best,
                             arguments.common.colour);
  }
  return exit_code(run, arguments.require_fit);
}

void declare_rank(Options& options, RankArguments& arguments) {
  options.study(arguments.study);
  options.flag("--all", arguments.all, "also list dominated options, other clocks and every rejection");
  options.require_fit(arguments.require_fit);
  options.samples(arguments.samples, arguments.seed);
}

}  // namespace

Verb rank_verb();
Verb rank_verb() {
  return make_verb<RankArguments>("rank", "options against budgets, best first",
                                  "portweigh rank studies/flow-meter.toml --all", declare_rank, run_rank);
}

}  // namespace portweigh::cli

#include "cli/session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>
#include <thread>

#include "decision/swing.hpp"
#include "reading/diagnostic.hpp"
#include "reading/suggest.hpp"

namespace portweigh::cli {
namespace {

// A study has hundreds of options, so only the nearest are named.
std::string unknown_option(const std::string& id, const std::vector<std::string>& ids) {
  constexpr std::size_t most_names = 3;
  const auto nearest = reading::nearest_names(id, ids, most_names);
  return fmt::format("unknown option \"{}\"{}{}; see: portweigh rank STUDY --all", id,
                     nearest.empty() ? "" : ", nearest: ", fmt::join(nearest, ", "));
}

}  // namespace

std::unique_ptr<Session> open_session(const Common& common, const std::filesystem::path& study) {
  auto session = std::make_unique<Session>();
  session->catalog = parts::read_catalog(common.catalog);
  session->effort = parts::read_effort(common.catalog / "effort.toml");
  session->study = study::read_study(study, common.catalog);
  session->library = std::make_unique<options::BlockLibrary>(session->catalog.cores);
  return session;
}

options::Considered consider_options(Session& session, const decision::Sampling& sampling,
                                     std::vector<decision::SettingSummary>* others) {
  options::Considered considered = decision::consider_best_settings(session.context(), sampling, others);
  session.study = decision::with_swing_weights(std::move(session.study), considered.options);
  return considered;
}

options::Considered consider_options(Session& session, unsigned threads) {
  decision::Sampling sampling;
  sampling.threads = threads;
  return consider_options(session, sampling);
}

report::Run ranked_run(Session& session, const Common& common, unsigned samples, std::uint64_t seed) {
  const unsigned threads = thread_count(common);
  report::Run run;
  run.considered = consider_options(session, {samples, seed, threads}, &run.other_settings);
  run.study = session.study;
  run.ranking = decision::rank(run.considered.options, run.study, {samples, seed, threads});
  run.notices = report::notices_of(session.catalog, run.study);
  run.places = report::Places(common.catalog, run.study.file);
  return run;
}

void print_result(std::ostream& out, const Common& common, const report::Notices& notices,
                  const std::function<nlohmann::ordered_json()>& json,
                  const std::function<std::string()>& text) {
  if (common.format != Format::json) {
    out << text() << report::notices_text(notices);
    return;
  }
  nlohmann::ordered_json result = json();
  report::add_notices(result, notices);
  out << result.dump(2) << "\n";
}

int exit_code(const report::Run& run, bool require_fit) {
  const bool any_fits = std::any_of(run.ranking.ranked.begin(), run.ranking.ranked.end(),
                                    [](const auto& ranked) { return ranked.meets_budgets; });
  return require_fit && !any_fits ? 1 : 0;
}

unsigned thread_count(const Common& common) {
  return common.threads > 0 ? common.threads : std::max(1U, std::thread::hardware_concurrency());
}

const options::Option& find_option(const options::Considered& considered, const std::string& id,
                                   const std::string& from) {
  std::vector<std::string> ids;
  for (const options::Option& option : considered.options) {
    if (option.id == id) return option;
    ids.push_back(option.id);
  }
  for (const options::Rejection& rejection : considered.rejections) {
    if (rejection.id == id) {
      throw reading::InputError(reading::Diagnostic{
          from, 0, 0, fmt::format("option \"{}\" was rejected: {}", id, rejection.reason), ""});
    }
  }
  throw reading::InputError(reading::Diagnostic{from, 0, 0, unknown_option(id, ids), ""});
}

}  // namespace portweigh::cli

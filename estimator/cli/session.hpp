// The catalog, the study and its options as a verb needs them, loaded in one go.
#pragma once

#include <functional>
#include <memory>
#include <nlohmann/json_fwd.hpp>
#include <optional>

#include "cli/verb.hpp"
#include "options/context.hpp"
#include "options/search/consider.hpp"
#include "report/saved/run.hpp"

namespace portweigh::cli {

struct Session {
  parts::Catalog catalog;
  parts::Effort effort;
  study::Study study;
  std::unique_ptr<options::BlockLibrary> library;
  options::Context context() const { return {catalog, effort, study, *library}; }
};

// Throws reading::InputError with the mistakes of catalog or study.
std::unique_ptr<Session> open_session(const Common& common, const std::filesystem::path& study);

// The study's options. Where it has swings, `session.study` gets the weights that follow from them.
// Each option at its best clock; `others`, if given, becomes what the other clocks would be like.
options::Considered consider_options(Session& session, const decision::Sampling& sampling,
                                     std::vector<decision::SettingSummary>* others = nullptr);
options::Considered consider_options(Session& session, unsigned threads);

// The study's run: its options, ranked, with what goes beside them.
report::Run ranked_run(Session& session, const Common& common, unsigned samples, std::uint64_t seed);

// A result with the notices that go beside it, as JSON or as text for people; only what is printed is made.
void print_result(std::ostream& out, const Common& common, const report::Notices& notices,
                  const std::function<nlohmann::ordered_json()>& json,
                  const std::function<std::string()>& text);

// 1 with --require-fit where no option meets every hard budget.
int exit_code(const report::Run& run, bool require_fit);

unsigned thread_count(const Common& common);

// The option of this id; reading::InputError with the nearest name, or the reason for which it was rejected.
// `from` is the argument that named it.
const options::Option& find_option(const options::Considered& considered, const std::string& id,
                                   const std::string& from = "--option");

}  // namespace portweigh::cli

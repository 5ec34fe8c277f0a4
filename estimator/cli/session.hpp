// The catalog, the study and its options as a verb needs them, loaded in one go.
#pragma once

#include <memory>
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
options::Considered consider_options(Session& session, unsigned threads);

// The study's run: its options, ranked, with what goes beside them.
report::Run ranked_run(Session& session, const Common& common, unsigned samples, std::uint64_t seed);

// A result with the notices that go beside it.
void print_json(std::ostream& out, nlohmann::ordered_json result, const report::Notices& notices);

unsigned thread_count(const Common& common);

// The option of this id; reading::InputError with the nearest name, or the reason for which it was rejected.
// `from` is the argument that named it.
const options::Option& find_option(const options::Considered& considered, const std::string& id,
                                   const std::string& from = "--option");

}  // namespace portweigh::cli

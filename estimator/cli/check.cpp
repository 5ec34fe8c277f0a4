#include <fmt/core.h>

#include <algorithm>
#include <filesystem>
#include <functional>
#include <ostream>

#include "blocks/state_machine/state_table.hpp"
#include "cli/session.hpp"
#include "exploration/measured_file.hpp"
#include "reading/diagnostic.hpp"
#include "reading/document.hpp"
#include "reading/table_reader.hpp"
#include "study/family_reader.hpp"

namespace portweigh::cli {
namespace {

struct CheckArguments {
  Common common;
  std::vector<std::filesystem::path> files;
};

namespace fs = std::filesystem;

std::vector<fs::path> toml_files(const fs::path& folder) {
  std::vector<fs::path> files;
  std::error_code error;
  for (const auto& entry : fs::directory_iterator(folder, error)) {
    if (entry.path().extension() == ".toml") files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

// Runs a reader and keeps the mistakes it finds.
void collect(reading::Diagnostics& mistakes, const std::function<void()>& read) {
  try {
    read();
  } catch (const reading::InputError& error) {
    mistakes.append(error.diagnostics());
  }
}

void check_function(const fs::path& file, const fs::path& catalog, reading::Diagnostics& mistakes) {
  collect(mistakes, [&] { (void)study::read_function(file, catalog); });
}

void check_folder(const fs::path& folder, reading::Diagnostics& mistakes) {
  collect(mistakes, [&] { (void)parts::read_catalog(folder); });
  collect(mistakes, [&] { (void)parts::read_effort(folder / "effort.toml"); });
  for (const fs::path& file : toml_files(folder / "state-machines")) {
    collect(mistakes, [&] { (void)blocks::load_state_table(file); });
  }
  for (const fs::path& file : toml_files(folder / "functions")) {
    check_function(file, folder, mistakes);
  }
}

// The mistakes of one file of a catalog: the whole catalog is read, since files refer to each other.
void check_catalog_file(const fs::path& file, reading::Diagnostics& mistakes) {
  reading::Diagnostics all;
  check_folder(file.parent_path().parent_path(), all);
  for (const reading::Diagnostic& mistake : all.all()) {
    std::error_code error;
    if (fs::equivalent(mistake.file, file, error)) mistakes.add(mistake);
  }
}

// Results of synthesis, compilers or the bench, known by their tables; no study has any of these.
bool is_measured_file(const fs::path& file) {
  try {
    reading::Document document = reading::Document::load(file);
    const auto keys = document.root().keys();
    return std::any_of(keys.begin(), keys.end(), [](const std::string& key) {
      return key == "synthesis" || key == "firmware" || key == "bench";
    });
  } catch (const reading::InputError&) {
    return false;  // told where it is read as a study
  }
}

void check_measured(const fs::path& file, const fs::path& catalog, reading::Diagnostics& mistakes) {
  collect(mistakes, [&] { (void)exploration::read_measured(file, parts::read_catalog(catalog)); });
}

bool is_catalog_folder(const fs::path& folder) {
  return fs::exists(folder / "currencies.toml");
}

void check_file(const fs::path& file, const fs::path& catalog, reading::Diagnostics& mistakes) {
  const std::string folder = fs::absolute(file).parent_path().filename().string();
  if (folder == "state-machines") {
    collect(mistakes, [&] { (void)blocks::load_state_table(file); });
  } else if (folder == "functions") {
    check_function(file, catalog, mistakes);
  } else if (folder == "families") {
    collect(mistakes, [&] { (void)study::read_family(file, catalog); });
  } else if (file.filename() == "effort.toml") {
    collect(mistakes, [&] { (void)parts::read_effort(file); });
  } else if (is_catalog_folder(fs::absolute(file).parent_path().parent_path())) {
    check_catalog_file(fs::absolute(file), mistakes);
  } else if (is_measured_file(file)) {
    check_measured(file, catalog, mistakes);
  } else {
    collect(mistakes, [&] { (void)study::read_study(file, catalog); });
  }
}

int run_check(const CheckArguments& arguments, std::ostream& out) {
  reading::Diagnostics mistakes;
  for (const fs::path& file : arguments.files) {
    if (fs::is_directory(file) && !is_catalog_folder(file)) {
      mistakes.add(
          {file.string(), 0, 0,
           "is no catalog folder (one holds currencies.toml), expected such a folder or single files", ""});
    } else if (fs::is_directory(file)) {
      check_folder(file, mistakes);
    } else {
      check_file(file, arguments.common.catalog, mistakes);
    }
  }
  if (!mistakes.is_empty()) throw reading::InputError(std::move(mistakes));
  out << fmt::format("{} checked, no mistakes\n", arguments.files.size());
  return 0;
}

void declare_check(Options& options, CheckArguments& arguments) {
  options.required("FILE", arguments.files, "files or catalog folders");
}

}  // namespace

Verb check_verb();
Verb check_verb() {
  return make_verb<CheckArguments>(
      "check", "reads catalogs, functions, state tables and studies, reports every error",
      "portweigh check studies/flow-meter.toml catalog", declare_check, run_check);
}

}  // namespace portweigh::cli

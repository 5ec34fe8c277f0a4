#include <fmt/format.h>

#include <filesystem>
#include <functional>
#include <ostream>

#include "blocks/state_table.hpp"
#include "cli/session.hpp"
#include "reading/diagnostic.hpp"
#include "reading/document.hpp"
#include "study/family_reader.hpp"

namespace portweigh::cli {
namespace {

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

void check_folder(const fs::path& folder, reading::Diagnostics& mistakes) {
  collect(mistakes, [&] { (void)parts::read_catalog(folder); });
  collect(mistakes, [&] { (void)parts::read_effort(folder / "effort.toml"); });
  for (const fs::path& file : toml_files(folder / "state-machines")) {
    collect(mistakes, [&] { (void)blocks::load_state_table(file); });
  }
  for (const fs::path& file : toml_files(folder / "functions")) {
    collect(mistakes, [&] { (void)study::read_function(file, folder); });
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

bool is_catalog_folder(const fs::path& folder) {
  return fs::exists(folder / "currencies.toml");
}

void check_file(const fs::path& file, const fs::path& catalog, reading::Diagnostics& mistakes) {
  const std::string folder = fs::absolute(file).parent_path().filename().string();
  if (folder == "state-machines") {
    collect(mistakes, [&] { (void)blocks::load_state_table(file); });
  } else if (folder == "functions") {
    collect(mistakes, [&] { (void)study::read_function(file, catalog); });
  } else if (folder == "families") {
    collect(mistakes, [&] { (void)study::read_family(file, catalog); });
  } else if (file.filename() == "effort.toml") {
    collect(mistakes, [&] { (void)parts::read_effort(file); });
  } else if (is_catalog_folder(fs::absolute(file).parent_path().parent_path())) {
    check_catalog_file(fs::absolute(file), mistakes);
  } else {
    collect(mistakes, [&] { (void)study::read_study(file, catalog); });
  }
}

}  // namespace

int run_check(const CheckArguments& arguments, std::ostream& out) {
  reading::Diagnostics mistakes;
  for (const fs::path& file : arguments.files) {
    if (fs::is_directory(file)) {
      check_folder(file, mistakes);
    } else {
      check_file(file, arguments.common.catalog, mistakes);
    }
  }
  if (!mistakes.is_empty()) throw reading::InputError(std::move(mistakes));
  out << fmt::format("{} checked, no mistakes\n", arguments.files.size());
  return 0;
}

}  // namespace portweigh::cli

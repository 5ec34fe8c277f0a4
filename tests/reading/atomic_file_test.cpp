#include "reading/atomic_file.hpp"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <fstream>

#include "reading/diagnostic.hpp"
#include "reading/document.hpp"
#include "temporary_folder_fixture.hpp"

using namespace portweigh::reading;
using test::TemporaryFolder;

namespace {

int count_entries(const std::filesystem::path& folder) {
  int count = 0;
  for ([[maybe_unused]] const auto& entry : std::filesystem::directory_iterator(folder)) ++count;
  return count;
}

}  // namespace

TEST_CASE("a file is written whole, over an older one too, and nothing else is left") {
  const TemporaryFolder folder;
  const auto path = folder.path() / "report.json";
  write_file_atomically(path, "first");
  CHECK(read_text_file(path) == "first");
  const std::string large(3000000, 'x');
  write_file_atomically(path, large);
  CHECK(read_text_file(path) == large);
  write_file_atomically(path, "");
  CHECK(read_text_file(path).empty());
  CHECK(count_entries(folder.path()) == 1);
}

TEST_CASE("what can't be written leaves nothing behind") {
  const TemporaryFolder folder;
  CHECK_THROWS_AS(write_file_atomically(folder.path() / "none" / "x", "a"), FileError);
  const auto blocked = folder.path() / "blocked";
  std::filesystem::create_directory(blocked);
  std::ofstream(blocked / "inside") << "kept";
  CHECK_THROWS_WITH(write_file_atomically(blocked, "a"), blocked.string() + ": cannot write: Is a directory");
  CHECK(count_entries(folder.path()) == 1);
  CHECK(read_text_file(blocked / "inside") == "kept");
}

TEST_CASE("behind a symbolic link the file itself is replaced") {
  const TemporaryFolder folder;
  const auto file = folder.path() / "file";
  const auto link = folder.path() / "link";
  write_file_atomically(file, "old");
  std::filesystem::create_symlink(file, link);
  write_file_atomically(link, "new");
  CHECK(std::filesystem::is_symlink(link));
  CHECK(read_text_file(file) == "new");
}

TEST_CASE("a device is written to, not replaced") {
  const TemporaryFolder folder;
  write_file_atomically("/dev/null", "gone");
  CHECK(std::filesystem::is_character_file("/dev/null"));
  CHECK_THROWS_AS(write_file_atomically("/dev/full", "no space"), FileError);
}

TEST_CASE("a name in use by another writer is stepped over") {
  const TemporaryFolder folder;
  const auto path = folder.path() / "x";
  const auto taken = path.string() + "." + std::to_string(::getpid()) + "-0.part";
  std::ofstream(taken) << "another's";
  write_file_atomically(path, "mine");
  CHECK(read_text_file(path) == "mine");
  CHECK(read_text_file(taken) == "another's");
}

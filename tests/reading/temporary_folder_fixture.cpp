#include "temporary_folder_fixture.hpp"

#include <stdlib.h>

#include <stdexcept>
#include <string>

namespace portweigh::reading::test {

TemporaryFolder::TemporaryFolder() {
  auto name = (std::filesystem::temp_directory_path() / "portweigh-test-XXXXXX").string();
  if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("cannot make a temporary folder");
  path_ = name;
}

TemporaryFolder::~TemporaryFolder() {
  std::error_code error;
  std::filesystem::remove_all(path_, error);
}

}  // namespace portweigh::reading::test

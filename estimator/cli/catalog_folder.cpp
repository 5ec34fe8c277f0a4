#include "cli/catalog_folder.hpp"

namespace portweigh::cli {

std::filesystem::path default_catalog_folder() {
  const std::filesystem::path source_tree = PORTWEIGH_CATALOG_DIR;
  if (std::filesystem::is_directory(source_tree)) return source_tree;
  std::error_code error;
  const auto program = std::filesystem::read_symlink("/proc/self/exe", error);
  return program.parent_path().parent_path() / "share" / "portweigh" / "catalog";
}

}  // namespace portweigh::cli

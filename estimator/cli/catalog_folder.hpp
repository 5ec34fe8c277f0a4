// Where the catalog is that came with the program.
#pragma once

#include <filesystem>

namespace portweigh::cli {

// The source tree's catalog where it exists, otherwise share/portweigh/catalog beside the program's folder.
std::filesystem::path default_catalog_folder();

}  // namespace portweigh::cli

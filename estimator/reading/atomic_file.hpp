// Writes a file whole or not at all: into a temporary file of the same folder, then renamed over the target.
//
// A reader, or a run that is killed, never sees half a file. Parent folders must exist.
// A device or pipe is written directly; behind a symbolic link the file itself is replaced.
// Tested by tests/reading/atomic_file_test.cpp.
#pragma once

#include <filesystem>
#include <string_view>

namespace portweigh::reading {

// FileError if the folder can't be written, the disk is full, or the target can't be replaced; the target is
// then as it was before and no temporary file is left.
void write_file_atomically(const std::filesystem::path& path, std::string_view content);

}  // namespace portweigh::reading

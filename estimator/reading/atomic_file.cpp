#include "reading/atomic_file.hpp"

#include <fcntl.h>
#include <fmt/core.h>
#include <unistd.h>

#include <cerrno>
#include <string>
#include <system_error>

#include "reading/diagnostic.hpp"

namespace portweigh::reading {
namespace {

[[noreturn]] void refuse(const std::filesystem::path& target, int code) {
  throw FileError(
      fmt::format("{}: cannot write: {}", target.string(), std::generic_category().message(code)));
}

// An open file for writing; closed at the latest when it goes.
class OpenFile {
 public:
  OpenFile(const std::string& path, int flags)
      : handle_(::open(path.c_str(), flags | O_WRONLY | O_CLOEXEC, 0666)) {}
  OpenFile(const OpenFile&) = delete;
  OpenFile& operator=(const OpenFile&) = delete;
  ~OpenFile() {
    if (handle_ >= 0) ::close(handle_);
  }

  [[nodiscard]] bool is_open() const { return handle_ >= 0; }

  void write(std::string_view content, const std::filesystem::path& target) const {
    while (!content.empty()) {
      const auto written = ::write(handle_, content.data(), content.size());
      if (written < 0 && errno == EINTR) continue;
      if (written < 0) refuse(target, errno);
      content.remove_prefix(static_cast<std::size_t>(written));
    }
  }

  void close(const std::filesystem::path& target) {
    const int result = ::close(handle_);
    handle_ = -1;
    if (result != 0) refuse(target, errno);
  }

 private:
  int handle_;
};

// Deletes the temporary file unless it became the target.
class TemporaryName {
 public:
  explicit TemporaryName(std::string path) : path_(std::move(path)) {}
  TemporaryName(const TemporaryName&) = delete;
  TemporaryName& operator=(const TemporaryName&) = delete;
  ~TemporaryName() {
    if (!path_.empty()) ::unlink(path_.c_str());
  }

  void become(const std::filesystem::path& target) {
    if (::rename(path_.c_str(), target.c_str()) != 0) refuse(target, errno);
    path_.clear();
  }

 private:
  std::string path_;
};

void write_and_rename(const std::filesystem::path& target, std::string_view content) {
  // O_EXCL finds a name that no other writer of this file, in this process or another, uses at the moment.
  constexpr int most_attempts = 100;
  for (int attempt = 0; attempt < most_attempts; ++attempt) {
    const auto path = fmt::format("{}.{}-{}.part", target.string(), ::getpid(), attempt);
    OpenFile file(path, O_CREAT | O_EXCL);
    if (!file.is_open() && errno == EEXIST) continue;
    if (!file.is_open()) refuse(target, errno);
    TemporaryName temporary(path);
    file.write(content, target);
    file.close(target);
    temporary.become(target);
    return;
  }
  refuse(target, EEXIST);
}

}  // namespace

void write_file_atomically(const std::filesystem::path& path, std::string_view content) {
  std::error_code error;
  const auto status = std::filesystem::status(path, error);
  if (std::filesystem::is_other(status)) {
    // A device or a pipe (/dev/stdout) must not be replaced by a file.
    OpenFile file(path.string(), 0);
    if (!file.is_open()) refuse(path, errno);
    file.write(content, path);
    file.close(path);
    return;
  }
  // Through a symbolic link the file it points at is replaced, not the link.
  const auto target =
      std::filesystem::is_regular_file(status) ? std::filesystem::canonical(path, error) : path;
  write_and_rename(error ? path : target, content);
}

}  // namespace portweigh::reading

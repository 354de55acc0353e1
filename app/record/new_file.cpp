#include "record/new_file.h"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <stdlib.h>
#include <system_error>
#include <unistd.h>
#include <utility>

namespace record {

namespace {

namespace fs = std::filesystem;

Error failed(const fs::path& path, int system_error) {
  if (system_error == ENOSPC || system_error == EDQUOT)
    return {"store-failed", fmt::format("the disk is full: {} was not made; make room and try again", path.native())};
  return {"store-failed",
          fmt::format("{} cannot be made: {}", path.native(), std::generic_category().message(system_error))};
}

Error name_taken(const fs::path& path) {
  return {"store-exists", fmt::format("{} is there already and stays as it is: choose another name", path.native())};
}

// 0, or what the system says. Some file systems do not take fsync of a folder and say EINVAL.
int sync(const fs::path& path, int flags) {
  const int file = ::open(path.c_str(), O_RDONLY | O_CLOEXEC | flags);
  if (file < 0) return errno;
  const bool folder = (flags & O_DIRECTORY) != 0;
  const int told = ::fsync(file) == 0 || (folder && errno == EINVAL) ? 0 : errno;
  ::close(file);
  return told;
}

// 0, or what the system says: EEXIST when the new name is taken. A network file system may not know such a rename.
int rename_to_free_name(const fs::path& from, const fs::path& to) {
  if (::renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) return 0;
  if (errno != EINVAL) return errno;
  if (::link(from.c_str(), to.c_str()) != 0) return errno;
  ::unlink(from.c_str());
  return 0;
}

} // namespace

NewFile::NewFile(fs::path path, fs::path target) : path_(std::move(path)), target_(std::move(target)) {}

NewFile::NewFile(NewFile&& other) noexcept : path_(std::exchange(other.path_, {})), target_(std::move(other.target_)) {}

NewFile::~NewFile() {
  if (path_.empty()) return;
  ::unlink(path_.c_str());
  ::unlink((path_.native() + "-journal").c_str());
}

Result<NewFile> NewFile::for_target(const fs::path& target) {
  std::error_code error;
  if (fs::exists(fs::symlink_status(target, error))) return name_taken(target);
  const fs::path folder = fs::canonical(fs::absolute(target).parent_path(), error);
  if (error) return failed(target, error.value());
  std::string name = (folder / ".witnessmark-XXXXXX").native();
  const int file = ::mkostemp(name.data(), O_CLOEXEC);
  if (file < 0) return failed(target, errno);
  ::close(file);
  return NewFile(name, folder / target.filename());
}

Result<void> NewFile::to_disk() const {
  if (const int told = sync(path_, 0)) return failed(target_, told);
  return {};
}

Result<void> NewFile::take_name() {
  const int told = rename_to_free_name(path_, target_);
  if (told == EEXIST) return name_taken(target_);
  if (told != 0) return failed(target_, told);
  path_.clear();
  if (const int folder_told = sync(target_.parent_path(), O_DIRECTORY)) return failed(target_, folder_told);
  return {};
}

} // namespace record

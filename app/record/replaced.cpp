#include "record/replaced.h"

#include "json/read.h"

#include <fmt/format.h>

#include <cerrno>
#include <cstdio>
#include <fcntl.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <system_error>
#include <unistd.h>

namespace record {

namespace {

namespace fs = std::filesystem;
using quantity::Error;
using quantity::Result;

Error not_saved(const fs::path& file, int system_error) {
  const bool full = system_error == ENOSPC || system_error == EDQUOT || system_error == EFBIG;
  return {"store-failed",
          full ? fmt::format("the disk is full: {} stays as it was; make room and try again", file.native())
               : fmt::format("{} cannot be saved and stays as it was: {}", file.native(),
                             std::generic_category().message(system_error))};
}

// 0, or what the system says.
int write_all(int to, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t put = ::write(to, bytes.data(), bytes.size());
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return errno;
    bytes.remove_prefix(static_cast<std::size_t>(put));
  }
  return 0;
}

// A file beside the other one that goes away again unless it took its name.
class Beside {
public:
  explicit Beside(const fs::path& file) : name_((file.parent_path() / ".witnessmark-XXXXXX").native()) {
    number_ = ::mkostemp(name_.data(), O_CLOEXEC);
  }
  ~Beside() {
    if (number_ < 0) return;
    ::close(number_);
    if (!taken_) ::unlink(name_.c_str());
  }
  Beside(const Beside&) = delete;
  Beside& operator=(const Beside&) = delete;

  int number() const { return number_; }
  int take(const fs::path& name) {
    if (::rename(name_.c_str(), name.c_str()) != 0) return errno;
    taken_ = true;
    return 0;
  }

private:
  std::string name_;
  int number_ = -1;
  bool taken_ = false;
};

void sync_folder(const fs::path& folder) {
  const int number = ::open(folder.c_str(), O_RDONLY | O_CLOEXEC | O_DIRECTORY);
  if (number < 0) return;
  ::fsync(number); // the new name is there already; some file systems do not take this
  ::close(number);
}

} // namespace

Result<void> replace_file(const fs::path& file, std::string_view old, std::string_view fresh) {
  std::error_code wrong;
  const fs::path path = fs::canonical(file, wrong);
  if (wrong) return not_saved(file, wrong.value());
  struct stat state {};
  if (::stat(path.c_str(), &state) != 0) return not_saved(file, errno);
  if (::access(path.c_str(), W_OK) != 0) return not_saved(file, errno);
  Beside beside(path);
  if (beside.number() < 0) return not_saved(file, errno);
  if (const int told = write_all(beside.number(), fresh)) return not_saved(file, told);
  if (::fchmod(beside.number(), state.st_mode & 07777) != 0) return not_saved(file, errno);
  if (::fsync(beside.number()) != 0) return not_saved(file, errno);
  const auto now = json::read_file(path);
  if (!now) return now.error();
  if (*now != old)
    return Error{
        "changed-meanwhile",
        fmt::format("{} was changed by something else in the meantime and stays as it is; try again", file.native())};
  if (const int told = beside.take(path)) return not_saved(file, told);
  sync_folder(path.parent_path());
  return {};
}

} // namespace record

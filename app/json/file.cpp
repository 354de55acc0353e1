#include "json/read.h"
#include "json/utf8.h"

#include <fmt/format.h>

#include <cerrno>
#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

namespace json {

namespace {

std::string size_text(std::size_t bytes) {
  constexpr std::size_t megabyte = std::size_t{1} << 20;
  return bytes % megabyte ? fmt::format("{} bytes", bytes) : fmt::format("{} MB", bytes / megabyte);
}

class Descriptor {
public:
  explicit Descriptor(const std::filesystem::path& path)
      : number_(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK | O_NOCTTY)) {}
  ~Descriptor() {
    if (number_ >= 0) ::close(number_);
  }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int number() const { return number_; }

private:
  int number_;
};

} // namespace

Result<std::string> read_file(const std::filesystem::path& path, std::size_t largest) {
  const auto unreadable = [&](std::string_view why) {
    return Error{"unreadable", fmt::format("{} cannot be read: {}", shown(path.native(), path.native().size()), why)};
  };
  const auto system_says = [](int error) { return std::generic_category().message(error); };
  const Descriptor file(path);
  if (file.number() < 0) return unreadable(errno == ENOENT ? "there is no such file" : system_says(errno));
  struct stat state {};
  if (::fstat(file.number(), &state) != 0) return unreadable(system_says(errno));
  if (S_ISDIR(state.st_mode)) return unreadable("it is a folder; name a file in it");
  if (!S_ISREG(state.st_mode)) return unreadable("it is a device or a pipe, not a file; save it as a file first");

  std::string content;
  std::string piece(std::size_t{64} << 10, '\0');
  while (true) {
    const ssize_t got = ::read(file.number(), piece.data(), piece.size());
    if (got < 0 && errno == EINTR) continue;
    if (got < 0) return unreadable(system_says(errno));
    if (got == 0) return content;
    content.append(piece, 0, static_cast<std::size_t>(got));
    if (content.size() > largest)
      return unreadable(fmt::format("it is larger than {}; is it the right file?", size_text(largest)));
  }
}

} // namespace json

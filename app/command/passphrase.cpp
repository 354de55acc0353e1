#include "command/passphrase.h"

#include <iostream>
#include <termios.h>
#include <unistd.h>

namespace command {

namespace {

// What is typed is not shown while it lives.
class Unseen {
public:
  Unseen() : changed_(tcgetattr(STDIN_FILENO, &before_) == 0) {
    if (!changed_) return;
    termios unseen = before_;
    unseen.c_lflag &= ~static_cast<tcflag_t>(ECHO);
    tcsetattr(STDIN_FILENO, TCSAFLUSH, &unseen);
  }
  ~Unseen() {
    if (changed_) tcsetattr(STDIN_FILENO, TCSAFLUSH, &before_);
  }
  Unseen(const Unseen&) = delete;
  Unseen& operator=(const Unseen&) = delete;

private:
  termios before_{};
  bool changed_;
};

std::string first_line(std::istream& in) {
  constexpr std::size_t longest = 4096;
  std::string line;
  line.reserve(longest); // so that it is never moved, and no copy left behind
  for (char byte = 0; line.size() < longest && in.get(byte) && byte != '\n';) line.push_back(byte);
  if (!line.empty() && line.back() == '\r') line.pop_back();
  return line;
}

} // namespace

std::string asked_passphrase(const Streams& streams, std::string_view prompt) {
  if (&streams.in != &std::cin || isatty(STDIN_FILENO) == 0) return first_line(streams.in);
  const Unseen unseen;
  streams.err << prompt << std::flush;
  std::string line = first_line(streams.in);
  streams.err << '\n';
  return line;
}

} // namespace command

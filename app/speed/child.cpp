#include "speed/child.h"

#include "record/stopwatch.h"
#include "speed/yard.h"

#include <fmt/format.h>

#include <cstdlib>
#include <fcntl.h>
#include <fstream>
#include <poll.h>
#include <signal.h>
#include <spawn.h>
#include <sstream>
#include <stdexcept>
#include <sys/wait.h>
#include <unistd.h>

namespace speed {

namespace {

struct Pipe {
  Pipe() {
    int both[2];
    if (pipe2(both, O_CLOEXEC) != 0) throw std::runtime_error("the system gives no pipe");
    read = both[0];
    write = both[1];
  }
  int read = -1, write = -1;
};

std::vector<char*> pointers(std::vector<std::string>& texts) {
  std::vector<char*> out;
  for (std::string& text : texts) out.push_back(text.data());
  out.push_back(nullptr);
  return out;
}

// Our environment, with `more` in place of what has the same names.
std::vector<std::string> environment_with(const std::vector<std::string>& more) {
  std::vector<std::string> out = more;
  for (char** one = environ; *one; ++one) {
    const std::string variable = *one;
    const std::string name = variable.substr(0, variable.find('=') + 1);
    bool replaced = false;
    for (const std::string& other : more) replaced = replaced || other.starts_with(name);
    if (!replaced) out.push_back(variable);
  }
  return out;
}

bool set_in_the_environment(const char* name) {
  const char* const value = std::getenv(name);
  return value != nullptr && *value != '\0';
}

} // namespace

Child::Child(const std::vector<std::string>& command, const std::vector<std::string>& more) {
  const Pipe to;
  const Pipe from;
  posix_spawn_file_actions_t files;
  posix_spawn_file_actions_init(&files);
  posix_spawn_file_actions_adddup2(&files, to.read, 0);
  posix_spawn_file_actions_adddup2(&files, from.write, 1);
  posix_spawn_file_actions_addopen(&files, 2, "/dev/null", O_WRONLY, 0);
  std::vector<std::string> words = command;
  std::vector<std::string> variables = environment_with(more);
  const int failed = posix_spawnp(&process_, words.front().c_str(), &files, nullptr, pointers(words).data(),
                                  pointers(variables).data());
  posix_spawn_file_actions_destroy(&files);
  close(to.read);
  close(from.write);
  to_ = to.write;
  from_ = from.read;
  if (failed == 0) return;
  close(to_);
  close(from_);
  throw std::runtime_error(fmt::format("{} cannot be started", command.front()));
}

Child::~Child() {
  close(to_);
  close(from_);
  kill(process_, SIGTERM);
  waitpid(process_, nullptr, 0);
}

void Child::say(const std::string& line) const {
  const std::string bytes = line + '\n';
  if (write(to_, bytes.data(), bytes.size()) != static_cast<ssize_t>(bytes.size()))
    throw std::runtime_error("a program that was started does not listen");
}

std::optional<std::string> Child::line(double seconds) const {
  const record::Stopwatch watch;
  std::string out;
  while (true) {
    pollfd ready{from_, POLLIN, 0};
    const double left = seconds - watch.seconds();
    if (left <= 0 || poll(&ready, 1, static_cast<int>(1000 * left) + 1) <= 0) return std::nullopt;
    char byte = 0;
    if (read(from_, &byte, 1) != 1) return std::nullopt;
    if (byte == '\n') return out;
    out += byte;
  }
}

// proc(5): utime and stime are the 14th and 15th of the words in stat; the second, in brackets, may hold blanks.
double Child::used() const {
  std::ifstream in(fmt::format("/proc/{}/stat", process_));
  std::string all;
  std::getline(in, all);
  std::istringstream rest(all.substr(std::min(all.rfind(')') + 2, all.size())));
  std::string word;
  double ticks = 0;
  for (int number = 3; number <= 15 && rest >> word; ++number)
    if (number >= 14) ticks += std::stod(word);
  return ticks / static_cast<double>(sysconf(_SC_CLK_TCK));
}

double Child::memory() const {
  return resident(std::to_string(process_));
}

Display::Display() {
  there_ = set_in_the_environment("DISPLAY") || set_in_the_environment("WAYLAND_DISPLAY");
  if (there_) return;
  try {
    server_.emplace(std::vector<std::string>{"Xvfb", "-displayfd", "1", "-screen", "0", "1400x900x24", "-nolisten",
                                             "tcp", "-noreset"});
  } catch (const std::runtime_error&) {
    return;
  }
  constexpr double long_enough = 20; // s
  const auto number = server_->line(long_enough);
  there_ = number.has_value();
  if (there_) environment_ = {"DISPLAY=:" + *number};
}

} // namespace speed

// Another program, started to be measured: what it says, what it has used of a core, how much memory it holds. It is
// ended when this goes.
#pragma once

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace speed {

class Child {
public:
  // `more` are variables of the environment, "NAME=value", besides our own. std::runtime_error when it cannot be
  // started.
  explicit Child(const std::vector<std::string>& command, const std::vector<std::string>& more = {});
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  void say(const std::string& line) const;
  std::optional<std::string> line(double seconds) const; // of its stdout; none when it says none in that time, or ends
  double used() const;                                   // seconds of a core since it began
  double memory() const;                                 // bytes

private:
  int process_ = 0;
  int to_ = -1;
  int from_ = -1;
};

// A display: the one there is, or one that nobody sees, when the system can make one.
class Display {
public:
  Display();
  bool there() const { return there_; }
  const std::vector<std::string>& environment() const { return environment_; }

private:
  bool there_ = false;
  std::vector<std::string> environment_;
  std::optional<Child> server_;
};

} // namespace speed

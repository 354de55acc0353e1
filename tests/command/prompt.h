// What the tests of the commands share: the program called as from a prompt, and a folder that goes away.
#pragma once

#include "command/command.h"

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace prompt {

struct Said {
  int exit = 0;
  std::string out;
  std::string err;
  std::vector<std::string> lines() const; // of out
};

Said call(const std::vector<std::string>& arguments, std::string_view input = "");

// Exit status 2, nothing on stdout, one line on stderr that starts "error: " and holds `part`.
void check_refused(const Said& said, std::string_view part);

class Folder {
public:
  Folder();
  ~Folder();
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::string operator/(std::string_view name) const { return (path_ / name).native(); }

private:
  std::filesystem::path path_;
};

std::string content(const std::string& path);
void write(const std::string& path, std::string_view content);

} // namespace prompt

#include "command/prompt.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>
#include <sstream>
#include <stdlib.h>

namespace prompt {

namespace fs = std::filesystem;

std::vector<std::string> Said::lines() const {
  std::vector<std::string> all;
  std::istringstream text(out);
  for (std::string line; std::getline(text, line);) all.push_back(line);
  return all;
}

Said call(const std::vector<std::string>& arguments, std::string_view input) {
  std::istringstream in{std::string(input)};
  std::ostringstream out;
  std::ostringstream err;
  const int exit = command::run(arguments, {in, out, err});
  return {exit, out.str(), err.str()};
}

void check_refused(const Said& said, std::string_view part) {
  CAPTURE(said.out, said.err);
  CHECK(said.exit == 2);
  CHECK(said.out == "");
  CHECK(said.err.starts_with("error: "));
  CHECK(said.err.ends_with('\n'));
  CHECK(std::ranges::count(said.err, '\n') == 1);
  CHECK_THAT(said.err, Catch::Contains(std::string(part)));
}

Folder::Folder() {
  std::string name = (fs::temp_directory_path() / "witnessmark-test-XXXXXX").native();
  REQUIRE(::mkdtemp(name.data()) != nullptr);
  path_ = fs::canonical(name);
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

std::string content(const std::string& path) {
  std::ostringstream text;
  text << std::ifstream(path, std::ios::binary).rdbuf();
  return text.str();
}

void write(const std::string& path, std::string_view content) {
  std::ofstream(path, std::ios::binary) << content;
}

} // namespace prompt

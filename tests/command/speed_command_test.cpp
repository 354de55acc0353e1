#include "command/prompt.h"

#include <catch2/catch.hpp>

#include <filesystem>

using prompt::call;
using prompt::check_refused;
using prompt::Folder;
using prompt::Said;

TEST_CASE("one group is measured in the folder that is named, and nothing is left there") {
  const Folder folder;
  const Said said = call({"speed", "--quick", "--only", "flatness", "--in", folder / "disk"});
  CHECK(said.exit == 0);
  REQUIRE(said.lines().size() == 2);
  CHECK_THAT(said.lines()[0], Catch::StartsWith("what") && Catch::EndsWith("verdict"));
  CHECK_THAT(said.lines()[1], Catch::StartsWith("minimum-zone flatness of 2,000 points") && Catch::Contains(" ms "));
  CHECK(std::filesystem::is_empty(folder / "disk"));
}

TEST_CASE("the table comes as Markdown when that is wanted") {
  const Folder folder;
  const Said said = call({"speed", "--quick", "--only", "flatness", "--markdown", "--in", folder / "disk"});
  CHECK(said.lines().at(0) == "| what | ours | floor | compared | wanted | verdict |");
  CHECK(said.lines().at(1) == "|---|--:|--:|--:|--:|---|");
}

TEST_CASE("a group that there is not is refused") {
  const Folder folder;
  check_refused(call({"speed", "--only", "teapots", "--in", folder / "disk"}), "nothing that is measured is called");
}

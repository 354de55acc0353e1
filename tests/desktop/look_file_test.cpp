#include "desktop/look_file.h"

#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>
#include <random>

namespace {

namespace fs = std::filesystem;

struct Folder {
  fs::path path = fs::temp_directory_path() / ("witnessmark-look-" + std::to_string(std::random_device()()));
  Folder() { fs::create_directories(path); }
  ~Folder() {
    std::error_code ignored;
    fs::permissions(path, fs::perms::owner_all, ignored);
    fs::remove_all(path, ignored);
  }
};

bench::Look dark_and_large() {
  bench::Look look;
  look.theme = "dark";
  look.text = 150;
  look.inches = true;
  return look;
}

std::string in(const fs::path& file) {
  std::ifstream stream(file);
  return {std::istreambuf_iterator<char>(stream), {}};
}

} // namespace

// XDG Base Directory Specification 0.8: "If $XDG_CONFIG_HOME is either not set or empty, a default equal to
// $HOME/.config should be used"; a relative path is invalid and to be ignored.
TEST_CASE("the look is kept in the folder for settings") {
  CHECK(desktop::look_file("/settings", "/ada") == "/settings/witnessmark/look.json");
  CHECK(desktop::look_file(nullptr, "/ada") == "/ada/.config/witnessmark/look.json");
  CHECK(desktop::look_file("", "/ada") == "/ada/.config/witnessmark/look.json");
  CHECK(desktop::look_file("settings", "/ada") == "/ada/.config/witnessmark/look.json");
  CHECK(desktop::look_file(nullptr, nullptr).empty());
  CHECK(desktop::look_file(nullptr, "").empty());
}

TEST_CASE("a look comes back as it was kept, and nothing else is left beside it") {
  const Folder folder;
  const fs::path file = folder.path / "not" / "there" / "look.json";
  REQUIRE(desktop::keep_look(dark_and_large(), file));
  CHECK(*desktop::read_look_file(file) == dark_and_large());
  REQUIRE(desktop::keep_look(bench::Look(), file)); // in the place of the first
  CHECK(*desktop::read_look_file(file) == bench::Look());
  CHECK(std::distance(fs::directory_iterator(file.parent_path()), {}) == 1);
}

TEST_CASE("without a file, or a folder for it, the look is the usual one") {
  const Folder folder;
  CHECK(*desktop::read_look_file(folder.path / "look.json") == bench::Look());
  CHECK(*desktop::read_look_file("") == bench::Look());
}

TEST_CASE("a damaged file of the look is told in a sentence that names it, and left alone") {
  const Folder folder;
  const fs::path file = folder.path / "look.json";
  for (const std::string& text : {std::string("{\"theme\": \"da"), std::string("\xFF\xFE"), std::string(20'000, ' ')}) {
    std::ofstream(file) << text;
    const auto read = desktop::read_look_file(file);
    REQUIRE_FALSE(read.ok());
    CHECK(read.error().code == "look-unreadable");
    CHECK_THAT(read.error().message, Catch::Contains("look.json") && Catch::Contains("as it does at first"));
    CHECK(in(file) == text);
  }
  fs::remove(file);
  fs::create_directories(file); // a folder in its place
  CHECK_FALSE(desktop::read_look_file(file).ok());
  CHECK(desktop::keep_look(bench::Look(), file).error().code == "look-not-kept");
  CHECK(std::distance(fs::directory_iterator(folder.path), {}) == 1);
}

TEST_CASE("a look that cannot be written leaves the one before as it was") {
  const Folder folder;
  const fs::path file = folder.path / "look.json";
  REQUIRE(desktop::keep_look(dark_and_large(), file));
  // What would be written first is a folder already.
  fs::create_directories(folder.path / "look.json.new" / "in-the-way");
  const auto kept = desktop::keep_look(bench::Look(), file);
  REQUIRE_FALSE(kept.ok());
  CHECK(kept.error().code == "look-not-kept");
  CHECK_THAT(kept.error().message, Catch::Contains("look.json") && Catch::Contains("until the window is closed"));
  CHECK(*desktop::read_look_file(file) == dark_and_large());
}

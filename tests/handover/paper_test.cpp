#include "handover/fontconfig_keeps.h"
#include "handover/paper.h"

#include <catch2/catch.hpp>

#include <filesystem>
#include <fstream>

namespace {

class Folder {
public:
  Folder() : path_(std::filesystem::temp_directory_path() / "witnessmark-paper-test") {
    std::filesystem::create_directories(path_);
  }
  ~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  std::filesystem::path file(const char* name) const { return path_ / name; }

private:
  std::filesystem::path path_;
};

} // namespace

TEST_CASE("a page is written, and a file of that name is replaced") {
  const Folder folder;
  std::ofstream(folder.file("page.pdf")) << "something else";
  auto paper = handover::Paper::open(folder.file("page.pdf"));
  REQUIRE(paper);
  paper->text(20, 20, "Narrowboat Marigold", 5);
  REQUIRE(paper->close());
  std::ifstream file(folder.file("page.pdf"));
  std::string first;
  std::getline(file, first);
  CHECK(first.rfind("%PDF-1.", 0) == 0);
}

TEST_CASE("a folder that is not there is said to be the reason") {
  const Folder folder;
  const auto paper = handover::Paper::open(folder.file("none/page.pdf"));
  REQUIRE_FALSE(paper);
  CHECK(paper.error().code == "not-written");
  CHECK(paper.error().message.find("page.pdf could not be written") != std::string::npos);
}

TEST_CASE("a full disk is noticed when the file is closed") {
  auto paper = handover::Paper::open("/dev/full"); // a device of Linux that never has room
  REQUIRE(paper);
  paper->text(20, 20, "Narrowboat Marigold", 5);
  const auto closed = paper->close();
  REQUIRE_FALSE(closed);
  CHECK(closed.error().code == "not-written");
}

TEST_CASE("bold letters are wider, and the width grows with the height") {
  const Folder folder;
  const auto paper = handover::Paper::open(folder.file("page.pdf"));
  REQUIRE(paper);
  const double plain = paper->width_of("HX4-150", 5);
  CHECK(plain > 5);
  CHECK(paper->width_of("HX4-150", 5, handover::Weight::strong) > plain);
  CHECK(paper->width_of("HX4-150", 10) == Approx(2 * plain).epsilon(0.01));
}

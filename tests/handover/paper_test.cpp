#include "handover/fontconfig_keeps.h"
#include "handover/paper.h"
#include "handover/reader.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <set>

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

namespace {

const std::string long_words = "Fit the upper big-end shell with its tang in the groove of the rod, then the rod over "
                               "the crankpin, and the cap with the number on the side of the oil gallery; 25 \u00B5m.";

// The same words at widths, sizes and weights of their own; how tall each came out.
std::vector<double> in_many_ways(handover::Paper& paper) {
  std::vector<double> out;
  double y = 10;
  for (const double width : {30.0, 60.0})
    for (const double height : {2.5, 3.5})
      for (const auto weight : {handover::Weight::plain, handover::Weight::strong}) {
        out.push_back(paper.paragraph(10, y, width, long_words, height, weight));
        y += 30;
      }
  return out;
}

// The darkest and the lightest grey of a page, 0 to 255.
std::pair<int, int> greys(const std::string& pdf, int page) {
  const auto number = std::to_string(page);
  const std::string picture = reader::said("pdftoppm -r 36 -gray -f " + number + " -l " + number + " FILE", pdf);
  REQUIRE(picture.size() > 1000);
  const auto [low, high] = std::minmax_element(picture.end() - 1000, picture.end(), [](char a, char b) {
    return static_cast<unsigned char>(a) < static_cast<unsigned char>(b);
  });
  return {static_cast<unsigned char>(*low), static_cast<unsigned char>(*high)};
}

} // namespace

TEST_CASE("what was measured before is drawn as if it had not been, at every width, size and weight") {
  auto measuring = handover::Paper::for_measuring();
  const auto measured = in_many_ways(measuring);
  auto known = handover::Paper::in_memory(measuring);
  auto fresh = handover::Paper::in_memory();
  CHECK(in_many_ways(known) == measured);
  CHECK(in_many_ways(fresh) == measured);
  CHECK(in_many_ways(known) == measured); // once more, from what is there by now
  in_many_ways(fresh);
  REQUIRE(known.close());
  REQUIRE(fresh.close());
  CHECK(known.bytes() == fresh.bytes());
  CHECK(std::set<double>(measured.begin(), measured.end()).size() > 4);
}

TEST_CASE("lines and boxes stand on the page they were drawn on, lines over boxes") {
  auto paper = handover::Paper::in_memory();
  paper.line(0, 290, handover::page_width, 290, 10);
  paper.box(0, 280, handover::page_width, 17, drawing::Tone::metal);
  paper.next_page();
  paper.next_page();
  paper.box(0, 280, handover::page_width, 17, drawing::Tone::metal);
  REQUIRE(paper.close());
  CHECK(greys(paper.bytes(), 1).first < 10);
  CHECK(greys(paper.bytes(), 2) == std::pair{255, 255});
  const auto [low, high] = greys(paper.bytes(), 3);
  CHECK(low == high);
  CHECK(low > 190);
  CHECK(low < 225);
}

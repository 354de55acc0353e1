// Photographs laid beside an entry or a finding by keyboard or by dropping the file, counted and looked at.
#include "bench/screen.h"

#include "record/owned.h"

#include <catch2/catch.hpp>

#include <gdk-pixbuf/gdk-pixbuf.h>

#include <filesystem>
#include <fstream>
#include <stdlib.h>

namespace {

constexpr int f2 = bench::key::f1 + 1;
constexpr int f5 = bench::key::f1 + 4;
constexpr int f10 = bench::key::f1 + 9;
constexpr int f8 = bench::key::f1 + 7;

struct Bench : Screen {
  Bench() {
    std::string name = (std::filesystem::temp_directory_path() / "witnessmark-photographs-XXXXXX").native();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    folder = name;
    window->show_photographs_by([this](const handover::Pixels& pixels) {
      uploaded.push_back(pixels);
      return static_cast<void*>(&uploaded);
    });
    sign_in();
    press(f5); // notices read
  }
  ~Bench() {
    std::error_code ignored;
    std::filesystem::remove_all(folder, ignored);
  }
  Bench(const Bench&) = delete;
  Bench& operator=(const Bench&) = delete;

  // A picture of one colour, made by gdk-pixbuf itself.
  std::string picture(const std::string& name, int width, int height, unsigned colour, const char* kind = "png") {
    const record::Owned<GdkPixbuf, g_object_unref> made(gdk_pixbuf_new(GDK_COLORSPACE_RGB, FALSE, 8, width, height));
    gdk_pixbuf_fill(made.get(), colour);
    const std::string path = (folder / name).string();
    REQUIRE(gdk_pixbuf_save(made.get(), path.c_str(), kind, nullptr, nullptr));
    return path;
  }

  void drop(const std::vector<std::string>& paths) {
    window->dropped(paths);
    frame();
  }

  const std::vector<build::Photograph>& kept() const { return build().photographs; }

  std::filesystem::path folder;
  std::vector<handover::Pixels> uploaded;
};

} // namespace

TEST_CASE("a photograph is laid beside the entry at work by its path, and the entry says how many it has") {
  Bench bench;
  const std::string path = bench.picture("galleries.jpg", 64, 48, 0x80604000, "jpeg");
  bench.press_with_shift(f5);
  CHECK(bench.shows("The photograph's file"));
  bench.enter(path);
  REQUIRE(bench.kept().size() == 1);
  CHECK(bench.kept()[0].at->entry == *bench.build().plan->find_entry(0, "block-faces"));
  CHECK(bench.kept()[0].media == "image/jpeg");
  CHECK(bench.shows("The photograph is laid beside it."));
  CHECK(bench.shows("Look at 1 photograph   [Shift F10]"));
}

TEST_CASE("Shift F5 asks for a photograph, and does not say that the notices are read, as F5 does") {
  Screen screen;
  screen.sign_in();
  screen.press_with_shift(f5);
  CHECK(screen.shows("The photograph's file"));
  CHECK(screen.build().step(0).acknowledged.empty());
}

TEST_CASE("files dropped on the sheet are attached one after the other, and what is half typed stays") {
  Bench bench;
  bench.press(bench::key::digit_0 + 2); // the faces: burrs stoned off
  bench.type("C-22");
  bench.drop({bench.picture("a.png", 8, 6, 0x10203000), bench.picture("b.png", 8, 6, 0x40506000)});
  REQUIRE(bench.kept().size() == 2);
  CHECK(bench.kept()[1].at == build::EntryAt{0, *bench.build().plan->find_entry(0, "crank-number")});
  bench.enter("06");
  CHECK(bench.entry("wash-inspect", "crank-number").text == "C-2206");
}

TEST_CASE("what is no photograph is refused in a sentence, and those dropped behind it are named as not attached") {
  Bench bench;
  const std::string text = (bench.folder / "note.txt").string();
  std::ofstream(text) << "not a picture";
  bench.drop({text, bench.picture("a.png", 8, 6, 0x10203000)});
  CHECK(bench.kept().empty());
  CHECK(bench.shows("a JPEG or PNG file is wanted. 1 more were dropped and are not attached."));
  bench.press_with_shift(f5);
  bench.enter((bench.folder / "nowhere.png").string());
  CHECK(bench.kept().empty());
  CHECK(bench.shows("nowhere.png"));
  std::ofstream(text, std::ios::app) << std::string((20u << 20) + 1, 'x');
  bench.drop({text});
  CHECK(bench.kept().empty());
  CHECK(bench.shows("20"));
}

TEST_CASE("on the findings a photograph goes to the one that is chosen") {
  Bench bench;
  bench.press_with_shift(f8);
  bench.press(bench::key::enter); // whichever part stands first
  for (int question = 0; question < 2 && !bench.shows("What was found, in words"); ++question)
    bench.press(bench::key::digit_0 + 1);
  if (bench.shows("What was found, in words")) bench.enter("chipped");
  bench.enter("");
  bench.enter("");
  REQUIRE(bench.build().findings.size() == 1);
  bench.press_with_shift(f2);
  bench.drop({bench.picture("chip.png", 8, 6, 0x10203000)});
  bench.press_with_shift(f5);
  bench.enter(bench.picture("chip-2.png", 8, 6, 0x40506000));
  REQUIRE(bench.kept().size() == 2);
  for (const auto& one : bench.kept()) CHECK(one.finding == "f1");
  CHECK(bench.shows("Look at 2 photographs"));
  bench.press_with_shift(f10);
  CHECK(bench.shows("1 of 2, by Ivo Tarrant"));
  bench.press(bench::key::escape);
  CHECK(bench.shows("Look at 2 photographs"));
}

TEST_CASE("photographs are shown one at a time in their own colours, no larger than the window") {
  Bench bench;
  bench.drop({bench.picture("a.png", 3000, 1500, 0x10203000), bench.picture("b.png", 40, 30, 0xfe0000ff)});
  bench.press_with_shift(f10);
  CHECK(bench.shows("1 of 2"));
  CHECK(bench.shows("3000 x 1500 pixels"));
  CHECK(bench.shows("(photograph)"));
  REQUIRE(bench.uploaded.size() == 1);
  CHECK(bench.uploaded[0].width == 1280);
  CHECK(bench.uploaded[0].height == 640);
  CHECK(bench.uploaded[0].bytes[0] == 0x10);
  CHECK(bench.uploaded[0].bytes[1] == 0x20);
  CHECK(bench.uploaded[0].bytes[2] == 0x30);
  CHECK(bench.uploaded[0].bytes[3] == 0xff);
  bench.press(bench::key::right);
  CHECK(bench.shows("2 of 2"));
  REQUIRE(bench.uploaded.size() == 2);
  CHECK(bench.uploaded[1].width == 40); // not blown up
  CHECK(bench.uploaded[1].bytes[0] == 0xfe);
  bench.press(bench::key::left);
  CHECK(bench.shows("1 of 2"));
  bench.press(bench::key::escape);
  CHECK(bench.shows("Look at 2 photographs"));
  for (const auto& one : bench.drawn)
    if (one.text == "(photograph)") CHECK(one.high.y <= 800);
}

TEST_CASE("a file dropped where nothing can carry it leads to the sheet, with the reason") {
  Bench bench;
  bench.press(bench::key::f1 + 2); // the log
  bench.drop({bench.picture("a.png", 8, 6, 0x10203000)});
  CHECK(bench.kept().empty());
  CHECK(bench.shows("A photograph is dropped on the sheet"));
}

TEST_CASE("a photograph dropped while nobody is signed in is not attached, and the sheet says what is missing") {
  Bench bench;
  bench.press(bench::key::f1 + 10); // lock
  bench.drop({bench.picture("a.png", 8, 6, 0x10203000)});
  CHECK(bench.kept().empty());
  CHECK(bench.shows("Sign in first"));
}

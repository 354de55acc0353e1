#include "bench/demo_shop.h"
#include "bench/first_run.h"
#include "bench/screen.h"

#include "record/session.h"
#include "record/verify.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <chrono>
#include <thread>

using namespace bench;
namespace fs = std::filesystem;

namespace {

constexpr int f5 = key::f1 + 4;

std::vector<std::string> files(const Screen& screen) {
  std::vector<std::string> out;
  for (const auto& item : fs::directory_iterator(screen.desk->own_shop().parent_path()))
    out.push_back(item.path().filename().string());
  std::sort(out.begin(), out.end());
  return out;
}

// Frames until the demo is filled, or left.
void until_over(Screen& screen) {
  const auto began = std::chrono::steady_clock::now();
  while (screen.shows("is being put together") && std::chrono::steady_clock::now() - began < std::chrono::minutes(5)) {
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
    screen.frame();
  }
}

void set_up(Screen& screen) {
  screen.press(key::digit_0 + 1);
  screen.enter("ada");
  screen.enter("Ada Lorne");
  screen.enter("green withies");
  screen.enter("green withies");
  screen.enter("Lorne Engines");
  screen.enter("2 Wharf Lane");
  screen.press(f5);
}

} // namespace

TEST_CASE("an empty shop leads to the two things that can be done, and its file is not made by looking") {
  Screen screen(Screen::EmptyShop{});
  CHECK(screen.shows("Set up this shop   [1]"));
  CHECK(screen.shows("Look round the demo build   [2]"));
  CHECK(files(screen).empty());
}

TEST_CASE("from nothing to the first reading by keys alone") {
  Screen screen(Screen::EmptyShop{});
  set_up(screen);
  REQUIRE(screen.desk->signed_in());
  CHECK(screen.desk->signed_in()->name == "Ada Lorne");
  CHECK(screen.desk->shop().name == "Lorne Engines");
  CHECK(screen.desk->shop().address == "2 Wharf Lane");
  CHECK_FALSE(screen.desk->shop().one_person);
  CHECK(screen.shows("Open the first engine"));
  screen.press(key::insert);
  screen.type("short");
  for (int i = 0; i < 3; ++i) screen.press(key::enter);
  screen.enter("HX4-150-0731");
  screen.press(key::enter);
  screen.enter("Narrowboat Marigold");
  screen.enter("1043");
  REQUIRE(screen.desk->build());
  screen.press(f5); // notices
  screen.press(f5); // galleries
  screen.press(key::digit_0 + 2);
  screen.enter("C-2206");
  CHECK(screen.entry("wash-inspect", "crank-number").text == "C-2206");
}

TEST_CASE("the passphrase of a new shop is never drawn") {
  Screen screen(Screen::EmptyShop{});
  screen.press(key::digit_0 + 1);
  screen.enter("ada");
  screen.enter("Ada Lorne");
  screen.type("green withies");
  CHECK_FALSE(screen.shows("withies"));
  screen.press(key::enter);
  CHECK_FALSE(screen.shows("withies"));
  screen.type("green withers");
  CHECK_FALSE(screen.shows("wither"));
}

TEST_CASE("a slip in setting up is told under its field, keeps the rest, and makes no file") {
  Screen screen(Screen::EmptyShop{});
  screen.press(key::digit_0 + 1);
  screen.enter("Ada!");
  screen.enter("Ada Lorne");
  screen.enter("green withies");
  screen.enter("green withers");
  screen.enter("Lorne Engines");
  screen.press(f5);
  CHECK(screen.shows("The two passphrases differ"));
  for (int i = 0; i < 13; ++i) screen.press(key::backspace);
  screen.type("green withies");
  screen.press(f5);
  CHECK(screen.shows("\"Your short name\" must be at most 64 of a-z"));
  CHECK(files(screen).empty());
  for (int i = 0; i < 4; ++i) screen.press(key::backspace);
  screen.type("ada");
  screen.press(f5);
  CHECK(screen.desk->signed_in());
  CHECK(screen.desk->shop().name == "Lorne Engines");
}

TEST_CASE("too short a passphrase is told and sets nothing up") {
  Screen screen(Screen::EmptyShop{});
  screen.press(key::digit_0 + 1);
  screen.enter("ada");
  screen.enter("Ada Lorne");
  screen.enter("short");
  screen.enter("short");
  screen.enter("Lorne Engines");
  screen.press(f5);
  CHECK(screen.shows("A passphrase has 8 characters at least"));
  CHECK_FALSE(screen.desk->shop().exists());
}

TEST_CASE("whoever works alone says so once") {
  Screen screen(Screen::EmptyShop{});
  screen.press(key::digit_0 + 1);
  screen.enter("ada");
  screen.enter("Ada Lorne");
  screen.enter("green withies");
  screen.enter("green withies");
  screen.enter("Lorne Engines");
  screen.press(key::enter);
  screen.press(key::digit_0 + 1);
  screen.press(key::enter);
  CHECK(screen.desk->shop().one_person);
}

TEST_CASE("the demo is looked round in a practice shop that says so, and leads back to one's own") {
  Screen screen(Screen::EmptyShop{});
  screen.press(key::digit_0 + 2);
  REQUIRE(screen.desk->build());
  CHECK(screen.desk->shop().practice);
  CHECK(screen.build().id == "marigold");
  CHECK(screen.state("main-caps") != "signed"); // up to where it is to be signed
  CHECK(screen.desk->signed_in());
  CHECK(files(screen) == std::vector<std::string>{"practice.wm", "practice.wm-shm", "practice.wm-wal"});
  for (const int f : {1, 2, 3, 4, 9, 12}) {
    screen.press(key::f1 + f - 1);
    INFO(f);
    CHECK(screen.shows("PRACTICE, NOT A RECORD"));
    if (f == 9) screen.press(key::escape);
  }
  screen.press(key::f1);
  screen.press(key::home);
  CHECK(screen.shows("Set up this shop   [1]"));
  CHECK_FALSE(screen.desk->signed_in());
  CHECK_FALSE(screen.desk->build());
  screen.press(key::digit_0 + 2); // it is there still, and not played again
  REQUIRE(screen.desk->build());
}

TEST_CASE("what the demo fills is a shop like any other: its record is intact, its gauges not overdue") {
  Screen screen(Screen::EmptyShop{});
  const fs::path shop = practice_shop(screen.desk->own_shop());
  REQUIRE(play_demo(shop, screen.now, {}));
  const auto session = record::Session::open(shop, {});
  REQUIRE(session);
  CHECK(session->shop().practice);
  const calc::Date today = calc::local_date(screen.now);
  int good = 0;
  for (const auto& [id, gauge] : session->shop().gauges) good += !gauge.due || today <= *gauge.due;
  CHECK(good >= 10);
  CHECK(calc::local_date(session->shop().last) < today);
}

TEST_CASE("the demo left in the middle leaves no file") {
  Screen screen(Screen::EmptyShop{});
  const fs::path shop = practice_shop(screen.desk->own_shop());
  const auto left = play_demo(
      shop, screen.now, record::Progress([](std::string_view, std::size_t done, std::size_t) { return done < 40; }));
  CHECK(left.error().code == "stopped");
  CHECK(files(screen).empty());
}

TEST_CASE("while the demo is put together Escape leaves it, and leads back to the choice") {
  Screen screen(Screen::EmptyShop{}, [] {});
  screen.press(key::digit_0 + 2);
  CHECK(screen.shows("The demo build is being put together"));
  while (!screen.desk->going()) std::this_thread::sleep_for(std::chrono::milliseconds(1)); // its turn has come
  screen.press(key::escape);
  until_over(screen);
  CHECK(files(screen).empty());
  CHECK(screen.shows("Set up this shop   [1]"));
}

TEST_CASE("dates of the demo are moved by whole days and nothing else is") {
  CHECK(days_later("2026-02-27", 2) == "2026-03-01");
  CHECK(days_later("2026-04-13T08:31:05+01:00", -13) == "2026-03-31T08:31:05+01:00");
  CHECK(days_later("7731", 5) == "7731");
}

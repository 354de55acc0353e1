// A sheet of many steps draws what is in sight, and every closed step is one line of one height.
#include "bench/large.h"
#include "bench/screen.h"

#include <catch2/catch.hpp>
#include <imgui.h>

namespace {

constexpr int f5 = bench::key::f1 + 4;
constexpr int f7 = bench::key::f1 + 6;

int lines_drawn(const Screen& screen) {
  return static_cast<int>(std::ranges::count_if(
      screen.drawn, [](const auto& one) { return one.text.find("Measure cylinder group") == 0; }));
}

} // namespace

TEST_CASE("of many steps only those in sight are drawn") {
  Screen screen(1, 1280, 800, large_procedure(400));
  screen.sign_in();
  CHECK(lines_drawn(screen) >= 1); // the one at work
  CHECK(lines_drawn(screen) < 40);
  CHECK(screen.shows("0 of 400 steps signed"));
  for (int i = 0; i < 60; ++i) screen.press(bench::key::page_down);
  CHECK(screen.shows("Measure cylinder group 60 and look it over"));
  CHECK(screen.shows("Measure cylinder group 59 and look it over   not yet"));
  CHECK(lines_drawn(screen) < 40);
}

TEST_CASE("what stands of the whole build follows every event, also one undone") {
  Screen screen(1, 1280, 800, large_procedure(200));
  screen.sign_in();
  for (int i = 0; i < 12; ++i) screen.enter("78.010");
  screen.enter("M-1");
  screen.press(f5);
  CHECK(screen.shows("0 of 200 steps signed"));
  screen.press(f7);
  CHECK(screen.shows("1 of 200 steps signed"));
  screen.press(bench::key::page_up);
  screen.press(f7 + 1);
  screen.enter("look again");
  CHECK(screen.shows("0 of 200 steps signed"));
  screen.press(bench::key::page_down);
  CHECK(screen.shows("reopened since 2026-01-05 09:00"));
}

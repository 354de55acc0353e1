// Figures on the sheet: where the point asked for is, what the points say once they are read, and the value against its
// limits while it is typed.
#include "bench/screen.h"

#include <catch2/catch.hpp>

namespace {

const std::string engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "limits":{"bore":{"title":"Bore","unit":"mm","standard":{"low":22.000,"high":22.020},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"bore","title":"Measure the bore","entries":[
      {"id":"bore","kind":"readings","title":"Bore","unit":"mm","limit":"bore","rows":["lowest","highest"],"columns":["30 degrees left","30 degrees right"]},
      {"id":"form","kind":"calculated","title":"Form","computation":"form","inputs":{"readings":{"entry":"bore"},"nominal":{"constant":"22 mm"},"kind":{"constant":"bore"}}}]}]}]})";

std::size_t times(const Screen& screen, const std::string& text) {
  std::size_t count = 0;
  for (const auto& one : screen.drawn) count += one.text == text;
  return count;
}

} // namespace

TEST_CASE("the figure names the direction asked for, goes on with the cursor, then shows the profile") {
  Screen screen(1, 1280, 800, engine);
  screen.sign_in();
  CHECK(times(screen, "30 degrees left") == 1);
  CHECK(times(screen, "30 degrees right") == 0);
  screen.enter("22.010");
  CHECK(times(screen, "30 degrees right") == 1);
  for (const char* typed : {"22.011", "22.012", "22.013"}) screen.enter(typed);
  CHECK(screen.shows("good: 22.00 to 22.02 mm"));
  CHECK(times(screen, "22.013") == 2); // on its line, and in the profile
}

TEST_CASE("a value stands between its limits while it is typed, before it is recorded") {
  Screen screen(1, 1280, 800, engine);
  screen.sign_in();
  CHECK(times(screen, "22.02 mm") == 0);
  screen.type("22.018");
  screen.frame();
  CHECK(times(screen, "22.02 mm") == 1);
  CHECK(screen.shows("within"));
  CHECK_FALSE(screen.entry("bore", "bore").cells[0].filled());
}

TEST_CASE("what is typed and how it would stand is in sight on a small screen") {
  Screen screen(1, 1024, 600, engine);
  screen.sign_in();
  screen.type("22.018");
  screen.frame();
  screen.frame();
  bool seen = false;
  for (const auto& one : screen.drawn)
    if (one.text.find("within: 22.018") != std::string::npos) seen = one.low.y > 0 && one.high.y < 600;
  CHECK(seen);
}

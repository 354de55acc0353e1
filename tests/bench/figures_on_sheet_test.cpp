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

TEST_CASE("the crown with its ring gaps stands under the entry that sets them, while it is at work") {
  Screen screen(1, 1280, 800,
                R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"rings","title":"Set the rings","entries":[
      {"id":"gaps","kind":"confirm","title":"Gaps set","ring-gaps":{"mark":"arrow, to the front","thrust":90,"thrust-side":"camshaft side","rings":[
        {"groove":1,"title":"Top ring","angle":40},{"groove":2,"title":"Second ring","angle":220}]}},
      {"id":"free","kind":"confirm","title":"Rings free"}]}]}]})");
  screen.sign_in();
  CHECK(screen.shows("2 Second ring: 220 deg"));
  CHECK(screen.shows("camshaft side"));
  screen.press(bench::key::f1 + 4);
  CHECK(screen.entry("rings", "gaps").done);
  CHECK_FALSE(screen.shows("2 Second ring: 220 deg"));
}

TEST_CASE("a shim too many is drawn under its calculation as soon as the last reading is typed") {
  Screen screen(1, 1280, 800,
                R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "limits":{"opening":{"title":"Opening","unit":"bar","target":115,"standard":{"low":112,"high":120},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"injectors","title":"Injectors","positions":["1","2"],"entries":[
      {"id":"found","kind":"reading","title":"Found","unit":"bar","by-eye":true},
      {"id":"shim","kind":"reading","title":"Shim","unit":"mm","by-eye":true},
      {"id":"choice","kind":"calculated","title":"Shim to take","computation":"shim-selection","inputs":{
        "measured":{"entry":"found"},"target":{"limit":"opening","bound":"target"},"change_per_mm":{"constant":100},"fitted":{"entry":"shim"},
        "available":{"constant":{"values":[1.30,1.35,1.40,1.45],"unit":"mm"}}}}]}]}]})");
  screen.sign_in();
  for (const char* typed : {"120", "120", "1.40", "1.40"}) {
    CHECK_FALSE(screen.shows("0.05 mm too much"));
    screen.enter(typed);
  }
  CHECK(screen.shows("0.05 mm too much"));
  CHECK(screen.shows("Take 1.35 mm: 115 bar"));
}

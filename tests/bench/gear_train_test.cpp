// The timing gears on the sheet: turned by hand on the screen, one shown a tooth out, nothing recorded.
#include "bench/screen.h"

#include <catch2/catch.hpp>

namespace {

const std::string engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "gear-train":[{"id":"crank","title":"Crank","teeth":28},{"id":"cam","title":"Camshaft","teeth":56,"meshes":"crank"}],
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"marks","title":"Marks together","figure":"gear-train","entries":[
      {"id":"cam","kind":"choice","title":"Crank to cam","choices":["together","a tooth out"],"good":["together"]}]}]}]})";

} // namespace

TEST_CASE("the arrows turn the crank tooth by tooth, and the marks meet again after two turns") {
  Screen screen(1, 1280, 800, engine);
  screen.sign_in();
  CHECK(screen.shows("All marks are together."));
  screen.press(bench::key::right);
  CHECK(screen.shows("Crank turned 1 tooth, 12.9 degrees; all marks are together again every 2 turns."));
  for (int i = 0; i < 55; ++i) screen.press(bench::key::right);
  CHECK(screen.shows("All marks are together."));
  screen.press(bench::key::left);
  CHECK(screen.shows("Crank turned 55 teeth"));
  CHECK_FALSE(screen.entry("marks", "cam").done);
}

TEST_CASE("a gear a tooth out is shown and told, and the choice is still made by its number") {
  Screen screen(1, 1024, 600, engine);
  screen.sign_in();
  screen.press_with_shift(bench::key::right);
  CHECK(screen.shows("Camshaft is drawn one tooth out: 12.9 degrees of the crank."));
  screen.press_with_shift(bench::key::right);
  CHECK(screen.shows("All marks are together."));
  screen.press(bench::key::digit_0 + 1);
  CHECK(screen.entry("marks", "cam").text == "together");
}

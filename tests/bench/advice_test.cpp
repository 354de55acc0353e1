// What the sheet says beside a verdict: the size of another engine, and what comes out when a step is opened again. The
// engine is made up.
#include "bench/screen.h"

#include <catch2/catch.hpp>

namespace {

constexpr int f5 = bench::key::f1 + 4;
constexpr int f7 = bench::key::f1 + 6;
constexpr int f8 = bench::key::f1 + 7;

const std::string engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "options":[{"id":"size","title":"Pin over size","choices":["standard","0.25"],"given":"standard"}],
  "parts":[{"id":"seal","title":"Lip seal","once":true}],
  "limits":{"pin":{"title":"Pin","unit":"mm","standard":{"low":9.99,"high":10},"basis":"invented example",
    "when":[{"option":"size","is":"0.25","standard":{"low":10.24,"high":10.25}}]}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"pin","title":"Measure the pin","entries":[
      {"id":"pin","kind":"reading","title":"Pin","unit":"mm","limit":"pin","by-eye":true}]},
    {"id":"seal-in","title":"Press in the seal","fits":["seal"],"entries":[
      {"id":"in","kind":"confirm","title":"In"}]}]}]})";

} // namespace

TEST_CASE("a pin of the over size says so in place of a misreading, and under its entry") {
  Screen screen(1, 1280, 800, engine);
  screen.sign_in();
  screen.enter("10.245");
  CHECK(screen.shows("outside: it is the size for \"Pin over size\" = 0.25; is it the part for this engine?"));
  CHECK(screen.shows("Pin is outside (10.245 mm): it is the size for \"Pin over size\" = 0.25"));
  CHECK_FALSE(screen.shows("type the right number"));
}

TEST_CASE("opening a step again names the seal that comes out, and a new one is asked for before it is signed") {
  Screen screen(1, 1280, 800, engine);
  screen.sign_in();
  screen.enter("9.995");
  screen.press(f7);
  screen.press(f5);
  screen.press(f7);
  REQUIRE(screen.state("seal-in") == "signed");
  screen.press(f8);
  CHECK(screen.shows("Comes out: Lip seal."));
  screen.enter("dripped");
  screen.press(f5);
  CHECK(screen.shows("Lip seal was fitted before: fit a new one and name it"));
  screen.press(f7);
  CHECK(screen.state("seal-in") == "reopened");
}

// The engine as it comes apart: what is asked for as found, typed in that order, and later beside the readings of now.
#include "bench/screen.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

constexpr int f1 = bench::key::f1;
constexpr int f2 = bench::key::f1 + 1;
constexpr int f5 = bench::key::f1 + 4;
constexpr int f7 = bench::key::f1 + 6;
constexpr int f12 = bench::key::f12, digit_0 = bench::key::digit_0;
constexpr int f8 = bench::key::f1 + 7;

// A bush goes in before the lid; both are asked for as found. The lid's warning is to be read first.
const std::string engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "parts":[{"id":"bush","title":"Bush","positions":["1","2"]},{"id":"lid","title":"Lid"}],
  "limits":{"bush":{"title":"Bush","unit":"mm","standard":{"low":22.000,"high":22.020},"basis":"invented example","source":"made up"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"bushes","title":"Bushes","part":"bush","positions":["1","2"],"entries":[
      {"id":"bore","kind":"reading","title":"Bore of the bush","unit":"mm","limit":"bush","loose":true,"as-found":true}]},
    {"id":"lid","title":"Fit the lid","fits":["lid"],"after":["bushes"],
      "cautions":[{"word":"WARNING","hazard":"The lid is heavy.","consequence":"It crushes fingers.","avoid":"Lift it together."}],
      "entries":[
      {"id":"gap","kind":"readings","title":"Gap under the lid","unit":"mm","rows":["front","rear"],"columns":["left","right"],
        "by-eye":true,"as-found":true},
      {"id":"on","kind":"confirm","title":"On"}]}]}]})";

struct Bench : Screen {
  explicit Bench(float width = 1280, float height = 800) : Screen(1, width, height, engine) { sign_in(); }

  float height_of(const std::string& text) const {
    const auto at =
        std::ranges::find_if(drawn, [&](const auto& one) { return one.text.find(text) != std::string::npos; });
    INFO(text);
    REQUIRE(at != drawn.end());
    return at->low.y;
  }

  void strip_down() { press_with_shift(f1); }

  // The four gaps, then both bushes.
  void take_all() {
    strip_down();
    press(f5); // the warning is read
    for (const char* typed : {"0.10", "0.11", "0.12", "0.13", "22.031", "22.029"}) enter(typed);
  }
};

} // namespace

TEST_CASE("what goes in last is measured first, and each value is recorded as found with the gauge it was typed for") {
  Bench bench;
  bench.strip_down();
  CHECK(bench.height_of("Gap under the lid") < bench.height_of("Bore of the bush"));
  CHECK(bench.shows("0 of 2 readings recorded as found"));
  CHECK(bench.shows("as found: not recorded yet"));
  bench.press(f5);
  bench.enter("0.10");
  CHECK(bench.shows("as found: 1 of 4 points recorded"));
  for (const char* typed : {"0.11", "0.12", "0.13"}) bench.enter(typed);
  CHECK(bench.shows("At 1 in mm, with bore-1"));
  bench.enter("22.031");
  bench.enter("22.029");
  CHECK(bench.shows("2 of 2 readings recorded as found"));
  const auto& found = bench.entry("bushes", "bore").as_found;
  REQUIRE(found.size() == 2);
  CHECK(found[0].value.text() == "22.031");
  CHECK(found[1].value.text() == "22.029");
  CHECK(found[0].tries.front().gauge == "bore-1");
  CHECK_FALSE(bench.entry("bushes", "bore").cells[0].filled());
  CHECK(bench.desk->log().back().body.at("as_found").as_boolean());
}

TEST_CASE("a value that would be outside is recorded as found without being judged, and holds nothing up") {
  Bench bench;
  bench.take_all();
  CHECK_FALSE(bench.shows("outside"));
  bench.press(f2);
  bench.enter("22.010");
  bench.enter("22.011");
  bench.press(f7);
  CHECK(bench.state("bushes") == "signed");
}

TEST_CASE("on the sheet each value as found stands beside the one of now, in words") {
  Bench bench(1024, 600);
  bench.take_all();
  bench.press(f2);
  CHECK(bench.shows("22.031 as found, now"));
  bench.enter("22.010");
  CHECK(bench.shows("22.010"));
  CHECK(bench.shows("22.029 as found, now"));
  bench.enter("22.011");
  bench.press(f7);
  CHECK(bench.shows("as found")); // of several points: a line of its own over that of now
  CHECK(bench.shows("now"));
  CHECK(bench.shows("0.13"));
  for (const auto& one : bench.drawn) {
    INFO(one.text);
    if (one.id.empty() && one.text.find("0.1") == 0) CHECK(one.high.x <= 1024);
  }
}

TEST_CASE("what was found stands in the unit of the screen too") {
  Bench bench;
  bench.take_all();
  bench.press_with_shift(f12);
  bench.press(digit_0 + 9); // inches
  bench.press(f2);
  CHECK(bench.shows("0.86736 as found, now")); // 22.031 / 25.4 = 0.867362
  CHECK_FALSE(bench.shows("22.031"));
  bench.press_with_shift(f12);
  bench.press(digit_0 + 8);
}

TEST_CASE("what is typed over a value as found takes its place, and the log keeps both") {
  Bench bench;
  bench.take_all();
  bench.press(bench::key::up); // the gaps
  bench.press(bench::key::down);
  bench.enter("22.035");
  CHECK(bench.entry("bushes", "bore").as_found[0].value.text() == "22.035");
  const auto& log = bench.desk->log();
  const auto of_bore = [](const auto& event) {
    return event.kind == "record" && event.body.text_or_empty("entry") == "bore";
  };
  CHECK(std::ranges::count_if(log, of_bore) == 3);
}

TEST_CASE("what was half typed as found is not recorded as a reading of now") {
  Bench bench;
  bench.strip_down();
  bench.press(bench::key::down);
  bench.type("22.0");
  bench.press(f2);
  bench.press(bench::key::enter);
  for (const auto& cell : bench.entry("bushes", "bore").cells) CHECK_FALSE(cell.filled());
  CHECK(bench.entry("bushes", "bore").as_found.empty());
}

TEST_CASE("a fault is noted in the middle of stripping, and the next reading goes on where it was") {
  Bench bench;
  bench.strip_down();
  bench.press(bench::key::down);
  bench.enter("22.031");
  bench.press_with_shift(f8);
  CHECK(bench.shows("on which part?"));
  bench.press(bench::key::enter); // the bush: the step at work is of bushes
  bench.press(digit_0 + 2);
  bench.enter("turned in its seat");
  bench.enter("");
  bench.enter("");
  REQUIRE(bench.build().findings.size() == 1);
  CHECK(bench.build().findings[0].position == "2");
  CHECK(bench.shows("Noted as f1."));
  bench.enter("22.029");
  CHECK(bench.entry("bushes", "bore").as_found[1].value.text() == "22.029");
}

TEST_CASE("once its step is signed nothing is recorded as found any more, and the screen says so") {
  Bench bench;
  bench.enter("22.010");
  bench.enter("22.011");
  bench.press(f7);
  REQUIRE(bench.state("bushes") == "signed");
  bench.strip_down();
  bench.press(bench::key::down);
  CHECK(bench.shows("as found: not recorded; its step is signed"));
  bench.enter("22.031");
  CHECK(bench.entry("bushes", "bore").as_found.empty());
}

TEST_CASE("a procedure that asks for nothing as found says so") {
  Screen screen; // the short block
  screen.sign_in();
  screen.press_with_shift(f1);
  CHECK(screen.shows("asks for nothing to be measured before the engine is apart"));
}

// A bore gauge set on a ring, and warm pistons, on the sheet by keyboard alone. The engine is made up.
#include "bench/screen.h"
#include "json/read.h"

#include <catch2/catch.hpp>

#include <cmath>

namespace {

constexpr int f6 = bench::key::f1 + 5;
constexpr int f7 = bench::key::f1 + 6;

const std::string engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "parts":[{"id":"piston","title":"Piston","alpha":0.000021}],
  "limits":{"bore":{"title":"Bore","unit":"mm","standard":{"low":82.000,"high":82.050},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"bores","title":"Measure the bores","entries":[
      {"id":"bore","kind":"readings","title":"Bore","unit":"mm","rows":["top","bottom"],"limit":"bore","gauges":["bore gauge"]},
      {"id":"marks","kind":"reading","title":"Marks","unit":"mm","by-eye":true,"optional":true}]},
    {"id":"pistons","title":"Measure the pistons","entries":[
      {"id":"skirt","kind":"readings","title":"Skirt","unit":"mm","rows":["1","2"],"parts":["piston"],"gauges":["caliper"]}]}]}]})";

struct Bench : Screen {
  Bench() : Screen(1, 1280, 800, engine) {
    for (const char* line :
         {R"({"do":"sign-in","person":"ivo","passphrase":"copper and brass"})",
          R"({"do":"add-gauge","gauge":"ring-82","kind":"setting standard","unit":"mm","resolution":0.001,"u":0.002})",
          R"({"do":"add-gauge","gauge":"cal-1","kind":"caliper","unit":"mm","resolution":0.01})",
          R"({"do":"sign-out"})"})
      desk->post(*json::read_one(line));
    frame();
    sign_in();
  }

  void set_on_ring(const std::string& size = "82.000") {
    press_with_shift(f6);
    enter(size);
    enter("ring");
    press(bench::key::enter);
    press(bench::key::enter);
  }
  void back_on_ring(const std::string& shows) {
    press_with_shift(f7);
    enter(shows);
  }
  const build::Cell& bore(std::size_t cell) const { return entry("bores", "bore").cells.at(cell); }
};

} // namespace

TEST_CASE("set, read and put back in inches, each goes to the record with its unit") {
  Bench bench;
  bench.press_with_shift(bench::key::f12);
  bench.press(bench::key::digit_0 + 9);
  bench.press(bench::key::f1 + 1);
  bench.press_with_shift(f6);
  CHECK(bench.shows("Gauge set at, in inches, or nothing"));
  bench.press(bench::key::escape);
  bench.set_on_ring("3.2283"); // 81.99882 mm
  CHECK(bench.shows("set at 3.22830 in on ring-82: type what the dial shows"));
  bench.type("0.0005");
  CHECK(bench.shows("within: 3.22880 in (82.01152 mm)"));
  bench.press(bench::key::enter);
  CHECK(bench.bore(0).value.text() == "82.01152");
  const auto& asked = bench.desk->log().back().body.at("asked");
  CHECK(asked.at("set_at").as_text() == "3.2283 in");
  CHECK(asked.at("values").items().front().as_text() == "0.0005 in");
  bench.press_with_shift(f6); // the question again: what is recorded keeps its unit
  bench.press(bench::key::enter);
  bench.press(bench::key::enter);
  bench.enter("0.0006");
  CHECK(bench.bore(1).value.text() == "82.01406");
  bench.press_with_shift(f7);
  CHECK(bench.shows("bore-1 back on its setting, 3.22830 in on ring-82"));
  CHECK(bench.shows("More than 0.00004 in either way"));
  bench.enter("0.00002");
  CHECK(bench.shows("back at zero: 0.00002 in; its readings stand"));
  CHECK(bench.desk->log().back().body.at("asked").at("value").as_text() == "0.00002 in");
  CHECK(bench.entry("bores", "bore").sets.size() == 1);
}

TEST_CASE("a gauge is set, its dial is typed, it is put back and the step is signed, by keyboard alone") {
  Bench bench;
  bench.press_with_shift(f6);
  CHECK(bench.shows("It could be set on ring-82"));
  bench.enter("82.000");
  bench.enter("ring");
  bench.press(bench::key::enter);
  bench.press(bench::key::enter);
  CHECK(bench.shows("set at 82.000 on ring-82: type what the dial shows"));
  bench.type("0.012");
  CHECK(bench.shows("within: 82.012 mm"));
  bench.press(bench::key::enter);
  CHECK(bench.bore(0).value.text() == "82.012");
  CHECK(bench.shows("put the bore gauge bore-1 back on its setting (82.000 mm on ring-82)"));
  bench.enter("+0.015");
  CHECK(bench.bore(1).value.text() == "82.015");
  CHECK(bench.shows("set at 82.000 on ring-82")); // still at the entry that waits for its zero
  bench.press_with_shift(f7);
  CHECK(bench.state("bores") == "half done"); // nothing is signed with that key
  CHECK(bench.shows("bore-1 back on its setting, 82.000 mm on ring-82: what does it show?"));
  bench.enter("+0.001");
  CHECK(bench.shows("back at zero: 0.001 mm; its readings stand"));
  CHECK(bench.entry("bores", "bore").sets[0].kept);
  bench.press(f7);
  CHECK(bench.state("bores") == "signed");
}

TEST_CASE("a size typed where the dial is wanted is told while it is typed and refused") {
  Bench bench;
  bench.set_on_ring();
  bench.type("82.012");
  CHECK(bench.shows("The gauge is set at 82.000 mm: type what its dial shows"));
  bench.press(bench::key::enter);
  CHECK_FALSE(bench.bore(0).filled());
  CHECK(bench.shows("type what its dial shows, +0.012"));
}

TEST_CASE("a gauge that has drifted leaves its points to be measured again") {
  Bench bench;
  bench.set_on_ring();
  bench.enter("0.012");
  bench.enter("0.015");
  bench.back_on_ring("0.004");
  CHECK_FALSE(bench.bore(0).filled());
  CHECK(bench.shows("the gauge had drifted by 0.004 mm"));
  CHECK(bench.shows("Bore: measure again at top; bottom"));
  CHECK_FALSE(bench.shows("type what the dial shows")); // set anew, it is asked anew
  bench.type("82.01");
  CHECK(bench.shows("within: 82.01 mm"));
}

TEST_CASE("a misread dial is corrected from the setting it was read from, after the zero too") {
  Bench bench;
  bench.set_on_ring();
  bench.enter("0.012");
  bench.enter("0.015");
  bench.back_on_ring("0");
  bench.press(bench::key::left);
  bench.press(bench::key::left);
  CHECK(bench.shows("set at 82.000 on ring-82: type what the dial shows"));
  bench.enter("0.013");
  bench.press(bench::key::digit_0 + 1);
  CHECK(bench.bore(0).value.text() == "82.013");
  CHECK(bench.bore(0).tries[0].set == 1);
}

TEST_CASE("an open set is taken up again when the window opens anew: it stands in the record") {
  Bench bench;
  bench.set_on_ring();
  bench.enter("0.012");
  bench.press(bench::key::page_down);
  bench.press(bench::key::page_up);
  CHECK(bench.shows("set at 82.000 on ring-82"));
  bench.window = std::make_unique<bench::Window>(*bench.desk);
  bench.frame();
  CHECK(bench.shows("set at 82.000 on ring-82"));
}

TEST_CASE("a warm part is asked in the same question and its size taken to 20 degC") {
  Bench bench;
  bench.press(bench::key::page_down);
  CHECK(bench.shows("Skirt"));
  bench.press_with_shift(f6);
  bench.press(bench::key::enter);
  bench.press(bench::key::enter);
  bench.enter("31");
  bench.enter("22");
  CHECK(bench.shows("the part at 31 degC, the gauge at 22: the size is taken to 20 degC"));
  bench.type("81.94");
  CHECK(bench.shows("81.94 mm before it is taken to 20 degC"));
  bench.press(bench::key::enter);
  // 81.94 (1 + 11.5e-6 x 2) / (1 + 21e-6 x 11), by hand
  CHECK(bench.entry("pistons", "skirt").cells[0].value.to_double() ==
        Approx(81.94 * 1.000023 / 1.000231).epsilon(1e-11));
}

TEST_CASE("what cannot be meant is told in the question, and Escape leaves it as it was") {
  Bench bench;
  bench.press_with_shift(f6);
  bench.enter("82,0");
  CHECK(bench.shows("Gauge set at: "));
  bench.press(bench::key::enter);
  bench.press(bench::key::enter);
  bench.press(bench::key::enter);
  CHECK(bench.shows("Gauge set at, in mm"));
  bench.press(bench::key::escape);
  CHECK_FALSE(bench.shows("type what the dial shows"));
}

TEST_CASE("what is counted by eye is set to nothing") {
  Bench bench;
  bench.press(bench::key::down);
  bench.press_with_shift(f6);
  CHECK_FALSE(bench.shows("Gauge set at"));
}

#include "drawing/series.h"

#include "build/bench.h"
#include "drawing/shapes.h"

#include <catch2/catch.hpp>

#include <fmt/format.h>

namespace {

// Five caps, tightened from the middle outwards, the crank turned after each.
constexpr std::string_view five_caps = R"({"format": 1, "id": "caps", "title": "Caps", "revision": "1",
  "engine": {"model": "HX4-150"}, "parts": [{"id": "crank", "title": "Crank", "positions": ["1", "2", "3", "4", "5"]}],
  "limits": {"snug": {"title": "Snug", "unit": "N.m", "target": 40, "basis": "invented example"},
             "turning": {"title": "Turning", "unit": "N.m", "standard": {"high": 6}, "basis": "invented example"}},
  "sections": [{"id": "all", "title": "All", "steps": [{"id": "caps", "title": "Caps", "part": "crank", "entries": [
    {"id": "bolts", "kind": "tightening", "title": "Bolts", "stages": [{"id": "1", "torque": "snug"}],
     "fasteners": [{"id": "3L", "position": "3"}, {"id": "3R", "position": "3"}, {"id": "2L", "position": "2"},
                   {"id": "4L", "position": "4"}, {"id": "1L", "position": "1"}, {"id": "5L", "position": "5"}]},
    {"id": "turning", "kind": "reading", "title": "Turning", "unit": "N.m", "limit": "turning"},
    {"id": "gap", "kind": "reading", "title": "Gap", "unit": "mm"}]}]}]})";

struct Caps : Bench {
  Caps() : Bench(five_caps) {
    ok(R"({"do":"add-gauge","gauge":"peak","kind":"torque wrench","unit":"N.m","resolution":0.1,"tool":"indicating","class_error":0.01,"range":[1,300]})");
  }
  void turned(const char* cap, const char* torque) {
    ok(fmt::format(R"({{"do":"record","step":"caps","entry":"turning","position":"{}","gauge":"peak","value":{}}})",
                   cap, torque));
  }
};

} // namespace

TEST_CASE("turning torques stand in the order in which the caps went on, and a jump names its cap") {
  Caps bench;
  bench.turned("3", "2.0");
  CHECK_FALSE(drawing::series(bench.build, {0, 1})); // one reading is no series
  bench.turned("2", "2.6");
  bench.turned("4", "3.1");
  bench.turned("1", "5.4");
  bench.turned("5", "6.8");
  const auto series = drawing::series(bench.build, {0, 1});
  REQUIRE(series);
  std::string order;
  for (const auto& bar : series->bars) order += bar.name;
  CHECK(order == "32415");
  CHECK(series->high == 6);
  CHECK(series->bars[4].trouble == "outside");
  CHECK(series->jump == 3u);
  CHECK(series->jump_words == "Turns much harder after 1: look there.");
  CHECK_FALSE(drawing::series(bench.build, {0, 0}));
  CHECK_FALSE(drawing::series(bench.build, {0, 2}));
}

TEST_CASE("a bar is as high as its value, and all that is written stays inside") {
  const drawing::Series series{
      "N.m",    {{"3", "2", 2, ""}, {"2", "4", 4, ""}, {"4", "8", 8, "outside"}}, std::nullopt, 6, "at most 6 N.m", 2,
      "After 4"};
  const drawing::Figure figure = drawing::bars(series, {300, 200, 12});
  std::vector<double> heights;
  for (const auto& polygon : figure.polygons)
    if (polygon.points.size() == 4 && polygon.fill == drawing::Tone::metal)
      heights.push_back(polygon.points[0].y - polygon.points[1].y);
  REQUIRE(heights.size() == 3);
  CHECK(heights[1] == Approx(2 * heights[0]));
  CHECK(heights[2] == Approx(4 * heights[0]));
  for (const auto& text : figure.texts) {
    const double half = drawing::width_of(text.text, text.size, text.strong) / 2;
    INFO(text.text);
    CHECK(text.at.x - half >= -0.001);
    CHECK(text.at.x + half <= 300.001);
    CHECK(text.at.y - text.size / 2 >= 0);
    CHECK(text.at.y + text.size / 2 <= figure.height);
  }
}

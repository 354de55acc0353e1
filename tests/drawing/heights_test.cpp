// Heights over a face: how far each point stands above the lower plane of the minimum zone, and where it is hatched.
#include "drawing/heights.h"

#include "build/bench.h"
#include "drawing/looking.h"

#include <catch2/catch.hpp>

#include <cmath>

namespace {

using namespace looking;

constexpr drawing::Room room{320, 190, 12};

// A face with four corners and its middle.
constexpr std::string_view engine =
    R"({"format":1,"id":"all","title":"All","revision":"1","engine":{"model":"HX4-150"},
  "limits":{"flat":{"title":"Flat","unit":"mm","standard":{"high":0.05},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"head","title":"Head","entries":[
      {"id":"heights","kind":"readings","title":"Heights","unit":"mm","rows":["front left","front right","rear left","rear right","middle"],
       "places":[[0,0],[100,0],[0,300],[100,300],[50,150]]},
      {"id":"flat","kind":"calculated","title":"Flatness","computation":"flatness","inputs":{"points":{"entry":"heights"}},"judge":{"minimum_zone":"flat"}},
      {"id":"corners","kind":"readings","title":"Corners","unit":"mm","rows":["a","b"]}]}]}]})";

drawing::Heights face(const std::vector<drawing::Point>& places) {
  drawing::Heights out;
  out.unit = "um";
  for (const auto& at : places) out.points.push_back({"", at, true, 0, ""});
  return out;
}

std::vector<quantity::Exact> whole(const std::vector<int>& numbers) {
  return {numbers.begin(), numbers.end()};
}

// The length of the hatching near a point.
double ink_near(const drawing::Figure& figure, drawing::Point at, double reach) {
  double sum = 0;
  for (const auto& line : figure.lines) {
    if (line.points.size() != 2) continue;
    const auto& [a, b] = std::pair(line.points[0], line.points[1]);
    for (double part = 0; part < 1; part += 0.01)
      if (std::hypot(a.x + (b.x - a.x) * part - at.x, a.y + (b.y - a.y) * part - at.y) < reach)
        sum += std::hypot(b.x - a.x, b.y - a.y) * 0.01;
  }
  return sum;
}

} // namespace

// The face of tests/calc/flatness_test.cpp, whose zone is 11.5 um: 12 in the middle over the mean of 0 and 1 at two
// corners. Every point lies from 0 to 11.5 above the lower plane, and three at least touch the planes.
TEST_CASE("a plate with its middle high: the deviations are those of the minimum zone") {
  auto heights = face({{0, 0}, {100, 0}, {200, 0}, {0, 100}, {100, 100}, {200, 100}, {0, 200}, {100, 200}, {200, 200}});
  REQUIRE(drawing::map_of(heights, whole({0, 4, 2, 6, 12, 5, 3, 7, 1}), 1));
  CHECK(heights.zone == 11.5);
  CHECK(heights.words == "Flat within 11.5 um");
  CHECK(heights.high == 4u);
  CHECK(heights.points[4].above == 11.5);
  CHECK(heights.points[0].above == Approx(0).margin(1e-12));
  CHECK(heights.points[8].above == Approx(0).margin(1e-12));
  for (const auto& point : heights.points) {
    CHECK(point.above >= 0);
    CHECK(point.above <= 11.5);
  }
  const auto figure = drawing::map(heights, room);
  CHECK(written(figure, "11.5 high"));
  CHECK(written(figure, "0.0 low"));
  CHECK(written(figure, "Flat within 11.5 um; the denser, the higher"));
  CHECK(all_inside(figure));
  CHECK(texts_apart(figure));
}

TEST_CASE("the hatching is denser where the face is higher, and leaves the numbers free") {
  auto heights = face({{0, 0}, {300, 0}, {0, 200}, {300, 200}, {150, 100}, {150, 0}, {150, 200}});
  REQUIRE(drawing::map_of(heights, whole({0, 40, 0, 40, 0, 0, 0}), 0));
  const auto figure = drawing::map(heights, room);
  const auto near = [&](std::size_t point) { return figure.texts[point].at; };
  const double reach = 30;
  CHECK(ink_near(figure, near(1), reach) > 2 * ink_near(figure, near(4), reach));
  for (const auto& text : figure.texts) CHECK(ink_near(figure, text.at, text.size * 0.4) == 0);
}

TEST_CASE("a face without any deviation is not hatched, and points in one line make no map") {
  auto flat = face({{0, 0}, {100, 0}, {0, 100}, {100, 100}});
  REQUIRE(drawing::map_of(flat, whole({1, 2, 3, 4}), 0)); // tilted, but flat
  CHECK(flat.zone == 0);
  CHECK(drawing::map(flat, room).lines.size() == 1); // its edge
  auto line = face({{0, 0}, {1, 1}, {2, 2}, {3, 3}});
  CHECK_FALSE(drawing::map_of(line, whole({1, 2, 3, 5}), 0));
}

TEST_CASE("heights typed at their places are worked out and drawn; the one asked for is named until then") {
  Bench bench(engine);
  auto heights = drawing::heights(bench.build, {0, 0}, 0, 3);
  REQUIRE(heights);
  CHECK(strong_here(drawing::map(*heights, room)) == std::vector<std::string>{"Read at: rear right"});
  // A twist of 0.04 mm and the middle in its mean: the zone is all of the twist, as in flatness_test.cpp.
  bench.ok(R"({"do":"record","step":"head","entry":"heights","gauge":"dial","values":[0.04,0.00,0.00,0.04,0.02]})");
  heights = drawing::heights(bench.build, {0, 0}, 0, std::nullopt);
  CHECK(heights->words == "Flat within 0.040 mm");
  CHECK(bench.entry("head", "flat").calculated.front().results.at("minimum_zone").at("value").as_text() == "0.04");
  CHECK(all_inside(drawing::map(*heights, room)));
  CHECK_FALSE(drawing::heights(bench.build, {0, 2}, 0, std::nullopt));
}

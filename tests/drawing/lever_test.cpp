#include "drawing/lever.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

namespace {

constexpr drawing::Room room{400, 300, 14};

bool says(const drawing::Figure& figure, const std::string& part) {
  return std::any_of(figure.texts.begin(), figure.texts.end(),
                     [&](const auto& text) { return text.text.find(part) != std::string::npos; });
}

// The wrench is drawn as the second polygon, the adapter as the third; their middles run along two edges.
double length_of(const drawing::Polygon& bar) {
  return std::hypot(bar.points[1].x - bar.points[0].x, bar.points[1].y - bar.points[0].y);
}

} // namespace

TEST_CASE("wrench and adapter are drawn to their measures, at any angle and inside the figure") {
  for (const int angle : {-90, 0, 30, 90, 150, 180, 270}) {
    const auto figure = drawing::lever({400, 100, angle, quantity::Exact(1)}, room);
    INFO(angle);
    CHECK(length_of(figure.polygons[1]) / length_of(figure.polygons[2]) == Approx(4));
    CHECK(figure.height <= room.height * 1.001);
    for (const auto& line : figure.lines)
      for (const auto& point : line.points) {
        CHECK(point.x >= 0);
        CHECK(point.x <= figure.width);
        CHECK(point.y >= 0);
        CHECK(point.y <= figure.height);
      }
  }
}

TEST_CASE("what was measured is written there, or only what is to be measured") {
  const build::Lever it{400, 100, 45, quantity::Exact(1)};
  const auto measured = drawing::lever(it, room);
  CHECK(says(measured, "L = 400 mm"));
  CHECK(says(measured, "E = 100 mm"));
  CHECK(says(measured, "angle 45 deg"));
  const auto to_measure = drawing::lever(it, room, false);
  CHECK_FALSE(says(to_measure, "400"));
  CHECK(says(to_measure, "L: square drive to middle of grip"));
}

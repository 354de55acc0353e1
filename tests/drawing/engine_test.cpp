#include "drawing/engine.h"

#include "build/bench.h"

#include <catch2/catch.hpp>

using drawing::Band;

TEST_CASE("the engine grows a band a section, from the bottom up") {
  Bench bench;
  CHECK(drawing::bands(bench.build) == std::vector<Band>{Band::at_work, Band::not_yet, Band::not_yet});
  CHECK(drawing::engine(drawing::bands(bench.build)).polygons.empty());
  bench.clean();
  bench.mains();
  bench.caps();
  bench.ok(R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})");
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.19],[0,0.19]]})");
  bench.ok(R"({"do":"sign","step":"float"})");
  CHECK(drawing::bands(bench.build)[0] == Band::at_work); // the second person is missing
  bench.ok(R"({"do":"sign","step":"float","person":"ben","passphrase":"right"})");
  CHECK(drawing::bands(bench.build) == std::vector<Band>{Band::closed, Band::at_work, Band::not_yet});
  const auto figure = drawing::engine(drawing::bands(bench.build));
  REQUIRE(figure.polygons.size() == 1);
  for (const auto& point : figure.polygons.front().points) CHECK(point.y > figure.height / 2);
}

TEST_CASE("a closed section carries one stripe, and everything stays inside the figure") {
  Bench bench;
  const auto figure = drawing::engine(drawing::bands(bench.build));
  for (const auto& line : figure.lines) {
    CHECK(line.tone != drawing::Tone::paint);
    for (const auto& point : line.points) {
      CHECK(point.x >= 0);
      CHECK(point.x <= figure.width);
      CHECK(point.y >= 0);
      CHECK(point.y <= figure.height);
    }
  }
}

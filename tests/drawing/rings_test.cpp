// Ring gaps on the crown: what is wanted, what was found, and what is wrong with that.
#include "drawing/rings.h"

#include "build/bench.h"
#include "drawing/looking.h"

#include <catch2/catch.hpp>

#include <cmath>
#include <numbers>

namespace {

using namespace looking;

constexpr drawing::Room room{320, 160, 12};

constexpr std::string_view engine =
    R"({"format":1,"id":"all","title":"All","revision":"1","engine":{"model":"HX4-150"},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"rings","title":"Rings","positions":["1","2"],"entries":[
      {"id":"set","kind":"confirm","title":"Gaps set","ring-gaps":{"mark":"arrow, to the front","thrust":90,"thrust-side":"camshaft side","rings":[
        {"groove":1,"title":"Top ring","angle":40},{"groove":2,"title":"Second ring","angle":280},
        {"groove":3,"title":"Oil ring","angle":160},{"groove":3,"title":"Spring joint","angle":340}]}},
      {"id":"read","kind":"readings","title":"Gaps","unit":"deg","rows":["Top ring","Second ring"],"by-eye":true,"ring-gaps":{"mark":"arrow, to the front","thrust":90,"thrust-side":"camshaft side","rings":[
        {"groove":1,"title":"Top ring","angle":40},{"groove":2,"title":"Second ring","angle":220}]}},
      {"id":"seen","kind":"confirm","title":"Seen"}]}]}]})";

} // namespace

TEST_CASE("each ring's gap is on the crown with its number, its name and its angle") {
  Bench bench(engine);
  const auto crown = drawing::crown(bench.build, {0, 0}, 0, std::nullopt);
  REQUIRE(crown);
  const auto figure = drawing::gaps_on(*crown, room);
  for (const char* number : {"1", "2", "3a", "3b"}) CHECK(written(figure, number));
  CHECK(written(figure, "1 Top ring: 40 deg"));
  CHECK(written(figure, "3b Spring joint: 340 deg"));
  CHECK(written(figure, "arrow, to the front"));
  CHECK(written(figure, "camshaft side"));
  CHECK(all_inside(figure));
  CHECK(texts_apart(figure));
  CHECK(drawing::troubles(*crown).empty());
  CHECK_FALSE(drawing::crown(bench.build, {0, 2}, 0, std::nullopt));
}

TEST_CASE("a gap at 90 degrees lies to the right of the middle, one at 0 above it") {
  for (const double angle : {0.0, 90.0, 180.0, 270.0}) {
    const drawing::Crown crown{"mark", 45, 135, "side", {{"1", "Ring", 1, angle, std::nullopt, ""}}, std::nullopt};
    const auto figure = drawing::gaps_on(crown, room);
    const auto number =
        std::find_if(figure.texts.begin(), figure.texts.end(), [](const auto& it) { return it.text == "1"; });
    const double side = std::min(room.height, room.width * 0.42);
    const drawing::Point middle{side / 2, room.height / 2};
    const double far = std::hypot(number->at.x - middle.x, number->at.y - middle.y);
    CHECK((number->at.x - middle.x) / far == Approx(std::sin(angle * std::numbers::pi / 180)).margin(1e-9));
    CHECK((number->at.y - middle.y) / far == Approx(-std::cos(angle * std::numbers::pi / 180)).margin(1e-9));
  }
}

TEST_CASE("two gaps in line, and a ring off its place, are told in words") {
  Bench bench(engine);
  CHECK(drawing::crown(bench.build, {0, 1}, 1, 2)->asked == 0u);
  CHECK_FALSE(drawing::crown(bench.build, {0, 1}, 0, 2)->asked);
  bench.ok(R"({"do":"record","step":"rings","entry":"read","position":"2","values":[350,5]})");
  const auto crown = drawing::crown(bench.build, {0, 1}, 1, std::nullopt);
  CHECK(drawing::troubles(*crown) == std::vector<std::string>{"Top ring is 50 degrees off its place.",
                                                              "Second ring is 145 degrees off its place.",
                                                              "Top ring and Second ring stand in line."});
  const auto figure = drawing::gaps_on(*crown, {320, 180, 12});
  CHECK(written(figure, "1 Top ring: 40 deg, found 350"));
  CHECK(written(figure, "Top ring and Second ring stand in line."));
  CHECK(all_inside(figure));
  CHECK(texts_apart(figure));
  CHECK(drawing::troubles(*drawing::crown(bench.build, {0, 1}, 0, std::nullopt)).empty()); // the other piston
}

TEST_CASE("gaps found where they belong are no trouble") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"rings","entry":"read","position":"1","values":[45,215]})");
  CHECK(drawing::troubles(*drawing::crown(bench.build, {0, 1}, 0, std::nullopt)).empty());
}

TEST_CASE("numbers of gaps close together do not lie on one another") {
  const drawing::Crown crown{"mark",
                             0,
                             90,
                             "side",
                             {{"1", "Top", 1, 200, std::nullopt, ""},
                              {"2", "Second", 2, 202, std::nullopt, ""},
                              {"3", "Oil", 3, 204, std::nullopt, ""}},
                             std::nullopt};
  const auto figure = drawing::gaps_on(crown, room);
  CHECK(texts_apart(figure));
  CHECK(all_inside(figure));
}

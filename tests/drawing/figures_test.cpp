// Where to measure, faces, seals and gears: what is asked stands out, what is written stays inside, the marks meet when
// the arithmetic says so.
#include "drawing/between.h"
#include "drawing/depths.h"
#include "drawing/diameters.h"
#include "drawing/face.h"
#include "drawing/profile.h"
#include "drawing/train.h"

#include "build/bench.h"
#include "drawing/looking.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace {

using drawing::Tone;

constexpr drawing::Room room{300, 120, 12};
using namespace looking;

// Bores in planes and directions, a journal, a shaft read in one plane, a face by straightedge, a seal by its depth.
constexpr std::string_view engine =
    R"({"format":1,"id":"all","title":"All","revision":"1","engine":{"model":"HX4-150"},
  "parts":[{"id":"shell","title":"Shell","positions":["1","2"]}],
  "limits":{"flat":{"title":"Flat","unit":"mm","standard":{"high":0.05},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"mains","title":"Mains","part":"shell","entries":[
      {"id":"bore","kind":"readings","title":"Bore","unit":"mm","rows":["front","rear"],"columns":["square to the split","30 degrees left","30 degrees right"]},
      {"id":"journal","kind":"readings","title":"Journal","unit":"mm","rows":["front","rear"],"columns":["in line","across"]},
      {"id":"oil","kind":"calculated","title":"Clearance","computation":"oil-clearance","inputs":{"bore":{"entry":"bore"},"journal":{"entry":"journal"}}}]},
    {"id":"shaft","title":"Shaft","entries":[
      {"id":"shaft","kind":"readings","title":"Shaft","unit":"mm","rows":["one way","square to it"]},
      {"id":"form","kind":"calculated","title":"Form","computation":"form","inputs":{"readings":{"entry":"shaft"},"nominal":{"constant":"20 mm"},"kind":{"constant":"journal"}}},
      {"id":"float","kind":"readings","title":"Float","unit":"mm","rows":["first","second"],"columns":["back","forward"]}]},
    {"id":"deck","title":"Deck","entries":[
      {"id":"gaps","kind":"readings","title":"Gaps","unit":"mm","limit":"flat","rows":["left edge","right edge","front edge","rear edge","diagonal from front left","diagonal from front right"]},
      {"id":"counts","kind":"readings","title":"Counts","unit":"mm","rows":["rags","tools"]}]},
    {"id":"seal","title":"Seal","entries":[
      {"id":"depth","kind":"readings","title":"Depth","unit":"mm","rows":["top","right","bottom","left"]},
      {"id":"square","kind":"calculated","title":"Square","computation":"seal-squareness","inputs":{"depths":{"entry":"depth"},"diameter":{"constant":"90 mm"}}}]}]}]})";

} // namespace

TEST_CASE("where to measure: the plane and the direction asked for are named in the work's colour, no others") {
  Bench bench(engine);
  // Position 2, rear, 30 degrees left: cell 6 + 3 + 1.
  const auto bore = drawing::diameters(bench.build, {0, 0}, 10);
  REQUIRE(bore);
  CHECK(bore->hole);
  CHECK(bore->plane == 1u);
  CHECK(bore->direction == 1u);
  CHECK(bore->directions[0].angle == 90);
  CHECK(bore->directions[1].angle == 120);
  CHECK(bore->directions[2].angle == 60);
  const auto figure = drawing::places(*bore, room);
  CHECK(strong_here(figure) == std::vector<std::string>{"rear", "30 degrees left"});
  CHECK_FALSE(written(figure, "30 degrees right"));
  CHECK(all_inside(figure));
  const auto journal = drawing::diameters(bench.build, {0, 1}, std::nullopt);
  REQUIRE(journal);
  CHECK_FALSE(journal->hole);
  CHECK(strong_here(drawing::places(*journal, room)).empty());
  CHECK(written(drawing::places(*journal, room), "across"));
}

TEST_CASE("a tapered bore shows its profile, once two planes are measured") {
  Bench bench(engine);
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","position":"2","gauge":"mic","values":[[48.01,48.01,48.01],[null,null,null]]})");
  CHECK_FALSE(drawing::profile(bench.build, {0, 0}, 1));
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","position":"2","gauge":"mic","values":[[null,null,null],[48.03,48.04,48.03]]})");
  const auto profile = drawing::profile(bench.build, {0, 0}, 1);
  REQUIRE(profile);
  CHECK(profile->sides.size() == 3);
  CHECK(profile->sides[1].values[1] == Approx(48.04));
  CHECK_FALSE(drawing::profile(bench.build, {0, 0}, 0)); // the other bearing is not measured
  const auto figure = drawing::profile_of(*profile, {400, 120, 12});
  CHECK(all_inside(figure));
  CHECK(written(figure, "48.04"));
  CHECK(written(figure, "0.03 mm from smallest to largest")); // no limit: how far it is magnified is said
}

TEST_CASE("sizes off one gauge are written with the same places: 48.01 beside 48.013") {
  Bench bench(engine);
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","position":"1","gauge":"mic","values":[[48.01,48.013,48.01],[48.012,null,48]]})");
  const auto figure = drawing::profile_of(*drawing::profile(bench.build, {0, 0}, 0), {400, 120, 12});
  for (const char* text : {"48.010", "48.013", "48.012", "48.000"}) CHECK(written(figure, text));
  CHECK_FALSE(written(figure, ".000")); // what is not read stays empty
}

TEST_CASE("directions in one plane are drawn round the circle alone; dial readings are no diameters") {
  Bench bench(engine);
  const auto shaft = drawing::diameters(bench.build, {1, 0}, 1);
  REQUIRE(shaft);
  CHECK_FALSE(shaft->hole);
  CHECK(shaft->directions.size() == 2);
  CHECK(shaft->direction == 1u);
  CHECK(all_inside(drawing::places(*shaft, room)));
  CHECK_FALSE(drawing::diameters(bench.build, {1, 2}, 0));
  CHECK_FALSE(drawing::diameters(bench.build, {2, 0}, 0));
}

TEST_CASE("directions without known names are spread evenly over half a turn") {
  const auto all = drawing::directions_of({"a", "b", "c", "d"});
  for (std::size_t i = 0; i < all.size(); ++i) CHECK(all[i].angle == 45.0 * static_cast<double>(i));
}

TEST_CASE("a face shows the line asked for, then its gaps, and the largest by name") {
  Bench bench(engine);
  auto face = drawing::face(bench.build, {2, 0}, 0, 4);
  REQUIRE(face);
  auto figure = drawing::lines_on(*face, room);
  CHECK(strong_here(figure) == std::vector<std::string>{"Lay the straightedge along: diagonal from front left"});
  bench.ok(R"({"do":"record","step":"deck","entry":"gaps","gauge":"mic","values":[0.02,0.01,0.03,0.02,0.07,0.02]})");
  face = drawing::face(bench.build, {2, 0}, 0, std::nullopt);
  CHECK(face->worst == 4u);
  CHECK(face->lines[4].trouble == "outside");
  CHECK(face->lines[0].trouble.empty());
  figure = drawing::lines_on(*face, room);
  CHECK(written(figure, "Largest gap: diagonal from front left"));
  CHECK(written(figure, "0.07"));
  CHECK(all_inside(figure));
  CHECK_FALSE(drawing::face(bench.build, {2, 1}, 0, 0));
}

TEST_CASE("a seal deeper at the right leans to the right") {
  Bench bench(engine);
  CHECK(strong_here(drawing::depths_round(*drawing::depths(bench.build, {3, 0}, 2), room)) ==
        std::vector<std::string>{"bottom"});
  bench.ok(R"({"do":"record","step":"seal","entry":"depth","gauge":"mic","values":[1.10,1.20,1.10,1.00]})");
  const auto depths = drawing::depths(bench.build, {3, 0}, std::nullopt);
  REQUIRE(depths);
  CHECK(depths->deepest == Approx(90)); // the second of four, a quarter turn on
  CHECK(depths->lean == "leans by 0.2 mm");
  const auto figure = drawing::depths_round(*depths, {300, 200, 12});
  CHECK(all_inside(figure));
  CHECK(written(figure, "Deepest at right; leans by 0.2 mm"));
  CHECK_FALSE(drawing::depths(bench.build, {2, 0}, 0));
}

TEST_CASE("the marks of a train meet again after the least common multiple of its teeth, and not before") {
  // 26, 39 and 52 teeth: 156 teeth of the crank's 26, six turns. The cam gear turns at half the crank's speed.
  drawing::Train train{{{"Crank", 26, 0, 90, 0}, {"Idler", 39, 0, 90, 0}, {"Cam", 52, 1, 30, 0}}};
  CHECK(drawing::turns_until_marks_meet(train) == 6);
  CHECK(drawing::marks_meet(train, 0));
  for (int teeth = 1; teeth < 156; ++teeth) CHECK_FALSE(drawing::marks_meet(train, teeth));
  CHECK(drawing::marks_meet(train, 156));
  CHECK(drawing::marks_meet(train, -156));
  CHECK(drawing::turned(train, 26)[2] == 0.5);
  train.gears[2].off = 1;
  CHECK_FALSE(drawing::marks_meet(train, 0));
  CHECK(all_inside(drawing::gears(train, 7, {300, 300, 12})));
  CHECK(drawing::turns_until_marks_meet({}) == 0);
}

TEST_CASE("what is said of the gears: together, turned, a tooth out in degrees of the crank") {
  drawing::Train train{{{"Crank", 28, 0, 90, 0}, {"Idler", 42, 0, 90, 0}, {"Camshaft", 56, 1, 30, 0}}};
  CHECK(drawing::words_of(train, 0) == "All marks are together.");
  // 168 teeth are six turns of 28.
  CHECK(drawing::words_of(train, 168) == "All marks are together.");
  CHECK(drawing::words_of(train, 3) ==
        "Crank turned 3 teeth, 38.6 degrees; all marks are together again every 6 turns.");
  CHECK(drawing::words_of(train, -1) ==
        "Crank turned 1 tooth, 12.9 degrees; all marks are together again every 6 turns.");
  train.gears[2].off = 1;
  // 360 / 56 of the camshaft's turn, of which the crank makes two.
  CHECK(drawing::words_of(train, 0) == "Camshaft is drawn one tooth out: 12.9 degrees of the crank.");
}

TEST_CASE("every tooth of a gear is drawn") {
  const drawing::Train train{{{"Crank", 26, 0, 90, 0}}};
  const auto figure = drawing::gears(train, 0, {200, 200, 12});
  const auto outline = std::max_element(figure.lines.begin(), figure.lines.end(),
                                        [](const auto& a, const auto& b) { return a.points.size() < b.points.size(); });
  CHECK(outline->points.size() == 26 * 4 + 1);
}

TEST_CASE("a gear is marked at every mesh, and the marks of a pair point at one another when they are together") {
  const drawing::Train train{{{"Crank", 28, 0, 90, 0}, {"Idler", 42, 0, 80, 0}, {"Cam", 56, 1, 165, 0}}};
  const auto marks = [&](std::int64_t teeth) {
    std::vector<drawing::Point> tips;
    for (const auto& line : drawing::gears(train, teeth, {300, 300, 12}).lines)
      if (line.tone == Tone::paint) tips.push_back(line.points.back());
    return tips;
  };
  const auto far = [](const drawing::Point& a, const drawing::Point& b) { return std::hypot(a.x - b.x, a.y - b.y); };
  const auto together = marks(0); // crank; idler to crank and to cam; cam
  REQUIRE(together.size() == 4);
  CHECK(far(together[0], together[1]) < 1);
  CHECK(far(together[2], together[3]) < 1);
  const auto turned = marks(5);
  CHECK(far(turned[0], turned[1]) > 10);
  CHECK(far(turned[2], turned[3]) > 10);
}

TEST_CASE("a value stands between its limits, and past them it stays on the figure") {
  drawing::Between both{20.0, 60.0, "0.020", "0.062 mm", 40.0, 4, 70.0, true};
  CHECK(drawing::along(both, 20) == Approx(0.25));
  CHECK(drawing::along(both, 40) == Approx(0.5));
  CHECK(drawing::along(both, 60) == Approx(0.75));
  CHECK(drawing::along(both, 1000) == 1);
  CHECK(all_inside(drawing::band(both, {200, 30, 10})));
  const drawing::Between high{std::nullopt, 0.05, "", "at most 0.05 mm", 0.02, 0, std::nullopt, true};
  CHECK(drawing::along(high, 0.05) == Approx(0.75));
  CHECK(drawing::along(high, 0.02) < 0.75);
  CHECK(drawing::along(high, 0.2) > 0.75);
  CHECK(all_inside(drawing::band(high, {200, 30, 10})));
}

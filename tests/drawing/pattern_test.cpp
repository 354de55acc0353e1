#include "drawing/pattern.h"

#include "build/joint.h"
#include "drawing/joints.h"
#include "drawing/shapes.h"

#include <catch2/catch.hpp>

using drawing::Done;
using drawing::Figure;
using drawing::Tone;

namespace {

constexpr drawing::Room room{400, 300, 14};

struct Box {
  double left, top, right, bottom;
  bool meets(const Box& other) const {
    return left < other.right && other.left < right && top < other.bottom && other.top < bottom;
  }
};

// Letters leave some of the room that is counted for them.
Box box_of(const drawing::Text& text) {
  const double half = drawing::width_of(text.text, text.size, text.strong) / 2 * 0.95;
  return {text.at.x - half, text.at.y - text.size * 0.4, text.at.x + half, text.at.y + text.size * 0.4};
}

bool says(const Figure& figure, const std::string& part) {
  return std::any_of(figure.texts.begin(), figure.texts.end(),
                     [&](const auto& text) { return text.text.find(part) != std::string::npos; });
}

int stripes(const Figure& figure) {
  return static_cast<int>(std::count_if(figure.lines.begin(), figure.lines.end(),
                                        [](const auto& line) { return line.tone == Tone::paint; }));
}

int filled_hexagons(const Figure& figure, Tone tone) {
  return static_cast<int>(std::count_if(figure.polygons.begin(), figure.polygons.end(), [&](const auto& polygon) {
    return polygon.fill == tone && polygon.points.size() == 6;
  }));
}

} // namespace

TEST_CASE("nothing written on a joint lies over anything else written, or outside the figure") {
  for (const auto& [name, joint] : drawn::all()) {
    const Figure figure = drawing::pattern(joint, room);
    INFO(name);
    CHECK(figure.width <= room.width);
    CHECK(figure.height <= room.height * 1.001);
    for (std::size_t a = 0; a < figure.texts.size(); ++a) {
      const Box box = box_of(figure.texts[a]);
      INFO(figure.texts[a].text);
      CHECK(box.left >= 0);
      CHECK(box.right <= figure.width);
      CHECK(box.top >= 0);
      CHECK(box.bottom <= figure.height);
      for (std::size_t b = a + 1; b < figure.texts.size(); ++b) {
        INFO(figure.texts[b].text);
        CHECK_FALSE(box.meets(box_of(figure.texts[b])));
      }
    }
  }
}

TEST_CASE("places are drawn to scale, what is above stands above") {
  const Figure figure = drawing::pattern(drawn::main_caps(), room);
  const auto middle_of = [&](const std::string& name) {
    const auto it =
        std::find_if(figure.texts.begin(), figure.texts.end(), [&](const auto& t) { return t.text == name; });
    REQUIRE(it != figure.texts.end());
    return it->at;
  };
  const auto first = middle_of("1L");
  const auto across = middle_of("1R");
  const auto last = middle_of("5L");
  CHECK(first.y < across.y);
  CHECK(first.x == Approx(across.x));
  CHECK((last.x - first.x) / (across.y - first.y) == Approx(4 * 92 / 84.0));
}

TEST_CASE("through all stages is striped, the stage at work is filled, the rest is empty") {
  auto joint = drawn::done_so_far(drawn::main_caps(), 3, Done::this_stage);
  joint.spots[0].done = Done::all_stages;
  const Figure figure = drawing::pattern(joint, room);
  CHECK(stripes(figure) == 1);
  CHECK(filled_hexagons(figure, Tone::metal) == 1);
  CHECK(filled_hexagons(figure, Tone::ink) == 2);
  CHECK(says(figure, "filled: has this stage; striped: through all stages"));
}

TEST_CASE("the painted stripe goes beyond the hexagon onto the face") {
  auto joint = drawn::done_so_far(drawn::without_places(), 1, Done::all_stages);
  const Figure figure = drawing::pattern(joint, room);
  const auto stripe =
      std::find_if(figure.lines.begin(), figure.lines.end(), [](const auto& line) { return line.tone == Tone::paint; });
  REQUIRE(stripe != figure.lines.end());
  const auto& hexagon = figure.polygons.front().points;
  const auto top = std::min_element(hexagon.begin(), hexagon.end(), [](auto a, auto b) { return a.y < b.y; });
  CHECK(stripe->points[1].y < top->y);
}

TEST_CASE("the next one is said in words and has an arrow, which stays inside and clear of the others") {
  for (const auto& [name, joint] : drawn::all()) {
    if (!joint.next) continue;
    INFO(name);
    const Figure figure = drawing::pattern(joint, room);
    const auto heads = std::count_if(figure.polygons.begin(), figure.polygons.end(), [](const auto& polygon) {
      return polygon.fill == Tone::here && polygon.points.size() == 3;
    });
    CHECK(heads == 1);
    for (const auto& polygon : figure.polygons)
      for (const auto& point : polygon.points) {
        CHECK(point.x >= 0);
        CHECK(point.x <= figure.width);
      }
  }
  auto joint = drawn::done_so_far(drawn::main_caps(), 6, Done::this_stage);
  CHECK(drawing::headline(joint) == "Next: seven of ten, 1L");
  CHECK(drawing::headline(drawn::done_so_far(drawn::round_cover(), 0, Done::not_yet)) == "Next: one of eight");
  joint = drawn::done_so_far(drawn::main_caps(), 10, Done::all_stages);
  CHECK(drawing::headline(joint) == "All ten through all stages");
}

TEST_CASE("an order worked out from the pattern is marked so, and missing places are said") {
  auto joint = drawn::head(5, 2, 95, 110);
  CHECK_FALSE(says(drawing::pattern(joint, room), "worked out"));
  joint.worked_out = true;
  CHECK(says(drawing::pattern(joint, room), "Order worked out from the pattern, not the maker's."));
  CHECK(says(drawing::pattern(joint, {200, 60, 14}), "Order worked out")); // however small
  CHECK(says(drawing::pattern(drawn::without_places(), room), "Not to scale"));
}

TEST_CASE("one that is out of its window is named in words and ringed") {
  auto joint = drawn::main_caps();
  const auto before = drawing::pattern(joint, room).lines.size();
  joint.spots[4].trouble = "too far";
  const Figure figure = drawing::pattern(joint, room);
  CHECK(says(figure, "too far"));
  CHECK(figure.lines.size() == before + 1);
}

TEST_CASE("a joint of the build stands in the figure as it was done") {
  Joints bench;
  bench.snug_and_marked();
  bench.ok(Joints::head("a", "turn", "90", ""));
  bench.ok(Joints::head("c", "turn", "99", ""));
  auto joint = drawing::joint(bench.build, {0, 0}, false);
  CHECK(joint.worked_out);
  REQUIRE(joint.spots.size() == 4);
  CHECK(joint.spots[0].done == Done::this_stage);
  CHECK(joint.spots[1].trouble == "too far");
  CHECK(joint.next == 2u);
  bench.ok(Joints::head("d", "turn", "80", ""));
  joint = drawing::joint(bench.build, {0, 0}, true);
  CHECK(joint.spots[2].trouble == "too little");
  CHECK(joint.spots[2].done == Done::not_yet);
  CHECK_FALSE(joint.next);
  CHECK(joint.last_sure == 1u);
  CHECK(drawing::headline(joint) == "Last sure: two of four, c");
}

TEST_CASE("a joint that is through all stages has a stripe on every one") {
  Joints bench;
  bench.ok(Joints::pull("nuts", "castle", "n", "1", "50", "peak"));
  const auto joint = drawing::joint(bench.build, {2, 0}, false);
  CHECK(joint.spots[0].done == Done::all_stages);
  CHECK(stripes(drawing::pattern(joint, room)) == 1);
  CHECK(drawing::headline(joint) == "Through all stages");
}

// A joint on the sheet: keys in, actions out, and what is read beside it.
#include "bench/screen.h"

#include "bench/figure.h"
#include "build/tightening.h"
#include "drawing/joints.h"
#include "json/read.h"

#include <catch2/catch.hpp>
#include <imgui.h>

#include <algorithm>

namespace {

namespace key = bench::key;
constexpr int f5 = key::f1 + 4;
constexpr int f6 = key::f1 + 5;
constexpr int f8 = key::f1 + 7;

// One step with one joint of four bolts; `entry` is what the joint says beyond its fasteners.
std::string procedure(const std::string& entry) {
  return R"({"format": 1, "id": "joint", "title": "Joint", "revision": "1", "engine": {"model": "HX4-150"},
  "limits": {
    "snug": {"title": "Snug", "unit": "N.m", "target": 40, "basis": "invented example"},
    "final": {"title": "Final", "unit": "N.m", "standard": {"low": 54, "high": 66}, "target": 60, "basis": "invented example"},
    "turn": {"title": "Turn", "unit": "deg", "standard": {"low": 85, "high": 95}, "target": 90, "basis": "invented example"},
    "after": {"title": "After the turn", "unit": "N.m", "standard": {"low": 60, "high": 120}, "basis": "invented example"},
    "length": {"title": "Bolt length", "unit": "mm", "service": {"high": 49.4}, "standard": {"high": 49.4}, "basis": "invented example"}
  },
  "sections": [{"id": "all", "title": "All", "steps": [{"id": "head", "title": "Head", "entries": [
    {"id": "bolts", "kind": "tightening", "title": "Head bolts", "order": "pattern",
     "fasteners": [{"id": "a", "at": [0, 0]}, {"id": "b", "at": [100, 0]}, {"id": "c", "at": [100, 80]}, {"id": "d", "at": [0, 80]}],)" +
         entry + "}]}]}]}";
}

const std::string torques =
    R"("stages": [{"id": "1", "torque": "snug"}, {"id": "rest", "wait": {"value": 10, "unit": "min"}}, {"id": "2", "torque": "final"}])";
const std::string angle =
    R"("bolt": {"diameter": 10, "pitch": 1.25, "class": "10.9", "lubrication": "oiled", "uses": 2, "length": "length"},
       "stages": [{"id": "snug", "torque": "snug"}, {"id": "line", "mark": "a line across head and face"},
                  {"id": "turn", "angle": "turn"}, {"id": "look", "check": "after"}])";

class Joint : public Screen {
public:
  explicit Joint(const std::string& entry, float width = 1280, float height = 800)
      : Screen(1, width, height, procedure(entry)) {
    sign_in();
  }
  const build::EntryState& state() const { return entry("head", "bolts"); }
  std::size_t stages_of(std::size_t fastener) const { return state().fasteners[fastener].size(); }
  json::Value last_action() const { return desk->log().back().body.at("asked"); }
  void new_bolts() {
    press(key::end);
    press(key::digit_0 + 1);
    enter("");
    enter("");
  }
  // As another process does: an action line that is not this window's.
  void elsewhere(const std::string& line) {
    desk->post(*json::read_one(line));
    frame();
  }
  void add_wrench(const std::string& rest) { elsewhere(R"({"do":"add-gauge","kind":"torque wrench",)" + rest + "}"); }
};

} // namespace

TEST_CASE("one key states a whole stage, in the order shown, at what the wrench is set to") {
  Joint screen(torques);
  CHECK(screen.shows("Stage one of three: to a torque, all of them in this order"));
  CHECK(screen.shows("Next: one of four, a"));
  CHECK(screen.shows("40 N.m"));
  CHECK(screen.shows("40 N.m; maker gives no tolerance"));
  CHECK(screen.shows("with tw-1, clicks at what it is set to, calibration not stated"));
  CHECK(screen.shows("Order worked out from the pattern, not the maker's."));
  CHECK(screen.shows("All four, in this order, at 40 N.m"));
  screen.press(key::letter_a);
  for (std::size_t f = 0; f < 4; ++f) CHECK(screen.stages_of(f) == 2); // it waits now
  CHECK(screen.last_action().at("fastener").as_text() == "all");
  CHECK(screen.last_action().at("gauge").as_text() == "tw-1");
}

TEST_CASE("time left to settle is said, and until then no key tightens") {
  Joint screen(torques);
  screen.press(key::letter_a);
  screen.now.utc_ms += 150'000;
  screen.frame();
  CHECK(screen.shows("8 minutes"));
  const auto seq = screen.build().seq;
  screen.press(key::letter_a);
  screen.press(key::enter);
  CHECK(screen.build().seq == seq);
  screen.now.utc_ms += 450'000;
  screen.frame();
  CHECK(screen.shows("good: 54 to 66 N.m"));
  screen.press(key::letter_a);
  CHECK(screen.shows("All are through all stages: within"));
  CHECK(screen.shows("All four through all stages"));
}

TEST_CASE("one at a time with Enter, and the figure goes on to the next") {
  Joint screen(torques);
  screen.press(key::enter);
  CHECK(screen.stages_of(0) == 1);
  CHECK(screen.stages_of(1) == 0);
  CHECK(screen.shows("Next: two of four, c"));
  CHECK(screen.shows("The other three, in this order"));
  CHECK(screen.shows("so far: within; one of four have this stage"));
}

TEST_CASE("lubrication and thread stand large, and bolts are new or reused before the first is tightened") {
  Joint screen(angle);
  CHECK(screen.shows("M10 x 1.25   10.9   OILED"));
  CHECK(screen.shows("Say first whether the bolts are new or reused."));
  CHECK(screen.shows("this loads the bolt to about"));
  CHECK(screen.shows("friction 0.12 assumed for oiled"));
  screen.press(key::letter_a);
  CHECK(screen.shows("say first whether the bolt is new or reused")); // as the gate said it
  screen.new_bolts();
  CHECK(build::bolt_at(screen.build(), {0, 0}, 3).state == "new");
  CHECK(screen.shows("bolt a: new, used 0 of 2 times"));
}

TEST_CASE("a reused bolt takes a mark, and its length with a gauge that reaches so far") {
  Joint screen(angle);
  screen.press(key::end);
  screen.press(key::digit_0 + 2);
  screen.enter("a c");
  screen.enter("set 7");
  CHECK(build::bolt_at(screen.build(), {0, 0}, 0).identity == "set 7/a");
  CHECK(build::bolt_at(screen.build(), {0, 0}, 2).state == "");
  CHECK(screen.shows("Measure the length of bolt a first."));
  screen.press(key::end);
  CHECK(screen.shows("Bolt length, in mm"));
  screen.enter("");
  screen.enter("49.31");
  screen.enter("");
  REQUIRE(build::bolt_at(screen.build(), {0, 0}, 0).length);
  CHECK(screen.last_action().at("gauge").as_text() == "mic-1");
  CHECK(screen.shows("bolt a: reused, used 1 of 2 times, 49.31 mm long, marked set 7/a"));
}

TEST_CASE("the length of a bolt typed in inches is recorded with that unit") {
  Joint screen(angle);
  screen.press_with_shift(key::f12);
  screen.press(key::digit_0 + 9);
  screen.press(key::f1 + 1);
  screen.press(key::end);
  screen.press(key::digit_0 + 2);
  screen.enter("a c");
  screen.enter("set 7");
  screen.press(key::end);
  CHECK(screen.shows("Bolt length, in inches"));
  screen.enter("");
  screen.enter("1.9413");
  screen.enter("");
  REQUIRE(build::bolt_at(screen.build(), {0, 0}, 0).length);
  CHECK(build::bolt_at(screen.build(), {0, 0}, 0).length->text() == "49.30902"); // 1.9413 x 25.4
  CHECK(screen.last_action().at("length").as_text() == "1.9413 in");
  CHECK(screen.shows("1.94130 in long"));
}

TEST_CASE("an angle is stated with Enter when it is as meant, and typed when it is not") {
  Joint screen(angle);
  screen.new_bolts();
  screen.press(key::letter_a);
  CHECK(screen.shows("Mark"));
  CHECK(screen.shows("a line across head and face"));
  screen.press(key::letter_a);
  CHECK(screen.shows("90 deg"));
  CHECK(screen.shows("a at 90 deg"));
  screen.press(key::enter);
  CHECK(screen.state().fasteners[0].back().value == quantity::Exact(90));
  screen.press(key::letter_a); // not all of them: an angle is stated one by one
  CHECK(screen.stages_of(1) == 2);
  screen.press(key::backspace);
  screen.type("88");
  CHECK(screen.shows("c at 88 deg"));
  screen.press(key::enter);
  CHECK(screen.state().fasteners[1].back().value == quantity::Exact(88));
}

TEST_CASE("turned too far: what to do is said, and one key names the fastener that is loosened") {
  Joint screen(angle);
  screen.new_bolts();
  screen.press(key::letter_a);
  screen.press(key::letter_a);
  screen.enter("99");
  CHECK(screen.shows("99 deg is beyond 85 to 95 deg; loosen it, never turn it back a little"));
  CHECK(screen.shows("too far"));
  screen.press(key::tab);
  screen.press(key::digit_0 + 6);
  CHECK(screen.shows("never turned back a little"));
  screen.enter(""); // the one in trouble stands there
  screen.enter("turned too far");
  CHECK(screen.stages_of(0) == 0);
  CHECK(screen.stages_of(1) == 2);
  CHECK(screen.shows("Measure the length of bolt a first."));
}

TEST_CASE("a check needs a wrench that indicates, and a reading is never made up") {
  Joint screen(angle);
  screen.new_bolts();
  screen.press(key::letter_a);
  screen.press(key::letter_a);
  for (int f = 0; f < 4; ++f) screen.press(key::enter);
  CHECK(screen.shows("Nothing in the shop will do for this; F10 adds a gauge."));
  screen.add_wrench(
      R"("gauge":"peak","unit":"N.m","resolution":0.1,"tool":"indicating","class_error":0.01,"range":[1,300])");
  CHECK(screen.shows("with peak, shows the peak"));
  CHECK(screen.shows("60 to 120 N.m"));
  const auto seq = screen.build().seq;
  screen.press(key::enter);
  CHECK(screen.build().seq == seq);
  screen.enter("81.5");
  CHECK(screen.state().fasteners[0].back().value == *quantity::Exact::decimal("81.5"));
}

TEST_CASE("with an adapter the setting is corrected, shown in the wrench's own unit, and the bolt gets its torque") {
  Joint screen(torques);
  screen.press(key::tab);
  screen.press(key::digit_0 + 3);
  CHECK(screen.shows("L: square drive to middle of grip"));
  screen.enter("400");
  screen.enter("100");
  screen.enter("0");
  REQUIRE(screen.state().lever);
  CHECK(screen.shows("32 N.m"));
  CHECK(screen.shows("on the wrench; the bolt gets 40 N.m"));
  CHECK(screen.shows("E = 100 mm"));
  screen.press(key::letter_a);
  CHECK(screen.state().fasteners[3][0].value == quantity::Exact(40));
  screen.press(key::tab);
  screen.press(key::digit_0 + 4);
  CHECK_FALSE(screen.state().lever);
}

TEST_CASE("another wrench in another unit is set to its own nearest division") {
  Joint screen(torques);
  screen.add_wrench(
      R"("gauge":"old","unit":"lbf.ft","resolution":0.5,"tool":"setting","class_error":0.04,"range":[4,90])");
  CHECK(screen.shows("29.5 lbf.ft")); // 40 N.m are 29.502 lbf.ft: NIST SP 811 (2008), B.8
  CHECK(screen.shows("which is 39.997 N.m"));
  screen.press(f6);
  CHECK(screen.shows("with tw-1"));
  screen.press(f6);
  screen.press(key::letter_a);
  CHECK(screen.last_action().at("unit").as_text() == "lbf.ft");
  CHECK(screen.state().fasteners[0][0].judged.standing == build::Standing::within);
}

TEST_CASE("out of order is said by name, and the stage is gone round again") {
  Joint screen(torques);
  screen.press(key::tab);
  screen.press(key::digit_0 + 5);
  screen.enter("d");
  screen.enter("");
  CHECK(screen.last_action().at("fastener").as_text() == "d");
  CHECK(screen.last_action().at("value").as_text() == "40");
  for (int f = 0; f < 3; ++f) screen.press(key::enter);
  CHECK(screen.shows("go round again, in order"));
  CHECK(screen.stages_of(0) == 0);
}

TEST_CASE("left in the middle: the last sure one is shown, sure goes on and not sure goes round again") {
  Joint screen(torques);
  screen.press(key::enter);
  screen.press(key::enter);
  screen.now.utc_ms += 25 * 60'000;
  screen.frame();
  CHECK(screen.shows("The last sure one is c, by Ivo Tarrant, 25 minutes ago."));
  CHECK(screen.shows("Last sure: two of four, c"));
  screen.press(key::enter); // tightens nothing
  CHECK(screen.stages_of(2) == 0);
  screen.press(f5);
  CHECK(screen.desk->log().back().kind == "confirm");
  CHECK(screen.shows("Next: three of four"));
  screen.now.utc_ms += 25 * 60'000;
  screen.frame();
  screen.press(key::letter_n);
  CHECK(screen.shows("not sure of fastener c"));
  screen.press(key::enter);
  CHECK(screen.stages_of(0) == 0);
  CHECK(screen.last_action().at("reason").as_text() == "not sure of fastener c");
}

TEST_CASE("the torque that turns a nut is asked for and added") {
  Joint screen(R"("stages": [{"id": "1", "torque": "snug", "prevailing": true}])");
  CHECK(screen.shows("Torque to turn the nut, in N.m; it is added"));
  screen.press(key::enter);
  CHECK(screen.stages_of(0) == 0);
  screen.type("8");
  CHECK(screen.shows("48 N.m"));
  screen.press(key::enter);
  CHECK(screen.state().fasteners[0][0].value == quantity::Exact(48));
  screen.type("6"); // of the next
  CHECK(screen.shows("46 N.m"));
}

TEST_CASE("a bolt that is replaced is named, and nothing else is touched") {
  Joint screen(angle);
  screen.new_bolts();
  screen.press(key::letter_a);
  screen.press(f8);
  screen.press(key::digit_0 + 3);
  screen.enter("c");
  screen.enter("stripped");
  CHECK(screen.stages_of(1) == 0);
  CHECK(screen.stages_of(0) == 1);
  CHECK(build::bolt_at(screen.build(), {0, 0}, 1).replace);
}

TEST_CASE("Escape leaves a question about the joint without an answer") {
  Joint screen(torques);
  const auto seq = screen.build().seq;
  screen.press(key::tab);
  screen.press(key::digit_0 + 3);
  screen.press(key::escape);
  CHECK(screen.shows("All four, in this order"));
  CHECK(screen.build().seq == seq);
}

TEST_CASE("on a small window what comes next, the value and the keys are in sight") {
  for (const std::string& entry : {torques, angle}) {
    Joint screen(entry, 1024, 600);
    screen.frame();
    for (const char* text : {"Next: one of four", "40 N.m", "[Tab]"}) {
      const auto it = std::find_if(screen.drawn.begin(), screen.drawn.end(),
                                   [&](const auto& one) { return one.text.find(text) != std::string::npos; });
      INFO(text);
      REQUIRE(it != screen.drawn.end());
      CHECK(it->low.y > 74);
      CHECK(it->high.y < 590);
    }
  }
}

TEST_CASE("every shape and word of a figure is drawn on the screen, as it is on paper") {
  Screen screen;
  const auto figure =
      drawing::pattern(drawn::done_so_far(drawn::round_cover(), 3, drawing::Done::all_stages), {400, 300, 16});
  REQUIRE(figure.polygons.size() > 3);
  screen.drawn.clear();
  ImGui::NewFrame();
  ImGui::Begin("##figure");
  auto& own = *ImGui::GetWindowDrawList();
  const auto vertices_of = [&](const drawing::Figure& part) {
    const int before = own.VtxBuffer.Size;
    bench::draw(part, ImVec2(10, 10), 1);
    return own.VtxBuffer.Size - before;
  };
  drawing::Figure part{400, 300, {}, {}, {}};
  for (const auto& polygon : figure.polygons) {
    part.polygons = {polygon};
    CHECK(vertices_of(part) >= static_cast<int>(polygon.points.size()));
  }
  part.polygons.clear();
  for (const auto& line : figure.lines) {
    part.lines = {line};
    CHECK(vertices_of(part) >= static_cast<int>(line.points.size()));
  }
  bench::draw(figure, ImVec2(10, 10), 1);
  ImGui::End();
  ImGui::Render();
  REQUIRE(screen.drawn.size() == figure.texts.size());
  for (std::size_t i = 0; i < figure.texts.size(); ++i) CHECK(screen.drawn[i].text == figure.texts[i].text);
}

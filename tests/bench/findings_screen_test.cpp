// Faults found on parts, noted on the sheet and cleared on their own screen, by keyboard alone. The engine is made up.
#include "bench/finding_words.h"
#include "bench/screen.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

constexpr int f2 = bench::key::f1 + 1;
constexpr int f5 = bench::key::f1 + 4;
constexpr int f7 = bench::key::f1 + 6;
constexpr int f8 = bench::key::f1 + 7;
constexpr int f11 = bench::key::f1 + 10;

// A lid that is lapped and then fitted, valves, and a bracket that no step fits.
const std::string engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "parts":[{"id":"bracket","title":"Bracket"},{"id":"valve","title":"Valve","positions":["1i","1e"]},
    {"id":"lid","title":"Lid"}],
  "findings":[
    {"id":"warped","parts":["lid"],"text":"Lid warped","usually":"Lapped on the plate","proof":"lap/flat"},
    {"id":"cracked","parts":["lid"],"text":"Lid cracked","cause":true},
    {"id":"marked","parts":["valve"],"text":"Face slightly marked","severity":"slight"}],
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"lap","title":"Lap the lid","entries":[{"id":"flat","kind":"confirm","title":"Flat"}]},
    {"id":"lid-on","title":"Fit the lid","fits":["lid"],"entries":[{"id":"on","kind":"confirm","title":"On"}]},
    {"id":"valves","title":"Fit the valves","part":"valve","positions":["1i","1e"],"fits":["valve"],"entries":[
      {"id":"in","kind":"confirm","title":"In"}]}]}]})";

struct Bench : Screen {
  Bench() : Screen(1, 1280, 800, engine) { sign_in(); }

  void number(int which) { press(bench::key::digit_0 + which); }

  // The lid, with what stands at this number; nothing more is said of it.
  void find_on_lid(int what) {
    press_with_shift(f8);
    type("lid");
    press(bench::key::enter);
    number(what);
    press(bench::key::enter);
    press(bench::key::enter);
  }

  void find_in_words(const std::string& part, const std::string& words) {
    press_with_shift(f8);
    type(part);
    press(bench::key::enter);
    enter(words);
    press(bench::key::enter);
    press(bench::key::enter);
  }

  const build::Finding& finding(std::size_t index) const { return build().findings.at(index); }

  bool open(std::size_t index) const { return build::is_open(desk->shop(), build(), finding(index), desk->now()); }

  // Where on the screen it stands, from the top.
  float height_of(const std::string& text) const {
    const auto at =
        std::ranges::find_if(drawn, [&](const auto& one) { return one.text.find(text) != std::string::npos; });
    REQUIRE(at != drawn.end());
    return at->low.y;
  }
};

} // namespace

TEST_CASE("what is asked about a fault is in sight above its field, in the smallest window too") {
  Screen screen(1, 1024, 600);
  screen.sign_in();
  screen.press(bench::key::f1 + 4);
  screen.press_with_shift(bench::key::f1 + 7);
  bool asked = false;
  for (const auto& one : screen.drawn) {
    if (one.text != "Something was found: on which part?") continue;
    asked = true;
    CHECK(one.low.y >= one.room_low.y);
    CHECK(one.high.y <= one.room_high.y);
  }
  CHECK(asked);
}

TEST_CASE("a fault is noted, holds up its step, is cleared once proved, and the step is signed, by keyboard alone") {
  Bench bench;
  bench.press_with_shift(f8);
  CHECK(bench.shows("on which part?"));
  bench.type("LI");
  CHECK_FALSE(bench.shows("Bracket"));
  bench.press(bench::key::enter);
  CHECK(bench.shows("Lid: what was found?"));
  bench.number(1);
  bench.enter("beside the inlet");
  bench.enter("0.12 mm");
  REQUIRE(bench.build().findings.size() == 1);
  CHECK(bench.finding(0).offered == "warped");
  CHECK(bench.finding(0).place == "beside the inlet");
  CHECK(bench.finding(0).value == "0.12 mm");
  CHECK(bench.finding(0).found_by == "ivo");
  CHECK(bench.shows("Noted as f1. Usually: Lapped on the plate"));
  CHECK(bench.shows("1 finding open"));

  bench.press_with_shift(f2);
  CHECK(bench.shows("Open. It holds up \"Fit the lid\"."));
  CHECK(bench.shows("Proved by \"Lap the lid: Flat\", which is not good yet."));
  CHECK(bench.shows("Found by Ivo Tarrant"));
  bench.press(f8);
  bench.number(1);
  bench.enter("lapped flat");
  CHECK(bench.open(0));
  CHECK(bench.shows("holds no good value recorded since it was found"));

  bench.press(f2);
  bench.press(f5);
  bench.press(f7);
  CHECK(bench.state("lap") == "signed");
  CHECK(bench.shows("Lid: Lid warped (f1): say what was done about it."));
  bench.press(f5);
  bench.press(f7);
  CHECK(bench.state("lid-on") != "signed");

  bench.press_with_shift(f2);
  CHECK(bench.shows("which is good now."));
  bench.press(f8);
  bench.press(bench::key::enter); // rework stands first
  bench.enter("lapped flat");
  CHECK_FALSE(bench.open(0));
  CHECK(bench.shows("f1 is cleared."));
  CHECK(bench.shows("Done: rework, \"lapped flat\" (Ivo Tarrant"));
  CHECK_FALSE(bench.shows("What was done about it"));
  bench.press(f2);
  CHECK_FALSE(bench.shows("1 finding open"));
  bench.press(f7);
  CHECK(bench.state("lid-on") == "signed");
}

TEST_CASE("parts that the unfolded step fits are offered first") {
  Bench bench;
  bench.press_with_shift(f8);
  CHECK(bench.shows("Bracket   [1 or Enter]"));
  bench.press(bench::key::escape);
  bench.press(bench::key::page_down); // fits the lid
  bench.press_with_shift(f8);
  CHECK(bench.shows("Lid   [1 or Enter]"));
  CHECK(bench.shows("Bracket   [2]"));
}

TEST_CASE("of several the position is chosen, or all of them; one's own words are as good") {
  Bench bench;
  bench.press_with_shift(f8);
  bench.number(2);
  CHECK(bench.shows("Valve: which one?"));
  bench.press(bench::key::down);
  bench.press(bench::key::enter);
  CHECK(bench.shows("Valve 1e: what was found?"));
  bench.number(2);
  bench.enter(""); // nothing found is nothing to note
  bench.enter("");
  bench.enter("");
  CHECK(bench.build().findings.empty());
  bench.press(bench::key::escape);
  bench.press_with_shift(f8);
  bench.number(2);
  bench.number(2);
  bench.number(2);
  bench.enter("2 scratches across the face");
  bench.enter("");
  bench.enter("");
  REQUIRE(bench.build().findings.size() == 1);
  CHECK(bench.finding(0).position == "1e");
  CHECK(bench.finding(0).text == "2 scratches across the face");
  bench.press_with_shift(f8);
  bench.number(2);
  bench.number(3);
  bench.number(1);
  bench.enter("");
  bench.enter("");
  REQUIRE(bench.build().findings.size() == 2);
  CHECK(bench.finding(1).position.empty());
  CHECK(bench.finding(1).slight);
  CHECK(bench.shows("1 finding open"));
}

TEST_CASE("Escape leaves each question of a fault, and nothing is noted") {
  Bench bench;
  const auto before = bench.build().seq;
  for (int far = 0; far < 4; ++far) {
    bench.press_with_shift(f8);
    if (far > 0) bench.number(2); // valve
    if (far > 1) bench.number(1); // 1i
    if (far > 2) bench.number(1); // slightly marked
    bench.press(bench::key::escape);
    CHECK(bench.shows("Something was found   [Shift F8]"));
  }
  CHECK(bench.build().seq == before);
  bench.find_on_lid(2);
  bench.press_with_shift(f2);
  bench.press(f8);
  CHECK(bench.shows("What was done about it?"));
  bench.press(bench::key::escape);
  CHECK_FALSE(bench.shows("What was done about it?"));
  bench.press(f8);
  bench.number(3);
  bench.press(f2); // another screen leaves it too
  CHECK(bench.shows("Sign this step"));
  bench.press_with_shift(f2);
  CHECK_FALSE(bench.shows("In words"));
  CHECK(bench.open(0));
}

TEST_CASE("a faulty part used as it is: an owner's concession, not the finder's, with the customer's word") {
  Bench bench;
  bench.find_on_lid(2);
  bench.press_with_shift(f2);
  const auto concede = [&](const std::string& owner, const std::string& passphrase) {
    bench.press(f8);
    bench.number(4);
    bench.enter("crack stopped, clear of the bolts");
    bench.enter("Ada Marsh");
    bench.enter("by telephone");
    bench.enter(owner);
    bench.type(passphrase);
    CHECK_FALSE(bench.shows(passphrase));
    bench.press(bench::key::enter);
  };
  concede("ivo", "copper and brass");
  CHECK(bench.open(0));
  CHECK(bench.shows("another owner does"));
  concede("maud", "nine blue herons");
  CHECK_FALSE(bench.open(0));
  CHECK(bench.finding(0).disposition == "concession");
  const auto& event = bench.desk->log().back();
  CHECK(event.kind == "clear");
  CHECK(event.body.at("customer").text_or_empty("name") == "Ada Marsh");
}

TEST_CASE("where a cause is asked its want is told until it is written") {
  Bench bench;
  bench.find_on_lid(2);
  bench.press_with_shift(f2);
  CHECK(bench.shows("What caused it is not written yet; the release waits for that."));
  bench.press(f8);
  bench.number(3);
  bench.enter("another lid from stock");
  CHECK(bench.shows("1 cause not written"));
  bench.press(bench::key::letter_c);
  bench.enter("drained cold over a jack");
  CHECK(bench.finding(0).cause == "drained cold over a jack");
  CHECK(bench.shows("Cause: drained cold over a jack."));
  CHECK(bench.shows("none holds anything up"));
}

TEST_CASE("findings stand in the order in which they hold up the work, what is cleared behind them") {
  Bench bench;
  bench.find_in_words("bracket", "bent");
  bench.press_with_shift(f8);
  bench.number(2);
  bench.number(1);
  bench.number(2);
  bench.enter("burnt");
  bench.enter("");
  bench.enter("");
  bench.find_on_lid(2);
  REQUIRE(bench.build().findings.size() == 3);
  bench.press_with_shift(f2);
  CHECK(bench.shows("3 findings open"));
  CHECK(bench.height_of("(f3)") < bench.height_of("(f2)"));
  CHECK(bench.height_of("(f2)") < bench.height_of("(f1)"));
  CHECK(bench.shows("Open. It holds up the release; no step fits this part."));
  bench.press(f8);
  bench.number(3);
  bench.enter("another lid");
  CHECK_FALSE(bench.open(2));
  const auto order = bench::findings_in_order(bench.desk->shop(), bench.build(), bench.desk->now());
  CHECK(order[0].id == "f2");
  CHECK(order[1].id == "f1");
  CHECK(order[2].id == "f3");
  bench.press(bench::key::up); // the one above
  bench.press(f8);
  bench.number(2);
  bench.enter("straightened");
  CHECK(bench.finding(0).done == "straightened");
}

TEST_CASE("a fault found on a part that is fitted and signed stands under that step") {
  Bench bench;
  for (int step = 0; step < 2; ++step) {
    bench.press(f5);
    bench.press(f7);
  }
  REQUIRE(bench.state("lid-on") == "signed");
  bench.find_on_lid(1);
  bench.press(bench::key::page_up);
  CHECK(bench.shows("Lid: Lid warped (f1): open although this step is signed; it holds up the release."));
}

TEST_CASE("whoever clears a finding with nobody signed in is asked who is working first") {
  Bench bench;
  bench.find_on_lid(2);
  bench.press(f11);
  bench.press_with_shift(f2);
  bench.press(f8);
  CHECK(bench.shows("Who is working?"));
  bench.sign_in();
  CHECK(bench.shows("What was done about it?"));
  bench.number(3);
  bench.enter("another lid");
  CHECK_FALSE(bench.open(0));
}

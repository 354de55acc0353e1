// A gauge that types its readings, on the sheet with nothing else touched. The engine is made up.
#include "bench/screen.h"
#include "bench/typing_gauge.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

namespace {

constexpr int f5 = bench::key::f1 + 4;
constexpr int f8 = bench::key::f1 + 7;
constexpr int tab = bench::key::tab;

// Four cylinders, three heights, two directions, and behind them what the test asks for.
std::string engine(const std::string& next) {
  return R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "limits":{"bore":{"title":"Bore","unit":"mm","standard":{"low":78.000,"high":78.020},"basis":"invented example"},
            "bolt":{"title":"Bolt","unit":"N.m","standard":{"low":20,"high":24},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[{"id":"bores","title":"Measure the bores","positions":["1","2","3","4"],
    "entries":[
      {"id":"bore","kind":"readings","title":"Bore","unit":"mm","rows":["top","middle","bottom"],
       "columns":["along","across"],"limit":"bore","gauges":["bore gauge"]})" +
         (next.empty() ? "" : "," + next) + "]}]}]}";
}

const std::string choice = R"({"id":"hone","kind":"choice","title":"Honing marks","choices":["crossed","worn off"]})";
const std::string identity = R"({"id":"mark","kind":"identity","title":"Mark on the block"})";
const std::string skirt =
    R"({"id":"skirt","kind":"reading","title":"Skirt","unit":"mm","gauges":["micrometer"],"taken-apart":"keeps"})";
const std::string same =
    R"({"id":"recess","kind":"readings","title":"Recess","unit":"mm","rows":["a"],"gauges":["bore gauge"]})";
const std::string washed = R"({"id":"washed","kind":"confirm","title":"Washed and dried"})";
const std::string bolts = R"({"id":"bolts","kind":"tightening","title":"Lid bolts","fasteners":["1","2"],
  "stages":[{"id":"1","torque":"bolt"}]})";

struct Bench : Screen {
  explicit Bench(const std::string& next) : Screen(1, 1280, 800, engine(next)) { sign_in(); }

  const std::vector<build::Cell>& bores() const { return entry("bores", "bore").cells; }
  std::size_t measured() const {
    return static_cast<std::size_t>(std::ranges::count_if(bores(), &build::Cell::filled));
  }
  void whole_set() {
    for (int i = 0; i < 24; ++i) gauge(fmt::format("78.0{:02}", i % 20));
    REQUIRE(measured() == 24);
  }
};

} // namespace

TEST_CASE("a whole bore set is measured by a gauge that types, nothing else touched") {
  Bench bench(choice);
  for (int i = 0; i < 24; ++i) {
    CHECK(bench.measured() == static_cast<std::size_t>(i));
    bench.gauge(fmt::format("78.0{:02}", i % 20));
  }
  for (std::size_t c = 0; c < 24; ++c) CHECK(bench.bores()[c].value.fixed(3) == fmt::format("78.0{:02}", c % 20));
}

TEST_CASE("blanks, a sign, a decimal comma and the unit are read as the gauge means them") {
  Bench bench("");
  for (const char* typed : {"  78.001", "+78.002", "78,003", " +78,004 mm", "78.005mm", "0078.006"}) bench.gauge(typed);
  for (std::size_t c = 0; c < 6; ++c) CHECK(bench.bores()[c].value.text() == fmt::format("78.00{}", c + 1));
  CHECK(bench::as_the_gauge_means("-0,012 ") == "-0.012");
  CHECK(bench::as_the_gauge_means("1,234.5") == "1,234.5"); // no gauge writes that; it is refused as typed
  CHECK(bench::as_the_gauge_means("").empty());
}

TEST_CASE("a comma typed by hand is refused as ever") {
  Bench bench("");
  bench.enter("78,003");
  CHECK(bench.measured() == 0);
  CHECK(bench.shows("comma"));
}

TEST_CASE("once the set is full no choice is made and no bolt tightened by what the gauge goes on typing") {
  for (const auto& next : {choice, identity, skirt, bolts}) {
    INFO(next);
    Bench bench(next);
    bench.whole_set();
    const auto events = bench.desk->log().size();
    CHECK(bench.shows("Bore is measured. What the gauge types now is not taken; Tab goes on to"));
    for (const char* digit : {"1", "2"}) bench.press(bench::key::digit_0 + digit[0] - '0');
    bench.press(bench::key::letter_a);
    bench.gauge("78.012");
    CHECK(bench.shows("78.012 is not taken: Bore is measured; Tab goes on."));
    bench.gauge("1");
    CHECK(bench.desk->log().size() == events);
    bench.press(tab);
    CHECK_FALSE(bench.shows("is not taken"));
    CHECK(bench.desk->log().size() == events);
  }
}

TEST_CASE("behind the set and Tab a mark is written down as ever") {
  Bench mark(identity);
  mark.whole_set();
  mark.press(tab);
  mark.enter("B-1177");
  CHECK(mark.entry("bores", "mark").text == "B-1177");
}

TEST_CASE("behind the set and Tab another gauge types its own") {
  Bench micrometer(skirt);
  micrometer.whole_set();
  CHECK(micrometer.shows("Tab goes on to Skirt, with mic-1"));
  micrometer.press(tab);
  micrometer.gauge("41.970");
  CHECK(micrometer.entry("bores", "skirt").cells[0].tries.front().gauge == "mic-1");
}

TEST_CASE("with the same gauge in the same unit the work goes on into the next set") {
  Bench bench(same);
  bench.whole_set();
  bench.gauge("80.100");
  CHECK(bench.entry("bores", "recess").cells[0].value.text() == "80.1");
}

TEST_CASE("a key that no gauge types needs no Tab before it") {
  Bench bench(washed);
  bench.whole_set();
  bench.gauge("78.001");
  CHECK(bench.shows("78.001 is not taken"));
  bench.press(f5);
  CHECK(bench.entry("bores", "washed").done);
}

TEST_CASE("typed by hand, the set leads on without a stop") {
  Bench bench(identity);
  for (int i = 0; i < 24; ++i) bench.enter("78.010");
  bench.enter("B-1177");
  CHECK(bench.entry("bores", "mark").text == "B-1177");
}

TEST_CASE("an outside value stops the gauge: what it types on is no other point and answers no question") {
  Bench bench(choice);
  bench.gauge("78.010");
  bench.gauge("78.050");
  CHECK(bench.shows("outside, and the gauge stops here"));
  const auto events = bench.desk->log().size();
  for (const char* typed : {"78.011", "78.012", "1.2", "2"}) bench.gauge(typed);
  CHECK(bench.desk->log().size() == events);
  CHECK(bench.measured() == 2);
  CHECK(bench.bores()[1].value.text() == "78.05");
  CHECK(bench.shows("is not taken: 78.05 stands at 1, top, across, outside. F8 says what is done about it, Tab says "
                    "what"));
  bench.press(f8);
  CHECK(bench.shows("What is done about it?"));
}

TEST_CASE("the number that was not taken is taken up with Tab, and says what it means") {
  Bench bench(choice);
  bench.gauge("78.050");
  bench.gauge("78.005");
  bench.press(tab);
  CHECK(bench.shows("There is a reading already. What does 78.005 mean?"));
  bench.press(bench::key::digit_0 + 1);
  CHECK(bench.bores()[0].value.text() == "78.005");
  CHECK(bench.desk->log().back().kind == "correct");
  bench.gauge("78.006"); // and it goes on
  CHECK(bench.bores()[1].value.text() == "78.006");
}

TEST_CASE("a number typed into a question is no answer, a digit by itself is") {
  Bench bench(choice);
  bench.enter("78.050");
  bench.enter("78.005");
  REQUIRE(bench.shows("There is a reading already"));
  bench.gauge("12.345");
  CHECK(bench.bores()[0].value.text() == "78.05");
  bench.press(bench::key::digit_0 + 2);
  CHECK(bench.bores()[0].tries.size() == 2);
}

TEST_CASE("when nothing is left to measure the gauge is told so") {
  Bench bench("");
  bench.whole_set();
  bench.gauge("78.001");
  CHECK(bench.measured() == 24);
  CHECK(bench.bores()[0].tries.size() == 1);
  CHECK(bench.shows("78.001 from the gauge is not taken: no point of Bore is left to measure."));
}

TEST_CASE("a scanner types an identity mark of twenty letters and digits") {
  Bench bench(identity);
  for (int i = 0; i < 24; ++i) bench.enter("78.010");
  bench.gauge("HX4-150/B#1177-LOT_A");
  CHECK(bench.entry("bores", "mark").text == "HX4-150/B#1177-LOT_A");
}

TEST_CASE("as the engine comes apart the gauge fills the points and stops before another gauge") {
  std::string text = engine(skirt);
  for (const char* id : {R"("id":"bore",)", R"("id":"skirt",)"}) text.insert(text.find(id), R"("as-found":true,)");
  Screen screen(1, 1280, 800, text);
  screen.sign_in();
  screen.press_with_shift(bench::key::f1); // the last entry comes first
  for (int i = 0; i < 4; ++i) screen.gauge("41.970");
  CHECK(screen.shows("Skirt is measured. What the gauge types now is not taken; Tab goes on to Bore, with bore-1."));
  screen.gauge("41.970");
  CHECK(screen.entry("bores", "bore").as_found.empty());
  screen.press(tab);
  screen.gauge("78.030");
  CHECK(screen.entry("bores", "bore").as_found[0].value.text() == "78.03");
  CHECK(screen.entry("bores", "skirt").as_found.size() == 4);
}

// The parts of an engine by keyboard alone: named, sent to the machine shop, back; and the sizes, side by side. What is
// done is common practice, no source; the engine is made up.
#include "bench/screen.h"

#include "build/findings.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <fstream>

namespace {

constexpr int f2 = bench::key::f1 + 1;
constexpr int f3 = bench::key::f1 + 2;
constexpr int f4 = bench::key::f1 + 3;
constexpr int f6 = bench::key::f1 + 5;
constexpr int f7 = bench::key::f1 + 6;
constexpr int f8 = bench::key::f1 + 7;

// Two cylinders bored to an option that the bores as found call for, and a crank.
const std::string engine =
    R"({"format":1,"id":"two","title":"Two cylinders","revision":"1","engine":{"model":"HX4-150"},
  "options":[{"id":"oversize","title":"Bored over size, mm","choices":["standard","0.50","1.00"],"given":"standard"}],
  "parts":[{"id":"cylinder","title":"Cylinder","positions":["1","2"]},{"id":"crank","title":"Crankshaft"},
    {"id":"sealant","title":"Sealant","dated":true}],
  "limits":{"bore":{"title":"Cylinder bore","unit":"mm","standard":{"low":80,"high":80.02},"service":{"high":80.1},
    "basis":"invented example","when":[{"option":"oversize","is":"0.50","standard":{"low":80.5,"high":80.52}},
      {"option":"oversize","is":"1.00","standard":{"low":81,"high":81.02}}]}},
  "findings":[{"id":"scored","parts":["cylinder"],"text":"Scored bore"}],
  "machine-work":[{"id":"bore","parts":["cylinder"],"text":"Bored and honed","limits":["bore"],"finish":"Cross-hatched"}],
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"bores","title":"Bores","part":"cylinder","positions":["1","2"],"fits":["cylinder"],"entries":[
      {"id":"bore","kind":"reading","title":"Bore","unit":"mm","limit":"bore","parts":["cylinder"],"as-found":true,"loose":true}]},
    {"id":"size","title":"Which size","entries":[
      {"id":"oversize","kind":"calculated","title":"Smallest oversize","optional":true,"computation":"oversize-selection",
        "inputs":{"nominal":{"constant":{"value":80,"unit":"mm"}},"largest":{"entry":"bores/bore","as-found":true},
          "cleanup":{"constant":{"value":0.1,"unit":"mm"}},"available":{"constant":{"values":[0.5,1.0],"unit":"mm"}}}},
      {"id":"pick","kind":"choice","title":"Bored over size","option":"oversize","proposed-by":{"entry":"oversize","result":"choice"}}]},
    {"id":"crank","title":"Crank","fits":["crank","sealant"],"entries":[{"id":"in","kind":"confirm","title":"In"}]}]}]})";

struct Bench : Screen {
  explicit Bench(float width = 1280, float height = 800) : Screen(1, width, height, engine) { sign_in(); }

  void parts() { press_with_shift(f3); }
  void sizes() { press_with_shift(f4); }
  void number(int which) { press(bench::key::digit_0 + which); }

  // Both cylinders to be bored, on the order that is not sent yet.
  void collect_cylinders() {
    parts();
    press(f6);
    number(1); // bored and honed
    number(2); // cylinder 2 goes along
    press(bench::key::enter);
    if (shows("Which findings go on the order")) press(bench::key::enter);
    enter("");
  }

  void send(const std::string& to) {
    press(f7);
    enter(to);
    enter("");
  }

  void as_found(const char* first, const char* second) {
    press_with_shift(bench::key::f1);
    enter(first);
    enter(second);
  }

  const build::PartState& part(const std::string& id, const std::string& position = "") const {
    return build().parts.at({id, position});
  }
};

} // namespace

TEST_CASE("a part is named new, with lot and where it came from, and the line says so") {
  Bench bench;
  bench.parts();
  CHECK(bench.shows("Cylinder 1"));
  CHECK(bench.shows("new or reused is not said yet"));
  bench.type("cra");
  CHECK_FALSE(bench.shows("Cylinder 1"));
  bench.press(bench::key::enter);
  bench.number(1);
  bench.enter("K-17");
  bench.enter("Heronsgate stores");
  bench.enter("standard");
  bench.enter("");
  CHECK(bench.part("crank").state == "new");
  CHECK(bench.part("crank").lot == "K-17");
  CHECK(bench.part("crank").from == "Heronsgate stores");
  CHECK(bench.shows("new, size standard, lot K-17, from Heronsgate stores"));
}

TEST_CASE("two lines are collected into one order, its sizes are told, and the steps wait hatched and in words") {
  Bench bench;
  bench.press_with_shift(f4);
  bench.number(2); // 0.50; no reading calls for anything yet
  CHECK(bench.build().option("oversize") == "0.50");
  bench.collect_cylinders();
  CHECK(bench.build().orders.empty());
  CHECK(bench.shows("Cylinder 1, 2: Bored and honed"));
  bench.press(bench::key::down);
  bench.press(bench::key::down); // the crank
  bench.press(f6);
  bench.number(1); // in one's own words
  bench.enter("");
  bench.enter("ground with a radius"); // the finish alone is not enough: asked for the work again
  bench.enter("Journals polished");
  bench.enter("");
  CHECK(bench.shows("Crankshaft: Journals polished"));
  bench.send("Brook Lane Machining");
  REQUIRE(bench.build().orders.size() == 1);
  const auto& order = bench.build().orders.front();
  CHECK(order.to == "Brook Lane Machining");
  REQUIRE(order.lines.size() == 3);
  CHECK(order.lines[0].sizes.front().text == "80.50 to 80.52 mm");
  CHECK(order.lines[2].work == "Journals polished");
  CHECK(bench.shows("Order m1, Brook Lane Machining"));
  CHECK(bench.shows("away Cylinder 1, 2; Crankshaft"));
  CHECK_FALSE(bench.shows("To be sent with F7"));
  bench.press(bench::key::up);
  CHECK(bench.shows("Cylinder bore 80.50 to 80.52 mm"));
  bench.press(f2);
  CHECK(bench.shows("away"));
  bench.press(bench::key::page_down);
  CHECK(bench.shows("away: Cylinder 1 and 2 more are at Brook Lane Machining (m1)"));
}

TEST_CASE("a line taken out of an order is not sent, and Escape leaves each question with nothing collected") {
  Bench bench;
  bench.parts();
  for (int far = 0; far < 3; ++far) {
    bench.press(f6);
    if (far > 0) bench.number(1);
    if (far > 1) bench.press(bench::key::enter);
    bench.press(bench::key::escape);
    CHECK(bench.shows("To the machine shop [F6]"));
    CHECK_FALSE(bench.shows("To be sent with F7"));
  }
  bench.collect_cylinders();
  CHECK(bench.shows("To be sent with F7"));
  bench.press(bench::key::remove);
  CHECK_FALSE(bench.shows("To be sent with F7"));
  bench.press(f7);
  CHECK_FALSE(bench.shows("To which machine shop"));
  CHECK(bench.build().orders.empty());
}

TEST_CASE("open findings are ticked along, and one that is taken off the order is not on it") {
  Bench bench;
  const auto find = [&](int position) {
    bench.parts();
    for (int up = 0; up < 3; ++up) bench.press(bench::key::up);
    if (position == 2) bench.press(bench::key::down);
    bench.press_with_shift(f8);
    bench.number(1); // scored
    bench.enter("");
    bench.enter("");
  };
  find(1);
  find(2);
  REQUIRE(bench.build().findings.size() == 2);
  CHECK(bench.shows("Open: Scored bore (f1)"));
  bench.press(bench::key::up);
  bench.press(f6);
  bench.number(1);
  bench.number(2);
  bench.press(bench::key::enter);
  CHECK(bench.shows("f1 Scored bore: on the order"));
  bench.number(2);
  CHECK(bench.shows("f2 Scored bore: not on it"));
  bench.press(bench::key::enter);
  bench.enter("");
  bench.send("Brook Lane Machining");
  REQUIRE(bench.build().orders.size() == 1);
  CHECK(bench.build().orders[0].lines[0].findings == std::vector<std::string>{"f1"});
  CHECK(bench.build().orders[0].lines[1].findings.empty());
}

TEST_CASE("what comes back remade is named so and measured again; the other stays away") {
  Bench bench;
  bench.enter("80.010");
  bench.enter("80.011");
  bench.collect_cylinders();
  bench.send("Brook Lane Machining");
  bench.press(f8);
  bench.number(1); // remade
  bench.number(1); // this one alone
  bench.enter("honed 0.01");
  CHECK(bench.shows("To be measured again: Bore."));
  CHECK(bench.part("cylinder", "1").state == "remade");
  CHECK_FALSE(bench.build().orders[0].lines[0].away());
  CHECK(bench.build().orders[0].lines[1].away());
  CHECK_FALSE(bench.entry("bores", "bore").cells[0].filled());
  CHECK(bench.shows("away Cylinder 2"));
  bench.press(bench::key::down);
  bench.press(f8);
  bench.number(2); // as it went: the last of the order, nothing is asked about the others
  bench.enter("");
  CHECK_FALSE(bench.build().orders[0].lines[1].away());
  CHECK(bench.entry("bores", "bore").cells[1].filled());
  CHECK_FALSE(bench.shows("Order m1"));
}

TEST_CASE("an order that the gate refuses stays as it was collected, with the reason") {
  Bench bench;
  bench.collect_cylinders();
  bench.press(bench::key::enter); // name cylinder 1 meanwhile
  bench.number(2);
  for (int field = 0; field < 4; ++field) bench.enter("");
  bench.collect_cylinders(); // once more: the same part twice in one order is two kinds of work
  bench.send("Brook Lane Machining");
  REQUIRE(bench.build().orders.size() == 1);
  bench.parts();
  bench.press(bench::key::down);
  bench.press(bench::key::down);
  bench.press(f6);
  bench.number(1);
  bench.enter("Polished");
  bench.enter("");
  bench.press(bench::key::f1 + 10); // lock
  bench.press(f7);
  CHECK(bench.build().orders.size() == 1);
  CHECK(bench.shows("Crankshaft: Polished"));
  CHECK(bench.shows("Who is working?"));
}

TEST_CASE("the order is written beside the shop file with one key, and again under another name") {
  Bench bench;
  bench.collect_cylinders();
  bench.send("Brook Lane Machining");
  CHECK(bench.shows("Print order m1 [Home]"));
  bench.press(bench::key::home);
  const auto folder = bench.desk->shop_file().parent_path();
  CHECK(bench.shows("Written, to be printed: " + (folder / "marigold-m1.pdf").string()));
  std::ifstream file(folder / "marigold-m1.pdf", std::ios::binary);
  std::string start(5, ' ');
  file.read(start.data(), 5);
  CHECK(start == "%PDF-"); // ISO 32000-1, 7.5.2
  bench.press(bench::key::home);
  CHECK(bench.shows("marigold-m1-2.pdf"));
}

TEST_CASE("sealant is named with its lot and its last day, and past that day only with a reason") {
  Bench bench;
  bench.parts();
  bench.type("seal");
  const auto name = [&](const char* day, const char* words) {
    bench.press(bench::key::enter);
    bench.number(1);
    bench.enter("S-4");
    bench.enter(day);
    bench.enter("");
    bench.enter("");
    bench.enter(words);
  };
  name("", "");
  CHECK(bench.shows("has a last day of use"));
  name("2020-01-31", "");
  CHECK(bench.shows("its last day of use was 2020-01-31"));
  CHECK(bench.build().parts.empty());
  name("2020-01-31", "tried on a tin lid, set hard");
  CHECK(bench.part("sealant").used_out_of_date);
  CHECK(bench.shows("lot S-4, use by 2020-01-31 (named after that day)"));
  name("2030-01-31", "");
  CHECK(bench.part("sealant").expires == "2030-01-31");
}

TEST_CASE("the choices of a size stand side by side, the one that the readings call for marked in words") {
  for (const float width : {1280.0f, 1024.0f}) {
    Bench bench(width, width == 1024 ? 600 : 800);
    bench.as_found("80.31", "80.28");
    bench.sizes();
    CHECK(bench.shows("the readings call for this one"));
    CHECK(bench.shows("holds now"));
    CHECK(bench.shows("80.50 to 80.52 mm"));
    CHECK(bench.shows("81.00 to 81.02 mm"));
    CHECK(bench.shows("Bore, as found"));
    CHECK(bench.shows("2 outside"));
    float proposed = 0;
    float choice = -1;
    for (const auto& one : bench.drawn) {
      if (one.text == "the readings call for this one") proposed = one.low.x;
      if (one.text == "0.50") choice = one.low.x;
      INFO(one.text);
      CHECK(one.high.x <= width);
    }
    CHECK(proposed == choice);
  }
}

TEST_CASE("the proposed size is picked with its number, any other asks for the reason") {
  Bench bench;
  bench.as_found("80.31", "80.28");
  bench.sizes();
  bench.number(3);
  CHECK(bench.shows("1.00: the readings call for 0.50. Why this one?"));
  bench.press(bench::key::escape);
  CHECK(bench.build().option("oversize") == "standard");
  bench.number(3);
  bench.press(bench::key::enter); // without a reason
  CHECK(bench.build().option("oversize") == "standard");
  bench.enter("no 0.50 pistons to be had");
  CHECK(bench.build().option("oversize") == "1.00");
  CHECK(bench.desk->log().back().body.text_or_empty("text") == "no 0.50 pistons to be had");
  CHECK(bench.entry("size", "pick").done);
  bench.number(2);
  CHECK(bench.build().option("oversize") == "0.50");
}

TEST_CASE("nobody signed in: parts and sizes are seen, and whoever is to name one is asked who is working") {
  Bench bench;
  bench.press(bench::key::f1 + 10); // lock
  bench.parts();
  CHECK(bench.shows("Cylinder 1"));
  CHECK(bench.shows("Who is working?"));
  bench.sizes();
  CHECK(bench.shows("80.50 to 80.52 mm"));
  bench.number(2);
  CHECK(bench.build().option("oversize") == "standard");
}

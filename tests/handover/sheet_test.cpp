// What a release left open, on the sheet to fill in by hand: all of it, and nothing that the procedure does not say.
#include "build/bench.h"
#include "handover/pages.h"
#include "handover/reader.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

constexpr std::string_view engine = R"({"format":1,"id":"run","title":"Run","revision":"1","engine":{"model":"HX4-150"},
"limits":{
 "first":{"title":"First","unit":"N.m","target":75,"basis":"invented example"},
 "again":{"title":"Again","unit":"N.m","target":90,"basis":"invented example"},
 "idle":{"title":"Idle speed","unit":"rpm","standard":{"low":850,"high":950},"basis":"invented example"},
 "lash":{"title":"Lash","unit":"mm","standard":{"low":0.170,"high":0.23},"basis":"invented example"}},
"sections":[
 {"id":"head","title":"Head","steps":[{"id":"head","title":"Tighten the head","entries":[
  {"id":"bolts","kind":"tightening","title":"Head bolts",
   "fasteners":[{"id":"1","at":[0,0]},{"id":"2","at":[100,80]},{"id":"3","at":[100,0]},{"id":"4","at":[0,80]}],
   "stages":[{"id":"1","torque":"first"}]}]}]},
 {"id":"start","title":"First start","deferrable":true,"steps":[
  {"id":"stops","title":"Try both stops","hold":true,
   "cautions":[{"word":"NOTICE","hazard":"A bent lever.","consequence":"It sticks.","avoid":"Look along it."},
               {"word":"DANGER","hazard":"It can run away.","consequence":"It bursts.","avoid":"Plate in hand."}],
   "entries":[{"id":"fuel","kind":"choice","title":"Stop by fuel","choices":["stays","springs back"],"good":["stays"]},
              {"id":"who","kind":"identity","title":"Who holds the plate"}]},
  {"id":"warm","title":"Warm it up",
   "cautions":[{"word":"DANGER","hazard":"It can run away.","consequence":"It bursts.","avoid":"Plate in hand."}],
   "entries":[{"id":"run","kind":"wait","title":"Run under light load","least":{"value":30,"unit":"min"}},
              {"id":"idle","kind":"reading","title":"Idle as it runs","unit":"rpm","limit":"idle","by-eye":true},
              {"id":"lash","kind":"readings","title":"Lash once more","unit":"mm","limit":"lash","rows":["inlet","exhaust"]},
              {"id":"leaks","kind":"confirm","title":"No leaks"}]},
  {"id":"retorque","title":"Try the head again","entries":[
   {"id":"bolts","kind":"tightening","title":"Bolts, cold","fasteners-of":"head/bolts","retorque":true,
    "stages":[{"id":"1","torque":"again"}]}]}]}]})";

handover::Content content_of(const Bench& bench) {
  return handover::content_of(bench.build, bench.shop, bench.events);
}

Bench released() {
  Bench bench(engine);
  REQUIRE(bench.ok(
      R"({"do":"tighten","step":"head","entry":"bolts","fastener":"all","stage":"1","value":75,"gauge":"wrench"})"));
  REQUIRE(bench.ok(R"({"do":"sign","step":"head"})"));
  REQUIRE(bench.ok(
      R"({"do":"release","person":"anna","passphrase":"right","deferred":["start"],"reason":"runs at the boat"})"));
  return bench;
}

} // namespace

TEST_CASE("an open build and one with nothing left open have no sheet") {
  Bench bench(engine);
  CHECK(content_of(bench).sheet.steps.empty());
  Bench small;
  CHECK(content_of(small).sheet.steps.empty());
}

TEST_CASE("the sheet has every step and entry left open, with limits and a box for each value") {
  const auto sheet = content_of(released()).sheet;
  REQUIRE(sheet.steps.size() == 3);
  CHECK(sheet.steps[0].title == "Try both stops");
  CHECK(sheet.steps[0].hold);
  CHECK(sheet.steps[0].entries[0].blanks.front().names == std::vector<std::string>{"stays", "springs back"});
  const auto& warm = sheet.steps[1].entries;
  REQUIRE(warm.size() == 4);
  CHECK(warm[0].limits == "at least 30 min");
  CHECK(warm[1].limits == "850 to 950 rpm");
  CHECK(warm[1].blanks.front().names == std::vector<std::string>{""});
  CHECK(warm[2].limits == "0.17 to 0.23 mm");
  CHECK(warm[2].blanks.front().names == std::vector<std::string>{"inlet", "exhaust"});
  CHECK(warm[3].blanks.front().tick);
}

TEST_CASE("its cautions come first, worst first and each once, with hazard and how to avoid it") {
  const auto sheet = content_of(released()).sheet;
  REQUIRE(sheet.notices.size() == 2);
  CHECK(sheet.notices[0].word == "DANGER");
  CHECK(sheet.notices[0].text == "It can run away. Plate in hand.");
  CHECK(sheet.notices[1].word == "NOTICE");
}

TEST_CASE("a joint to be tried again says how it was tightened and what to try it with") {
  const auto sheet = content_of(released()).sheet;
  REQUIRE(sheet.retorques.size() == 1);
  const auto& again = sheet.retorques.front();
  CHECK(again.title == "Try the head again: Bolts, cold");
  CHECK(reader::has(again.first, "Tighten the head, signed 2026-01-05 "));
  CHECK(reader::has(again.first, ": torque, 75 N.m"));
  CHECK(again.stages.front().label == "torque, 90 N.m");
  CHECK(again.stages.front().names == std::vector<std::string>{"1", "2", "3", "4"});
  CHECK(again.figure);
}

TEST_CASE("the sheet is a page of its own that can be read") {
  const auto bench = released();
  const auto pdf = handover::pages_of(content_of(bench), bench.build);
  REQUIRE(pdf);
  const auto read = reader::sheets(*pdf);
  CHECK(reader::has(read.front(), "NOT YET RUN"));
  const auto page = std::find_if(read.begin() + 1, read.end(), [](const auto& text) {
    return reader::has(text, "First start, run-in and retorque");
  });
  REQUIRE(page != read.end());
  for (const char* words : {"DANGER", "It can run away. Plate in hand.", "Try both stops (hold point)", "checked by",
                            "Idle as it runs: 850 to 950 rpm", "To try again: Try the head again: Bolts, cold",
                            "torque, 90 N.m", "all of it done"})
    CHECK(reader::has(*page, words));
}

// Which figures stand on the pages: those that tell something, once there is something to tell.
#include "handover/figures.h"

#include "build/bench.h"
#include "handover/pages.h"
#include "handover/reader.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

constexpr std::string_view engine =
    R"({"format":1,"id":"all","title":"All","revision":"1","engine":{"model":"HX4-150"},
  "limits":{"bore":{"title":"Bore","unit":"mm","standard":{"low":82.50,"high":82.52},"basis":"invented example"},
            "flat":{"title":"Flat","unit":"mm","standard":{"high":0.05},"basis":"invented example"}},
  "gear-train":[{"id":"crank","title":"Crank","teeth":28},{"id":"cam","title":"Cam","teeth":56,"meshes":"crank"}],
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"bores","title":"Bores","positions":["1","2"],"entries":[
      {"id":"bore","kind":"readings","title":"Bore","unit":"mm","limit":"bore","rows":["top","middle","bottom"],"columns":["along","across"]},
      {"id":"form","kind":"calculated","title":"Form","computation":"form","inputs":{"readings":{"entry":"bore"}}},
      {"id":"pin","kind":"readings","title":"Pin","unit":"mm","rows":["front","middle","rear"]},
      {"id":"pin-form","kind":"calculated","title":"Form of the pin","computation":"form","inputs":{"readings":{"entry":"pin"}}}]},
    {"id":"face","title":"Face","entries":[{"id":"flat","kind":"reading","title":"Flat","unit":"mm","limit":"flat"}]},
    {"id":"rings","title":"Rings","entries":[
      {"id":"gaps","kind":"confirm","title":"Gaps set","ring-gaps":{"mark":"arrow","thrust":90,"thrust-side":"left","rings":[
        {"groove":1,"title":"Top ring","angle":40},{"groove":2,"title":"Second ring","angle":220}]}}]},
    {"id":"marks","title":"Marks","figure":"gear-train","entries":[
      {"id":"crank","kind":"choice","title":"Crank to cam","choices":["together","a tooth out"],"good":["together"]},
      {"id":"cam","kind":"choice","title":"Cam key","choices":["in","missing"],"good":["in"]}]}]}]})";

std::vector<handover::OnPage> figures(const Bench& bench, std::size_t step, std::size_t entry) {
  return handover::figures_of(bench.build, {step, entry});
}

bool written(const handover::OnPage& one, std::string_view text) {
  return std::any_of(one.figure.texts.begin(), one.figure.texts.end(), [&](const auto& it) { return it.text == text; });
}

} // namespace

TEST_CASE("a bore in three planes has its profile, at the positions that are measured; a pin without limits has none") {
  Bench bench(engine);
  CHECK(figures(bench, 0, 0).empty());
  bench.ok(
      R"({"do":"record","step":"bores","entry":"bore","position":"2","gauge":"mic","values":[[82.51,82.51],[82.512,82.53],[82.51,82.51]]})");
  bench.ok(
      R"({"do":"record","step":"bores","entry":"pin","position":"2","gauge":"mic","values":[24.001,24.002,24.001]})");
  const auto profile = figures(bench, 0, 0);
  REQUIRE(profile.size() == 1);
  CHECK(profile.front().title == "2");
  CHECK(written(profile.front(), "82.530"));
  CHECK(written(profile.front(), "good: 82.50 to 82.52 mm"));
  CHECK(figures(bench, 0, 2).empty());
}

TEST_CASE("a single reading within its limits is a number; one that was conceded stands between them") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"face","entry":"flat","gauge":"mic","value":0.02})");
  CHECK(figures(bench, 1, 0).empty());
  bench.ok(R"({"do":"correct","step":"face","entry":"flat","gauge":"mic","value":0.06,"reason":"misread"})");
  REQUIRE(figures(bench, 1, 0).size() == 1);
  CHECK(figures(bench, 1, 0).front().title == "0.06, outside");
  bench.ok(
      R"({"do":"dispose","step":"face","entry":"flat","disposition":"concession","text":"x","person":"olga","passphrase":"right"})");
  REQUIRE(figures(bench, 1, 0).size() == 1);
  CHECK(figures(bench, 1, 0).front().title == "0.06, outside: concession");
}

TEST_CASE("ring gaps are on the page once somebody has seen them, and no longer when the step is taken apart") {
  Bench bench(engine);
  CHECK(figures(bench, 2, 0).empty());
  bench.ok(R"({"do":"confirm","step":"rings","entry":"gaps"})");
  REQUIRE(figures(bench, 2, 0).size() == 1);
  CHECK(written(figures(bench, 2, 0).front(), "2 Second ring: 220 deg"));
  bench.ok(R"({"do":"sign","step":"rings"})");
  bench.ok(R"({"do":"reopen","step":"rings","reason":"a ring caught"})");
  CHECK(figures(bench, 2, 0).empty());
}

TEST_CASE("the gears are drawn once, when all their marks are together") {
  Bench bench(engine);
  bench.ok(R"({"do":"pick","step":"marks","entry":"cam","value":"in"})");
  CHECK(figures(bench, 3, 1).empty()); // the other is not seen yet
  bench.ok(R"({"do":"pick","step":"marks","entry":"crank","value":"together"})");
  CHECK(figures(bench, 3, 0).empty());
  REQUIRE(figures(bench, 3, 1).size() == 1);
  CHECK(figures(bench, 3, 1).front().title == "All marks are together.");
  Bench out(engine);
  out.ok(R"({"do":"pick","step":"marks","entry":"crank","value":"a tooth out"})");
  out.ok(R"({"do":"pick","step":"marks","entry":"cam","value":"in"})");
  CHECK(figures(out, 3, 1).empty());
}

TEST_CASE("figures stand on the pages in the words that the screen uses, inside their margins") {
  Bench bench(engine);
  bench.ok(R"({"do":"confirm","step":"rings","entry":"gaps"})");
  const auto made = handover::pages_of(handover::content_of(bench.build, bench.shop, bench.events), bench.build);
  REQUIRE(made);
  const std::string text = reader::said("pdftotext -layout FILE -", *made);
  CHECK(reader::has(text, "1 Top ring: 40 deg"));
  CHECK(reader::has(text, "Gaps set: done and seen"));
  for (const auto& one : figures(bench, 2, 0)) CHECK(one.figure.width < handover::text_width - 4);
}

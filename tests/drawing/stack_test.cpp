// Stacks of shims: what lies in them, what is wanted, and what is missing or too much.
#include "drawing/stack.h"

#include "build/bench.h"
#include "drawing/looking.h"

#include <catch2/catch.hpp>

namespace {

using namespace looking;

constexpr drawing::Room room{320, 84, 12}; // as on the sheet, seven times as high as the text

constexpr std::string_view engine =
    R"({"format":1,"id":"all","title":"All","revision":"1","engine":{"model":"HX4-150"},
  "limits":{"opening":{"title":"Opening","unit":"bar","target":115,"standard":{"low":112,"high":120},"basis":"invented example"},
            "play":{"title":"Play","unit":"mm","standard":{"low":0.05,"high":0.25},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"injectors","title":"Injectors","positions":["1","2"],"entries":[
      {"id":"found","kind":"reading","title":"Found","unit":"bar","by-eye":true},
      {"id":"shim","kind":"reading","title":"Shim","unit":"mm"},
      {"id":"choice","kind":"calculated","title":"Shim to take","computation":"shim-selection","inputs":{
        "measured":{"entry":"found"},"target":{"limit":"opening","bound":"target"},"change_per_mm":{"constant":100},"fitted":{"entry":"shim"},
        "available":{"constant":{"values":[1.30,1.35,1.40,1.45],"unit":"mm"}},
        "low":{"limit":"opening","bound":"low"},"high":{"limit":"opening","bound":"high"}}}]},
    {"id":"thrust","title":"Thrust","entries":[
      {"id":"play","kind":"reading","title":"Play","unit":"mm"},
      {"id":"washers","kind":"readings","title":"Washers","unit":"mm","rows":["one side","other side"]},
      {"id":"choice","kind":"calculated","title":"Washers to take","computation":"thrust-selection","inputs":{
        "play":{"entry":"play"},"fitted":{"entry":"washers"},"low":{"limit":"play","bound":"low"},"high":{"limit":"play","bound":"high"},
        "available":{"constant":{"values":[2.31,2.36,2.41],"unit":"mm"}}}}]},
    {"id":"spring","title":"Spring","entries":[
      {"id":"height","kind":"reading","title":"Height","unit":"mm"},
      {"id":"shim","kind":"calculated","title":"Shim","computation":"installed-height","inputs":{
        "measured":{"entry":"height"},"wanted":{"constant":{"value":36,"unit":"mm"}},"lift":{"constant":{"value":9,"unit":"mm"}},"solid":{"constant":{"value":24,"unit":"mm"}}}}]}]}]})";

} // namespace

TEST_CASE("a shim too thin: what is missing, which to take, and what that gives") {
  Bench bench(engine);
  CHECK_FALSE(drawing::stack(bench.build, {0, 2}, 1));
  bench.ok(R"({"do":"record","step":"injectors","entry":"found","position":"2","value":108})");
  bench.ok(R"({"do":"record","step":"injectors","entry":"shim","position":"2","gauge":"mic","value":1.35})");
  const auto stack = drawing::stack(bench.build, {0, 2}, 1);
  REQUIRE(stack);
  // 7 bar are missing, 100 bar for each mm.
  CHECK(stack->lack == Approx(0.07));
  CHECK(stack->lack_words == "0.07 mm missing");
  CHECK(stack->sum == "1.35 mm: 108 bar");
  CHECK(stack->wanted == "wanted 1.42 mm: 115 bar");
  CHECK(stack->limits == "good: 112 to 120 bar");
  CHECK(stack->then == "Take 1.4 mm: 113 bar");
  const auto figure = drawing::layers(*stack, room);
  CHECK(written(figure, "shim fitted: 1.35 mm"));
  CHECK(written(figure, "0.07 mm missing"));
  CHECK(all_inside(figure));
  CHECK(texts_apart(figure));
  CHECK_FALSE(drawing::stack(bench.build, {0, 2}, 0)); // the other injector is not measured
}

TEST_CASE("a washer too thick on each side: what is too much") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"thrust","entry":"play","gauge":"mic","value":0.04})");
  bench.ok(R"({"do":"record","step":"thrust","entry":"washers","gauge":"mic","values":[2.36,2.36]})");
  const auto stack = drawing::stack(bench.build, {1, 2}, 0);
  REQUIRE(stack);
  CHECK(stack->layers.size() == 2);
  // The middle of 0.05 and 0.25 less 0.04.
  CHECK(stack->lack == Approx(-0.11));
  CHECK(stack->lack_words == "0.11 mm too much");
  CHECK(stack->sum == "together 4.72 mm: play 0.04 mm");
  CHECK(stack->wanted == "wanted 4.61 mm: play 0.15 mm");
  CHECK(stack->then == "Take 2.31 mm on each side: play 0.14 mm");
  const auto figure = drawing::layers(*stack, room);
  CHECK(all_inside(figure));
  CHECK(texts_apart(figure));
}

TEST_CASE("a spring that stands too high wants a shim under it, one that stands low none") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"spring","entry":"height","gauge":"mic","value":37.3})");
  auto stack = drawing::stack(bench.build, {2, 1}, 0);
  REQUIRE(stack);
  CHECK(stack->wanted == "room for it: 37.3 mm");
  CHECK(stack->lack_words == "1.3 mm missing");
  CHECK(stack->then == "Take 1.3 mm");
  bench.ok(R"({"do":"correct","step":"spring","entry":"height","gauge":"mic","value":35.9,"reason":"misread"})");
  stack = drawing::stack(bench.build, {2, 1}, 0);
  CHECK(stack->lack_words == "0.1 mm too much");
  CHECK(stack->then.empty());
  CHECK(all_inside(drawing::layers(*stack, room)));
}

TEST_CASE("a stack as it is wanted says so; no size that fits is told") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"injectors","entry":"found","position":"1","value":115})");
  bench.ok(R"({"do":"record","step":"injectors","entry":"shim","position":"1","gauge":"mic","value":1.35})");
  CHECK(drawing::stack(bench.build, {0, 2}, 0)->lack_words == "as wanted");
  bench.ok(R"({"do":"record","step":"injectors","entry":"found","position":"2","value":60})");
  bench.ok(R"({"do":"record","step":"injectors","entry":"shim","position":"2","gauge":"mic","value":1.35})");
  CHECK(drawing::stack(bench.build, {0, 2}, 1)->then == "None of the sizes there are fits");
  CHECK_FALSE(drawing::stack(bench.build, {0, 1}, 0)); // a reading
}

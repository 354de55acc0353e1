// The part of another size in the box: told at the reading, and never written into the record. The sizes are those of
// the example engine's procedure.
#include "build/bench.h"
#include "build/wrong_part.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <fstream>
#include <iterator>

namespace {

struct Engine : Bench {
  Engine() : Bench(text()) {}

  static std::string text() {
    std::ifstream file(std::string(PROJECT_FOLDER) + "/procedures/hx4-150.json");
    return {std::istreambuf_iterator<char>(file), {}};
  }

  // Every point of the reading that the limit judges alike, as the box holds them: with this value.
  json::Value measure(const std::string& limit, const std::string& value) {
    at = plan->entries_of_limit(limit).front();
    const auto& step = plan->step(at.step);
    const auto& entry = plan->entry(at);
    const auto shape = procedure::cells_of(step, entry);
    std::string values = value;
    for (const std::size_t count : {shape.columns, shape.rows, shape.positions})
      if (count > 1) {
        std::string all;
        for (std::size_t i = 0; i < count; ++i) all += (i ? "," : "[") + values;
        values = all + "]";
      }
    if (!build.step(at.step).acknowledged.count("anna") && !step.cautions.empty())
      ok(R"({"do":"acknowledge","step":")" + step.id + "\"}");
    return perform(R"({"do":"record","gauge":"mic","step":")" + step.id + R"(","entry":")" + entry.id +
                   R"(","values":)" + values + "}");
  }

  std::string blocker() const {
    for (const auto& it : build::entry_blockers(shop, build, at, now))
      if (it.code == "reading-outside") return it.message;
    return "";
  }

  build::EntryAt at;
};

std::string other(const json::Value& answer) {
  INFO(json::compact(answer));
  REQUIRE(answer.at("ok").as_boolean());
  const auto* list = answer.find("other");
  return list ? json::compact(*list) : "";
}

} // namespace

TEST_CASE("a standard piston for an engine bored over size is named as the size it is") {
  Engine bench;
  bench.ok(R"({"do":"pick","option":"bore-oversize","value":"0.50"})");
  CHECK(other(bench.measure("piston-skirt", "77.955")) ==
        R"([{"option":"bore-oversize","choice":"standard"},{"option":"bore-oversize","choice":"sleeved"}])");
  CHECK(bench.events.back().body.find("other") == nullptr); // advice, not record
  CHECK(
      bench.blocker().find(
          R"(is outside (77.955 mm): it is the size for "Cylinders bored over size, mm, or sleeved" = standard or sleeved; )"
          "is it the part for this engine?") != std::string::npos);
}

TEST_CASE("an over size piston for a standard bore is named the other way about") {
  Engine bench;
  CHECK(other(bench.measure("piston-skirt", "78.455")) == R"([{"option":"bore-oversize","choice":"0.50"}])");
  // Once the option says so the part is right, and nothing more is said.
  bench.ok(R"({"do":"pick","option":"bore-oversize","value":"0.50"})");
  CHECK(bench.blocker().empty());
}

TEST_CASE("a journal of each ground size is told from the others, and one of no size is only outside") {
  for (const auto& [value, choice] :
       {std::pair("47.720", "0.25"), std::pair("47.470", "0.50"), std::pair("47.600", "")}) {
    Engine bench;
    const auto said = other(bench.measure("main-journal", value));
    INFO(value);
    CHECK(said == (*choice ? fmt::format(R"([{{"option":"main-undersize","choice":"{}"}}])", choice) : ""));
    CHECK((bench.blocker().find("rework, replace") != std::string::npos) == !*choice);
  }
}

TEST_CASE("a part worn within the service limit of another size is told too, once it is said to be reused") {
  Engine bench;
  CHECK(other(bench.measure("main-journal", "47.700")).empty()); // beyond the standard limits of every size
  bench.ok(R"({"do":"part","part":"crankshaft","state":"reused"})");
  CHECK(build::told(bench.build, build::other_choices(bench.build, bench.at, 0)) ==
        R"(it is the size for "Main journals ground under size, mm" = 0.25; is it the part for this engine?)");
}

TEST_CASE("a good reading asks for no other part") {
  Engine bench;
  CHECK(other(bench.measure("main-journal", "47.972")).empty());
  CHECK(build::other_choices(bench.build, bench.at, 0).empty());
}

TEST_CASE("a worked out value that another choice makes good is told with its entry") {
  Bench bench(R"({"format":1,"id":"t","title":"T","revision":"1","engine":{"model":"HX4-150"},
  "options":[{"id":"grade","title":"Gasket grade","choices":["1","2"],"given":"1"}],
  "limits":{"play":{"title":"Play","unit":"mm","basis":"invented example","standard":{"low":0.1,"high":0.2},
    "when":[{"option":"grade","is":"2","standard":{"low":0.3,"high":0.4}}]}},
  "sections":[{"id":"a","title":"A","steps":[{"id":"s","title":"S","entries":[
    {"id":"bore","kind":"readings","title":"Bore","unit":"mm","rows":["1","2"]},
    {"id":"pin","kind":"readings","title":"Pin","unit":"mm","rows":["1","2"]},
    {"id":"play","kind":"calculated","title":"Play","computation":"clearance","inputs":{"outer":{"entry":"bore"},"inner":{"entry":"pin"}},
     "judge":{"min":"play","max":"play"}}]}]}]})");
  bench.ok(R"({"do":"record","step":"s","entry":"bore","gauge":"mic","values":[20.35,20.36]})");
  const auto answer = bench.perform(R"({"do":"record","step":"s","entry":"pin","gauge":"mic","values":[20,20.01]})");
  CHECK(other(answer) == R"([{"option":"grade","choice":"2","entry":"play"}])");
  const auto blockers = build::entry_blockers(bench.shop, bench.build, {0, 2}, bench.now);
  REQUIRE(blockers.size() == 1);
  CHECK(blockers[0].message ==
        R"(Play is outside: it is the size for "Gasket grade" = 2; is it the part for this engine?)");
}

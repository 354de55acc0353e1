#include "build/bench.h"

#include <catch2/catch.hpp>

using Codes = std::vector<std::string>;

namespace {

void end_play(Bench& bench) {
  bench.ok(R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})");
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.19],[0,0.19]]})");
  bench.ok(R"({"do":"sign","step":"float"})");
}

Bench to_the_end_play() {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.caps();
  end_play(bench);
  return bench;
}

} // namespace

TEST_CASE("cap reopened takes its clearance along") {
  Bench bench = to_the_end_play();
  bench.ok(R"({"do":"reopen","step":"mains","reason":"shell looked at","positions":["2"]})");
  // the clearance of cap 2 asks whether it is still true, those of 1 and 3 do not
  const auto& oil = bench.entry("mains", "oil").calculated;
  CHECK_FALSE(oil[0].asked);
  CHECK(oil[1].asked);
  CHECK_FALSE(oil[2].asked);
  // its bolts are loose, the others are not
  const auto& bolts = bench.entry("caps", "bolts").fasteners;
  CHECK(bolts[0].empty());
  CHECK(bolts[1].empty());
  CHECK(bolts[2].size() == 2);
  CHECK(bench.state("mains") == "reopened");
  CHECK(bench.state("caps") == "reopened");
  CHECK(bench.state("float") == "reopened");
  CHECK(bench.state("clean") == "signed");
}

TEST_CASE("sizes are kept, clearances ask, tightening and turning torque are lost") {
  Bench bench = to_the_end_play();
  bench.ok(R"({"do":"reopen","step":"caps","reason":"dowel proud"})");
  CHECK(bench.entry("mains", "journal").cells[0].filled());
  CHECK(bench.state("mains") == "signed");
  CHECK_FALSE(bench.entry("caps", "strip").cells[0].filled());
  CHECK_FALSE(bench.entry("float", "turning").cells[0].filled());
  CHECK(bench.entry("float", "dial").cells[0].filled());
  CHECK(bench.entry("float", "dial").cells[0].asked);
  CHECK(bench.entry("float", "play").calculated[0].asked);
  CHECK(bench.build.step(2).pass == 2);
}

TEST_CASE("one key says still true, and what follows from it is asked no more") {
  Bench bench = to_the_end_play();
  bench.ok(R"({"do":"reopen","step":"caps","reason":"dowel proud"})");
  bench.caps();
  bench.ok(R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})");
  CHECK(bench.blocking("float") == Codes{"entry-missing", "entry-missing"});
  bench.ok(R"({"do":"confirm","step":"float","entry":"dial"})");
  CHECK(bench.blocking("float").empty());
  bench.ok(R"({"do":"sign","step":"float"})");
}

TEST_CASE("a reading that asks may be measured again instead") {
  Bench bench = to_the_end_play();
  bench.ok(R"({"do":"reopen","step":"float","reason":"dial slipped"})");
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.15],[0,0.15]]})");
  CHECK(bench.entry("float", "play").calculated[0].results.at("play").at("value").as_text() == "0.15");
  CHECK_FALSE(bench.entry("float", "play").calculated[0].asked);
}

TEST_CASE("a preview shows what would be lost and changes nothing") {
  Bench bench = to_the_end_play();
  const auto before = everything(bench.build);
  build::Context context;
  const build::Actor anna{"anna", "Anna Reed", "c", {build::Role::builder}};
  context.actor = &anna;
  const auto action = *json::read_one(R"({"do":"reopen","build":"b","step":"caps","preview":true})");
  const auto preview = build::preview_reopen(bench.shop, bench.build, action, context);
  REQUIRE(preview);
  CHECK(json::compact(preview->at("reopened")) == R"(["caps","float"])");
  CHECK(json::compact(preview->at("lost")) ==
        R"([{"step":"caps","entry":"bolts"},{"step":"caps","entry":"strip"},{"step":"float","entry":"turning"}])");
  CHECK(everything(bench.build) == before);
}

TEST_CASE("a step nobody has touched cannot be reopened") {
  Bench bench;
  CHECK(bench.refused(R"({"do":"reopen","step":"mains","reason":"x"})") == "bad-value");
  bench.clean();
  CHECK(bench.refused(R"({"do":"reopen","step":"clean"})") == "bad-value"); // no reason
  bench.mains();
  CHECK(bench.refused(R"({"do":"reopen","step":"mains","reason":"x","positions":["9"]})") == "bad-value");
}

TEST_CASE("the notices are read again after a reopening") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"reopen","step":"clean","reason":"rag missing"})");
  CHECK(bench.refused(R"({"do":"confirm","step":"clean","entry":"galleries"})") == "caution-unread");
}

TEST_CASE("reopening the first step reopens all that rests on it and keeps loose sizes") {
  Bench bench = to_the_end_play();
  bench.ok(R"({"do":"reopen","step":"clean","reason":"gallery plug found"})");
  CHECK(bench.state("mains") == "reopened");
  CHECK(bench.state("caps") == "reopened");
  CHECK(bench.entry("mains", "bore").cells[0].asked);
  CHECK_FALSE(bench.entry("mains", "journal").cells[0].asked);
  CHECK(bench.refused(R"({"do":"sign","step":"mains"})") == "blocked");
}

TEST_CASE("a later half done step that rests on nothing reopened is left alone") {
  Bench bench = to_the_end_play();
  bench.ok(R"({"do":"identify","step":"cover","entry":"number","text":"C 12"})");
  bench.ok(R"({"do":"reopen","step":"caps","reason":"dowel proud"})");
  CHECK(bench.state("cover") == "half done");
  CHECK(bench.entry("cover", "number").done);
}

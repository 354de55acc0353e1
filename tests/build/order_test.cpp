#include "build/bench.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

using Codes = std::vector<std::string>;

TEST_CASE("a step is not signed before what it rests on") {
  Bench bench;
  CHECK(bench.state("mains") == "not yet");
  CHECK(bench.blocking("mains").front() == "out-of-order");
  CHECK(bench.refused(R"({"do":"sign","step":"mains"})") == "blocked");
  bench.clean();
  CHECK(bench.state("clean") == "signed");
  CHECK(bench.state("mains") == "open");
}

TEST_CASE("the notices are read by each person before their first entry") {
  Bench bench;
  CHECK(bench.refused(R"({"do":"confirm","step":"clean","entry":"galleries"})") == "caution-unread");
  bench.ok(R"({"do":"acknowledge","step":"clean"})");
  bench.signed_in("ben");
  CHECK(bench.refused(R"({"do":"confirm","step":"clean","entry":"galleries"})") == "caution-unread");
  bench.signed_in("anna");
  bench.ok(R"({"do":"confirm","step":"clean","entry":"galleries"})");
  bench.signed_in("ben");
  CHECK(bench.refused(R"({"do":"sign","step":"clean"})") == "blocked");
}

TEST_CASE("a signed step refuses everything but reopening") {
  Bench bench;
  bench.clean();
  bench.mains();
  for (const char* line :
       {R"({"do":"acknowledge","step":"clean"})", R"({"do":"confirm","step":"clean","entry":"galleries"})",
        R"({"do":"sign","step":"clean"})",
        R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48,48],[48,48],[48,48]]})",
        R"({"do":"again","step":"mains","entry":"bore","gauge":"mic","values":[[48,48],[48,48],[48,48]]})",
        R"({"do":"take-back","step":"mains","entry":"journal"})",
        R"({"do":"dispose","step":"mains","entry":"bore","disposition":"rework","text":"x"})",
        R"({"do":"accept","step":"mains","entry":"bore","reason":"x"})"}) {
    INFO(line);
    CHECK(bench.refused(line) == "step-signed");
  }
  bench.ok(R"({"do":"reopen","step":"mains","reason":"shell looked at again"})");
}

TEST_CASE("a correction in a signed step that changes no verdict is signed again, alone") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.caps();
  CHECK(
      bench.refused(
          R"({"do":"correct","step":"mains","entry":"journal","gauge":"mic","values":[[47.870,null],null,null],"reason":"typed"})") ==
      "step-signed");
  bench.ok(
      R"({"do":"correct","step":"mains","entry":"journal","gauge":"mic","values":[[47.969,null],null,null],"reason":"typed"})");
  CHECK(bench.state("mains") == "reopened");
  CHECK(bench.state("caps") == "signed");
  CHECK(bench.blocking("mains").empty());
  bench.ok(R"({"do":"sign","step":"mains"})");
}

TEST_CASE("a hold point wants a second person, with their passphrase") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.caps();
  bench.ok(R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})");
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.19],[0,0.19]]})");
  bench.ok(R"({"do":"sign","step":"float"})");
  CHECK(bench.state("float") == "wants a second person");
  CHECK(bench.blocking("float") == Codes{"second-person-needed"});
  CHECK(bench.refused(R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})") ==
        "step-signed");
  CHECK(bench.refused(R"({"do":"sign","step":"float"})") == "blocked");
  CHECK(bench.refused(R"({"do":"sign","step":"float","person":"anna","passphrase":"right"})") == "blocked");
  bench.signed_in("carl");
  CHECK(bench.refused(R"({"do":"sign","step":"float"})") == "blocked"); // not without the passphrase
  bench.ok(R"({"do":"sign","step":"float","person":"carl","passphrase":"right"})");
  CHECK(bench.state("float") == "signed");
  CHECK(bench.events.back().meaning == "checked");
}

TEST_CASE("an inspector does not do the builder's work") {
  Bench bench;
  bench.signed_in("carl");
  CHECK(bench.refused(R"({"do":"confirm","step":"clean","entry":"galleries"})") == "role-needed");
  bench.ok(R"({"do":"note","step":"clean","text":"seen"})");
  bench.signed_in("");
  CHECK(bench.refused(R"({"do":"confirm","step":"clean","entry":"galleries"})") == "sign-in-needed");
}

TEST_CASE("a step of another variant is not on this engine") {
  Bench bench;
  CHECK(bench.blocking("rotor-pump") == Codes{"option-unset"});
  CHECK(bench.refused(R"({"do":"confirm","step":"rotor-pump","entry":"tips"})") == "option-unset");
  bench.ok(R"({"do":"pick","option":"pump","value":"gear"})");
  CHECK(bench.state("rotor-pump") == "not on this engine");
  CHECK(bench.refused(R"({"do":"confirm","step":"rotor-pump","entry":"tips"})") == "not-on-this-engine");
  CHECK(bench.refused(R"({"do":"sign","step":"rotor-pump"})") == "not-on-this-engine");
  bench.ok(R"({"do":"pick","option":"pump","value":"rotor"})");
  bench.ok(R"({"do":"confirm","step":"rotor-pump","entry":"tips"})");
  bench.ok(R"({"do":"sign","step":"rotor-pump"})");
  CHECK(bench.refused(R"({"do":"pick","option":"pump","value":"gear"})") == "step-signed");
}

TEST_CASE("an empty limit blocks only its own step until it is filled in and signed") {
  Bench bench;
  bench.ok(R"({"do":"record","step":"relief","entry":"lift","gauge":"mic","value":2.5})");
  CHECK(bench.blocking("relief") == Codes{"limit-missing"});
  CHECK(bench.blocking("clean") == Codes{"caution-unread", "entry-missing"});
  CHECK(
      bench.refused(
          R"({"do":"fill-limit","limit":"lift","unit":"in","standard":{"low":2,"high":3},"basis":"maker","source":"p. 12"})") ==
      "bad-unit");
  CHECK(
      bench.refused(
          R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":3,"high":2},"basis":"maker","source":"p. 12"})") ==
      "bad-value");
  CHECK(bench.refused(R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":2},"basis":"maker"})") ==
        "bad-value");
  bench.signed_in("ben");
  CHECK(bench.refused(R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":2},"basis":"shop"})") ==
        "role-needed");
  bench.ok(
      R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":2,"high":3},"basis":"maker","source":"p. 12"})");
  CHECK(bench.events.back().meaning == "done");
  CHECK(bench.blocking("relief").empty());
  CHECK(
      bench.refused(
          R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":1},"basis":"maker","source":"p. 12"})") ==
      "already-recorded");
}

TEST_CASE("sealant waits while nobody looks, and comes too late") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"identify","step":"cover","entry":"number","text":"C 12"})");
  bench.ok(R"({"do":"pick","step":"cover","entry":"faces","value":"sound"})");
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.02})");
  const auto answer = bench.perform(R"({"do":"wait","step":"cover","entry":"skin"})");
  CHECK(answer.at("until").as_text() == "2026-01-05T09:20:00.000+01:00");
  bench.later(19);
  CHECK(bench.blocking("cover") == Codes{"waiting"});
  bench.later(1);
  CHECK(bench.blocking("cover").empty());
  bench.later(41);
  CHECK(bench.blocking("cover") == Codes{"too-late"});
  CHECK(bench.refused(R"({"do":"wait","step":"cover","entry":"skin"})") == "already-recorded");
  bench.ok(R"({"do":"dispose","step":"cover","entry":"skin","disposition":"rework","text":"wiped off and laid anew"})");
  bench.ok(R"({"do":"wait","step":"cover","entry":"skin"})");
  bench.later(20);
  bench.ok(R"({"do":"sign","step":"cover"})");
}

TEST_CASE("a choice that is no good blocks, and is chosen anew after rework") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"pick","step":"cover","entry":"faces","value":"cracked"})");
  CHECK(bench.blocking("cover").at(1) == "reading-outside");
  CHECK(bench.refused(R"({"do":"pick","step":"cover","entry":"faces","value":"sound"})") == "already-recorded");
  bench.ok(R"({"do":"dispose","step":"cover","entry":"faces","disposition":"replace","text":"another cover"})");
  bench.ok(R"({"do":"pick","step":"cover","entry":"faces","value":"sound"})");
}

namespace {

void all_but_the_start(Bench& bench) {
  bench.clean();
  bench.mains();
  bench.ok(R"({"do":"pick","option":"pump","value":"gear"})");
  bench.caps();
  bench.ok(R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})");
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.19],[0,0.19]]})");
  bench.ok(R"({"do":"sign","step":"float"})");
  bench.ok(R"({"do":"sign","step":"float","person":"ben","passphrase":"right"})");
  bench.ok(R"({"do":"identify","step":"cover","entry":"number","text":"C 12"})");
  bench.ok(R"({"do":"pick","step":"cover","entry":"faces","value":"sound"})");
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.02})");
  bench.ok(R"({"do":"wait","step":"cover","entry":"skin"})");
  bench.later(30);
  bench.ok(R"({"do":"sign","step":"cover"})");
  bench.ok(R"({"do":"record","step":"relief","entry":"lift","gauge":"mic","value":2.5})");
  bench.ok(
      R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":2,"high":3},"basis":"maker","source":"p. 12"})");
}

} // namespace

TEST_CASE("release waits for every step but those of a section that may be deferred") {
  Bench bench;
  all_but_the_start(bench);
  CHECK(bench.refused(R"({"do":"release","person":"anna","passphrase":"right"})") == "blocked");
  CHECK(bench.refused(R"({"do":"release"})") == "wrong-passphrase");
  CHECK(bench.refused(R"({"do":"release","person":"anna","passphrase":"right","deferred":["rest"],"reason":"x"})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"release","person":"anna","passphrase":"right","deferred":["start"]})") == "bad-value");
  const std::string line =
      R"({"do":"release","person":"anna","passphrase":"right","deferred":["start"],"reason":"runs at the boat"})";
  CHECK(bench.refused(line) == "blocked"); // the relief valve is filled in but not signed
  bench.ok(R"({"do":"sign","step":"relief"})");
  CHECK(bench.perform(line).at("outcome").as_text() == "released");
  CHECK(bench.build.released());
  CHECK(bench.events.back().meaning == "released");
  CHECK(bench.refused(R"({"do":"reopen","step":"relief","reason":"x"})") == "released");
  bench.ok(R"({"do":"addendum","person":"anna","passphrase":"right","text":"first start seen"})");
}

TEST_CASE("an engine handed back unfinished is signed as not released, with the list, and work may go on") {
  Bench bench;
  all_but_the_start(bench);
  const std::string line =
      R"({"do":"release","person":"anna","passphrase":"right","outcome":"not released","reason":"the owner wants it home"})";
  CHECK(bench.refused(
            R"({"do":"release","person":"anna","passphrase":"right","outcome":"as good as new","reason":"x"})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"release","person":"anna","passphrase":"right","outcome":"not released"})") ==
        "bad-value");
  const auto answer = bench.perform(line);
  CHECK(answer.at("outcome").as_text() == "not released");
  CHECK(!answer.at("blockers").items().empty());
  CHECK(bench.events.back().meaning == "released");
  CHECK(!bench.build.released());
  CHECK(!bench.shop.builds.at("b").released);
  bench.ok(R"({"do":"sign","step":"relief"})");
  const auto released = bench.perform(
      R"({"do":"release","person":"anna","passphrase":"right","deferred":["start"],"reason":"runs at the boat"})");
  CHECK(released.at("outcome").as_text() == "released");
  CHECK(released.at("work").as_text() == "rebuilt");
  CHECK(bench.shop.builds.at("b").released);
}

TEST_CASE("with a part held to its service limit the engine is overhauled, not rebuilt") {
  Bench bench;
  bench.ok(R"({"do":"part","part":"crank","state":"reused"})");
  for (const char* position : {"1", "2", "3"})
    bench.ok(fmt::format(R"({{"do":"part","part":"shell","position":"{}","state":"reused"}})", position));
  all_but_the_start(bench);
  bench.ok(R"({"do":"sign","step":"relief"})");
  CHECK(
      bench
          .perform(
              R"({"do":"release","person":"anna","passphrase":"right","deferred":["start"],"reason":"runs at the boat"})")
          .at("work")
          .as_text() == "overhauled");
}

TEST_CASE("nothing is added to a record that is still open") {
  Bench bench;
  CHECK(bench.refused(R"({"do":"addendum","person":"anna","passphrase":"right","text":"x"})") == "not-released");
}

TEST_CASE("unknown names are answered with what there is") {
  Bench bench;
  CHECK(bench.refused(R"({"do":"confirm","step":"clutch","entry":"x"})") == "unknown-step");
  CHECK(bench.refused(R"({"do":"confirm","step":"clean","entry":"x"})") == "unknown-entry");
  CHECK(bench.message == "The step \"Clean the block\" has no entry \"x\"; it has: galleries.");
  CHECK(bench.refused(R"({"do":"confirm","step":"clean"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"confirm","step":"clean","entry":"galleries","colour":"red"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"weld","part":"crank","text":"scored"})") == "unknown-action");
  CHECK(
      bench.refused(
          R"({"do":"open-build","build":"b","procedure":"x","engine":{"model":"m","serial":"s","hours":1},"customer":"c"})") ==
      "bad-value");
  CHECK(
      bench.refused(
          R"({"do":"open-build","build":"B 2","procedure":"x","engine":{"model":"m","serial":"s","hours":1},"customer":"c"})") ==
      "bad-value");
}

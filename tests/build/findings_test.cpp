// Faults found on parts: what they hold up, what clears them, and that none is forgotten. The faults are those of the
// trade (common practice, no source); the engine is made up.
#include "build/bench.h"
#include "build/findings.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

// A seal with a groove on its land, valves in two positions, a pump cover.
constexpr std::string_view engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "parts":[{"id":"seal","title":"Rear seal"},{"id":"crank","title":"Crankshaft"},
    {"id":"valve","title":"Valve","positions":["1","2"]},{"id":"sump","title":"Sump"}],
  "limits":{"lip":{"title":"Lip beside the groove","unit":"mm","standard":{"low":1},"basis":"invented example"}},
  "findings":[
    {"id":"groove","parts":["crank"],"text":"Groove worn where the lip ran","usually":"New seal beside the groove","proof":"seal/lip"},
    {"id":"bore","parts":["sump"],"text":"Welded over","cause":true},
    {"id":"marked","parts":["valve"],"text":"Slightly marked face","severity":"slight"}],
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"seal","title":"Press in the seal","fits":["seal","crank"],"entries":[
      {"id":"lip","kind":"reading","title":"Lip from the groove","unit":"mm","limit":"lip"}]},
    {"id":"valves","title":"Valves in","part":"valve","positions":["1","2"],"fits":["valve"],"entries":[
      {"id":"in","kind":"confirm","title":"In"}]},
    {"id":"one-valve","title":"Valve 1 again","part":"valve","positions":["1"],"fits":["valve"],"entries":[
      {"id":"in","kind":"confirm","title":"In"}]},
    {"id":"look","title":"Look","entries":[{"id":"seen","kind":"confirm","title":"Seen"}]}]}]})";

bool has(const std::vector<std::string>& codes, std::string_view code) {
  return std::find(codes.begin(), codes.end(), code) != codes.end();
}

void sign_all(Bench& bench) {
  for (const char* step : {"valves", "one-valve"}) {
    bench.ok(std::string(R"({"do":"confirm","entry":"in","step":")") + step + "\"}");
    bench.ok(std::string(R"({"do":"sign","step":")") + step + "\"}");
  }
  bench.ok(R"({"do":"confirm","step":"look","entry":"seen"})");
  bench.ok(R"({"do":"sign","step":"look"})");
}

std::vector<std::string> release_codes(const Bench& bench) {
  std::vector<std::string> out;
  for (const auto& it : build::release_blockers(bench.shop, bench.build, {}, bench.now)) out.push_back(it.code);
  return out;
}

} // namespace

TEST_CASE("a finding holds up the step that fits the part, until what proves it is good") {
  Bench bench(engine);
  const auto found = bench.perform(R"({"do":"finding","part":"crank","offered":"groove","place":"rear land"})");
  CHECK(found.text_or_empty("finding") == "f1");
  CHECK(found.text_or_empty("usually") == "New seal beside the groove");
  CHECK(has(bench.blocking("seal"), "finding-open"));
  CHECK_FALSE(has(bench.blocking("look"), "finding-open"));
  CHECK(bench.refused(R"({"do":"clear","finding":"f1","disposition":"replace","text":"New seal set deeper"})") ==
        "not-proved");
  bench.ok(R"({"do":"record","step":"seal","entry":"lip","value":1.6,"gauge":"mic"})");
  CHECK(bench.refused(R"({"do":"sign","step":"seal"})") == "blocked");
  bench.ok(R"({"do":"clear","finding":"f1","disposition":"replace","text":"New seal set deeper"})");
  CHECK(bench.build.findings[0].proof == build::EntryAt{0, 0});
  bench.ok(R"({"do":"sign","step":"seal"})");
}

TEST_CASE("a reading that does not prove it clears nothing: the new lip in the old groove") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"crank","offered":"groove"})");
  bench.ok(R"({"do":"record","step":"seal","entry":"lip","value":0.2,"gauge":"mic"})");
  CHECK(bench.refused(R"({"do":"clear","finding":"f1","disposition":"replace","text":"New seal"})") == "not-proved");
  CHECK(
      bench.refused(
          R"({"do":"clear","finding":"f1","disposition":"replace","text":"New seal","proof":{"step":"look","entry":"seen"}})") ==
      "bad-value");
}

TEST_CASE("a finding opens again when its proof is taken apart, and must be cleared once more") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"crank","offered":"groove"})");
  bench.ok(R"({"do":"record","step":"seal","entry":"lip","value":1.6,"gauge":"mic"})");
  bench.ok(R"({"do":"clear","finding":"f1","disposition":"replace","text":"New seal"})");
  CHECK_FALSE(build::is_open(bench.shop, bench.build, bench.build.findings[0], bench.now));
  CHECK(bench.refused(R"({"do":"clear","finding":"f1","disposition":"replace","text":"New seal"})") == "bad-value");
  bench.ok(R"({"do":"dispose","step":"seal","entry":"lip","disposition":"replace","text":"Nicked going in"})");
  CHECK(build::is_open(bench.shop, bench.build, bench.build.findings[0], bench.now));
  bench.ok(R"({"do":"record","step":"seal","entry":"lip","value":1.5,"gauge":"mic"})");
  CHECK_FALSE(build::is_open(bench.shop, bench.build, bench.build.findings[0], bench.now));
}

TEST_CASE("a finding on one valve holds up that valve alone") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"valve","position":"2","text":"Face worn to a radius"})");
  CHECK(has(bench.blocking("valves"), "finding-open"));
  CHECK_FALSE(has(bench.blocking("one-valve"), "finding-open"));
  CHECK(bench.refused(R"({"do":"finding","part":"valve","position":"3","text":"Bent"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"finding","part":"seal","position":"1","text":"Bent"})") == "bad-value");
}

TEST_CASE("a slight finding is noted and holds nothing up") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"valve","position":"1","offered":"marked"})");
  CHECK_FALSE(has(bench.blocking("valves"), "finding-open"));
  CHECK_FALSE(has(release_codes(bench), "finding-open"));
}

TEST_CASE("a fault found on a part that no step fits still holds up the release") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"sump","text":"Dented"})");
  bench.ok(R"({"do":"record","step":"seal","entry":"lip","value":1.6,"gauge":"mic"})");
  bench.ok(R"({"do":"sign","step":"seal"})");
  sign_all(bench);
  CHECK(release_codes(bench) == std::vector<std::string>{"finding-open"});
  bench.ok(R"({"do":"clear","finding":"f1","disposition":"repair","text":"Beaten out, tried with chalk"})");
  CHECK(release_codes(bench).empty());
}

TEST_CASE("a fault found after its step was signed holds up the release") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"seal","entry":"lip","value":1.6,"gauge":"mic"})");
  bench.ok(R"({"do":"sign","step":"seal"})");
  sign_all(bench);
  CHECK(release_codes(bench).empty());
  bench.ok(R"({"do":"finding","part":"seal","text":"Weeps at the lip"})");
  CHECK(release_codes(bench) == std::vector<std::string>{"finding-open"});
}

TEST_CASE("a fault whose cause is asked holds up the release, not the work, until it is written") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"sump","offered":"bore"})");
  bench.ok(R"({"do":"clear","finding":"f1","disposition":"replace","text":"Another sump from stock"})");
  bench.ok(R"({"do":"record","step":"seal","entry":"lip","value":1.6,"gauge":"mic"})");
  bench.ok(R"({"do":"sign","step":"seal"})");
  sign_all(bench);
  CHECK(release_codes(bench) == std::vector<std::string>{"cause-missing"});
  bench.ok(R"({"do":"clear","finding":"f1","cause":"Drained cold over a jack"})");
  CHECK(release_codes(bench).empty());
  CHECK(bench.build.findings[0].disposition == "replace");
}

TEST_CASE(
    "using a faulty part as it is is a concession: an owner's, with the customer's word, not the finder's alone") {
  Bench bench(engine);
  bench.signed_in("ben");
  bench.ok(R"({"do":"finding","part":"sump","text":"Dented"})");
  const std::string line =
      R"({"do":"clear","finding":"f1","disposition":"concession","text":"Dent clear of the pick-up")";
  CHECK(bench.refused(line + "}") == "role-needed");
  bench.ok(line + R"(,"person":"anna","passphrase":"right"})");
  CHECK(bench.events.back().meaning == "conceded");
  CHECK(bench.events.back().body.at("customer").text_or_empty("agreed") == "not asked");
  bench.signed_in("anna");
  bench.ok(R"({"do":"finding","part":"sump","text":"Paint off"})");
  CHECK(
      bench.refused(
          R"({"do":"clear","finding":"f2","disposition":"concession","text":"Only paint","person":"anna","passphrase":"right"})") ==
      "second-person-needed");
}

TEST_CASE("what a finding says must make sense") {
  Bench bench(engine);
  CHECK(bench.refused(R"({"do":"finding","part":"flywheel","text":"Worn"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"finding","part":"sump"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"finding","part":"sump","offered":"groove"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"finding","part":"sump","text":"Worn","severity":"grave"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"clear","finding":"f1","disposition":"repair","text":"Welded"})") == "bad-value");
  bench.ok(R"({"do":"finding","part":"sump","text":"Worn"})");
  CHECK(bench.refused(R"({"do":"clear","finding":"f1"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"clear","finding":"f1","disposition":"forget","text":"x"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"clear","finding":"f1","disposition":"repair"})") == "bad-value");
}

TEST_CASE("the status lists findings with what they hold up") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"valve","position":"1","text":"Bent"})");
  const auto status = build::status(bench.shop, bench.build, bench.now);
  const auto& item = status.at("findings").items().at(0);
  CHECK(item.at("open").as_boolean());
  REQUIRE(item.at("holds_up").items().size() == 2);
  CHECK(item.at("holds_up").items()[1].as_text() == "one-valve");
}

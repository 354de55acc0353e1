// Parts at the machine shop: what waits for them, what the order says, and what is measured again when they are back.
// Common practice, no source; the engine is made up.
#include "build/bench.h"
#include "build/compare.h"
#include "build/findings.h"
#include "build/orders.h"
#include "build/proposal.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

// Two cylinders bored to an option, pistons, a crank; the oversize is proposed from the bores as they were found.
constexpr std::string_view engine =
    R"({"format":1,"id":"two","title":"Two cylinders","revision":"1","engine":{"model":"HX4-150"},
  "options":[{"id":"oversize","title":"Bored over size, mm","choices":["standard","0.50"],"given":"standard"},
    {"id":"grind","title":"Journals under size, mm","choices":["standard","0.25"]}],
  "parts":[{"id":"cylinder","title":"Cylinder","positions":["1","2"]},{"id":"piston","title":"Piston","positions":["1","2"]},
    {"id":"crank","title":"Crankshaft"}],
  "limits":{
    "bore":{"title":"Cylinder bore","unit":"mm","standard":{"low":80,"high":80.02},"service":{"high":80.1},"basis":"invented example",
      "when":[{"option":"oversize","is":"0.50","standard":{"low":80.5,"high":80.52}}]},
    "journal":{"title":"Main journal","unit":"mm","basis":"invented example",
      "when":[{"option":"grind","is":"standard","standard":{"low":49.98,"high":50}},{"option":"grind","is":"0.25","standard":{"low":49.73,"high":49.75}}]},
    "play":{"title":"Piston clearance","unit":"mm","standard":{"low":0.04,"high":0.1},"basis":"invented example"}},
  "findings":[{"id":"scored","parts":["cylinder"],"text":"Scored bore","proof":"bores/surface"}],
  "machine-work":[
    {"id":"bore","parts":["cylinder"],"text":"Bored and honed","limits":["bore"],"finish":"Cross-hatched",
      "sizes":{"entry":"pistons/target","low":"low","high":"high"}},
    {"id":"hone","parts":["cylinder"],"text":"Honed","limits":["bore"]},
    {"id":"grind","parts":["crank"],"text":"Journals ground","limits":["journal"]}],
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"size","title":"Which size","entries":[
      {"id":"oversize","kind":"calculated","title":"Smallest oversize","optional":true,"computation":"oversize-selection",
        "inputs":{"nominal":{"constant":{"value":80,"unit":"mm"}},"largest":{"entry":"bores/bore","as-found":true},
          "cleanup":{"constant":{"value":0.1,"unit":"mm"}},"available":{"constant":{"values":[0.5],"unit":"mm"}}}},
      {"id":"pick","kind":"choice","title":"Bored over size","option":"oversize","proposed-by":{"entry":"oversize","result":"choice"}}]},
    {"id":"bores","title":"Bores","part":"cylinder","positions":["1","2"],"entries":[
      {"id":"bore","kind":"reading","title":"Bore","unit":"mm","limit":"bore","parts":["cylinder"],"as-found":true,"loose":true},
      {"id":"surface","kind":"choice","title":"Surface","choices":["clean","scored"],"good":["clean"],"parts":["cylinder"]}]},
    {"id":"pistons","title":"Pistons","part":"piston","positions":["1","2"],"entries":[
      {"id":"skirt","kind":"reading","title":"Skirt","unit":"mm","loose":true},
      {"id":"target","kind":"calculated","title":"Bore to finish to","computation":"bore-target",
        "inputs":{"piston":{"entry":"skirt"},"low":{"limit":"play","bound":"low"},"high":{"limit":"play","bound":"high"}}}]},
    {"id":"fit","title":"Fit the pistons","part":"cylinder","positions":["1","2"],"fits":["cylinder","piston"],"after":["bores"],"entries":[
      {"id":"play","kind":"reading","title":"Feeler at the skirt","unit":"mm","loose":true},
      {"id":"in","kind":"confirm","title":"In"}]},
    {"id":"crank","title":"Crank","fits":["crank"],"entries":[
      {"id":"journal","kind":"reading","title":"Journal","unit":"mm","limit":"journal","parts":["crank"]}]},
    {"id":"look","title":"Look","entries":[{"id":"seen","kind":"confirm","title":"Seen"}]}]}]})";

bool has(const std::vector<std::string>& codes, std::string_view code) {
  return std::find(codes.begin(), codes.end(), code) != codes.end();
}

std::string reading(const char* step, const char* entry, const char* values) {
  return std::string(R"({"do":"record","gauge":"mic","step":")") + step + R"(","entry":")" + entry + R"(","values":)" +
         values + "}";
}

const build::Cell& bore(const Bench& bench, std::size_t cell) {
  return bench.entry("bores", "bore").cells.at(cell);
}

void signed_bores(Bench& bench, const char* values) {
  bench.ok(reading("bores", "bore", values));
  bench.ok(R"({"do":"pick","step":"bores","entry":"surface","value":"clean"})");
  bench.ok(R"({"do":"sign","step":"bores"})");
}

} // namespace

TEST_CASE("a part that is away is not measured, and the steps that fit it or tell of it wait") {
  Bench bench(engine);
  CHECK(
      bench
          .perform(
              R"({"do":"send","to":"Brook Lane Machining","lines":[{"part":"cylinder","positions":["2"],"work":"hone"}]})")
          .text_or_empty("order") == "m1");
  CHECK(bench.state("bores") == "away");
  CHECK(bench.state("fit") == "away");
  CHECK(bench.state("look") == "open");
  CHECK(has(bench.blocking("fit"), "part-away"));
  CHECK_FALSE(has(bench.blocking("look"), "part-away"));
  CHECK(bench.refused(reading("bores", "bore", "[80.01,80.01]")) == "part-away");
  CHECK(bench.refused(R"({"do":"record","step":"bores","entry":"bore","position":"2","value":80.01,"gauge":"mic"})") ==
        "part-away");
  CHECK(bench.message == "Cylinder 2 is at Brook Lane Machining (m1): enter it as back first.");
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","position":"1","value":80.01,"gauge":"mic"})");
  CHECK(bench.refused(R"({"do":"pick","step":"bores","entry":"surface","value":"clean"})") == "part-away");
  CHECK(bench.refused(R"({"do":"part","part":"cylinder","position":"2","state":"new"})") == "part-away");
  CHECK(bench.refused(R"({"do":"sign","step":"bores"})") == "blocked");
  std::vector<std::string> codes;
  for (const auto& it : build::release_blockers(bench.shop, bench.build, {}, bench.now)) codes.push_back(it.code);
  CHECK(has(codes, "part-away"));
}

TEST_CASE("the part that is wanted is named, not the first of the order") {
  Bench bench(engine);
  bench.ok(
      R"({"do":"send","to":"Brook Lane","lines":[{"part":"crank","text":"Balanced"},{"part":"crank","text":"Polished"},{"part":"cylinder","work":"hone"}]})");
  CHECK(bench.refused(R"({"do":"record","step":"bores","entry":"bore","position":"2","value":80.01,"gauge":"mic"})") ==
        "part-away");
  CHECK(bench.message.find("Cylinder 2 and 2 more are at Brook Lane (m1)") == 0);
}

TEST_CASE("a choice waits for the part it tells of, also when another part of the step went first") {
  std::string two(engine);
  const std::string fits = R"("fits":["crank"],"entries":[)";
  two.replace(two.find(fits), fits.size(),
              fits + R"({"id":"bore","kind":"choice","title":"Bore","choices":["clean","scored"],"parts":["crank"]},)");
  Bench bench(two);
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"piston","text":"Weighed"}]})");
  bench.ok(R"({"do":"pick","step":"crank","entry":"bore","value":"clean"})");
  bench.ok(R"({"do":"send","to":"Mill End","lines":[{"part":"crank","text":"Balanced"}]})");
  bench.ok(R"({"do":"back","order":"m2"})");
  CHECK_FALSE(bench.entry("crank", "bore").done);
  bench.ok(R"({"do":"send","to":"Mill End","lines":[{"part":"crank","text":"Balanced"}]})");
  CHECK(bench.refused(R"({"do":"pick","step":"crank","entry":"bore","value":"clean"})") == "part-away");
}

TEST_CASE("what was as found may be written down while the part is away") {
  Bench bench(engine);
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"cylinder","work":"hone"}]})");
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","values":[80.31,80.28],"gauge":"mic","as_found":true})");
  CHECK(bench.entry("bores", "bore").as_found.at(0).value == *quantity::Exact::decimal("80.31"));
}

TEST_CASE("a part sent twice is away already, and nothing else of the order goes") {
  Bench bench(engine);
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"cylinder","positions":["2"],"work":"hone"}]})");
  CHECK(
      bench.refused(
          R"({"do":"send","to":"Mill End","lines":[{"part":"cylinder","positions":["1"],"work":"hone"},{"part":"cylinder","work":"hone"}]})") ==
      "part-away");
  CHECK(bench.build.orders.size() == 1);
}

TEST_CASE("one part may be sent for two kinds of work at once, and is back with both") {
  Bench bench(engine);
  bench.ok(R"({"do":"pick","option":"grind","value":"0.25"})");
  bench.ok(
      R"({"do":"send","to":"Brook Lane","lines":[{"part":"crank","work":"grind"},{"part":"crank","text":"Oil holes rounded"}]})");
  bench.ok(R"({"do":"back","order":"m1"})");
  CHECK(std::none_of(bench.build.orders[0].lines.begin(), bench.build.orders[0].lines.end(),
                     [](const auto& line) { return line.away(); }));
  CHECK(bench.build.parts.at({"crank", ""}).state == "remade");
}

TEST_CASE("the order says the size of the option, the size for each piston, the finish and the faults") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"cylinder","position":"2","offered":"scored"})");
  bench.ok(R"({"do":"pick","step":"size","entry":"pick","value":"0.50"})");
  const char* order =
      R"({"do":"send","to":"Brook Lane","lines":[{"part":"cylinder","work":"bore","text":"Thrust side worn"}]})";
  CHECK(bench.refused(order) == "entry-missing");
  bench.ok(reading("pistons", "skirt", "[80.41,80.425]"));
  bench.ok(order);
  const auto& lines = bench.build.orders.at(0).lines;
  REQUIRE(lines.size() == 2);
  REQUIRE(lines[1].sizes.size() == 2);
  CHECK(lines[0].sizes[0].title == "Bore to finish to");
  CHECK(lines[0].sizes[0].text == "80.45 to 80.51 mm");   // 80.41 + 0.04, 80.41 + 0.10
  CHECK(lines[1].sizes[0].text == "80.465 to 80.525 mm"); // 80.425 + 0.04, 80.425 + 0.10
  CHECK(lines[1].sizes[1].text == "80.50 to 80.52 mm");
  CHECK(lines[1].finish == "Cross-hatched");
  CHECK(lines[1].text == "Thrust side worn");
  CHECK(lines[0].findings.empty());
  CHECK(lines[1].findings == std::vector<std::string>{"f1"});
}

TEST_CASE("a fault that is not for the machine shop is left off the order") {
  Bench bench(engine);
  bench.ok(R"({"do":"finding","part":"crank","text":"Paint on the flange"})");
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"crank","text":"Balanced","findings":[]}]})");
  CHECK(bench.build.orders[0].lines[0].findings.empty());
}

TEST_CASE("work to a size that is not picked yet is not ordered") {
  Bench bench(engine);
  CHECK(bench.refused(R"({"do":"send","to":"Brook Lane","lines":[{"part":"crank","work":"grind"}]})") ==
        "option-unset");
  CHECK(bench.message.find("pick it, then order") != std::string::npos);
}

TEST_CASE("orders that make no sense are refused with what is wrong") {
  Bench bench(engine);
  for (const char* lines :
       {R"([])", R"("crank")", R"([7])", R"([{"part":"crank"}])", R"([{"part":"wing","text":"Bent"}])",
        R"([{"part":"crank","positions":["1"],"text":"Ground"}])",
        R"([{"part":"cylinder","positions":["5"],"work":"hone"}])", R"([{"part":"crank","work":"hone"}])",
        R"([{"part":"crank","work":"polish"}])", R"([{"part":"crank","text":"Ground","findings":["f9"]}])",
        R"([{"part":"crank","text":"Ground","depth":3}])"}) {
    CAPTURE(lines);
    CHECK(bench.refused(std::string(R"({"do":"send","to":"Brook Lane","lines":)") + lines + "}") == "bad-value");
  }
  CHECK(bench.refused(R"({"do":"send","lines":[{"part":"crank","text":"Ground"}]})") == "bad-value");
  CHECK(bench.refused(R"({"do":"back","order":"m1"})") == "bad-value");
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"crank","text":"Balanced"}]})");
  CHECK(bench.refused(R"({"do":"back","order":"m1","state":"scrap"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"back","order":"m1","part":"cylinder"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"back","order":"m1","positions":["1"]})") == "bad-value");
  bench.ok(R"({"do":"back","order":"m1"})");
  CHECK(bench.refused(R"({"do":"back","order":"m1"})") == "bad-value");
}

TEST_CASE("a part back remade is measured again there, judged as new, and nowhere else") {
  Bench bench(engine);
  bench.ok(R"({"do":"part","part":"cylinder","position":"1","state":"reused"})");
  bench.ok(R"({"do":"part","part":"cylinder","position":"2","state":"reused"})");
  bench.ok(reading("bores", "bore", "[80.05,80.3]"));
  bench.ok(R"({"do":"pick","step":"bores","entry":"surface","value":"scored"})");
  CHECK(bore(bench, 0).judged.standing == build::Standing::worn);
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"cylinder","positions":["2"],"work":"hone"}]})");
  const auto back = bench.perform(R"({"do":"back","order":"m1","text":"Sleeved to standard"})");
  CHECK(back.at("measure").items().size() == 2);
  CHECK(bore(bench, 0).filled());
  CHECK_FALSE(bore(bench, 1).filled());
  CHECK_FALSE(bench.entry("bores", "surface").done);
  CHECK(bench.build.parts.at({"cylinder", "2"}).state == "remade");
  CHECK(bench.build.orders[0].lines[0].back_text == "Sleeved to standard");
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","position":"2","value":80.05,"gauge":"mic"})");
  CHECK(bore(bench, 1).judged.standing == build::Standing::outside); // remade: by standard, not by service
}

TEST_CASE("a part back remade reopens the signed step that measured it, and what rests on it") {
  Bench bench(engine);
  signed_bores(bench, "[80.01,80.01]");
  bench.ok(reading("fit", "play", "[0.06,0.06]"));
  bench.ok(R"({"do":"confirm","step":"fit","entry":"in"})");
  bench.ok(R"({"do":"sign","step":"fit"})");
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"cylinder","positions":["1"],"work":"hone"}]})");
  CHECK(bench.state("bores") == "signed"); // until it is back: nothing has changed yet
  const auto back = bench.perform(R"({"do":"back","order":"m1"})");
  CHECK(json::canonical(back.at("reopened")) == R"(["bores","fit"])");
  CHECK(bench.state("bores") == "reopened");
  CHECK_FALSE(
      bore(bench, 0).filled()); // the size of a part keeps when a joint is taken apart, not when it is worked on
  CHECK(bore(bench, 1).filled());
  CHECK(bench.entry("fit", "play").cells[1].filled());
  CHECK_FALSE(bench.entry("fit", "in").done);
}

TEST_CASE("a part that came back as it went keeps its readings") {
  Bench bench(engine);
  signed_bores(bench, "[80.01,80.01]");
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"cylinder","work":"hone"}]})");
  bench.ok(
      R"({"do":"back","order":"m1","part":"cylinder","positions":["1"],"state":"reused","text":"Found round; left as it is"})");
  CHECK(bore(bench, 0).filled());
  CHECK(bench.state("bores") == "signed");
  CHECK(bench.build.orders[0].lines[1].away()); // cylinder 2 is still there
  CHECK(bench.state("fit") == "away");
}

TEST_CASE("another part in the place of the one sent takes nothing of the old one along") {
  Bench bench(engine);
  bench.ok(R"({"do":"part","part":"crank","state":"reused","lot":"C-114","text":"Own crank"})");
  bench.ok(R"({"do":"pick","option":"grind","value":"standard"})");
  bench.ok(R"({"do":"record","step":"crank","entry":"journal","value":49.99,"gauge":"mic"})");
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"crank","text":"Ground"}]})");
  bench.ok(R"({"do":"back","order":"m1","state":"new","text":"Cracked; exchange crank"})");
  CHECK(bench.build.parts.at({"crank", ""}).state == "new");
  CHECK(bench.build.parts.at({"crank", ""}).lot.empty());
  CHECK_FALSE(bench.entry("crank", "journal").cells[0].filled());
}

TEST_CASE("a fault is proved by what is recorded after it was found, not by what was good before") {
  Bench bench(engine);
  bench.ok(R"({"do":"pick","step":"bores","entry":"surface","value":"clean"})");
  bench.ok(R"({"do":"finding","part":"cylinder","position":"2","offered":"scored"})");
  const char* clear = R"({"do":"clear","finding":"f1","disposition":"rework","text":"Honed"})";
  bench.ok(reading("bores", "bore", "[80.01,80.01]"));
  CHECK(bench.refused(clear) == "not-proved");
  const auto blockers = build::blockers(bench.shop, bench.build, 3, bench.now);
  const auto open =
      std::find_if(blockers.begin(), blockers.end(), [](const auto& b) { return b.code == "finding-open"; });
  REQUIRE(open != blockers.end());
  CHECK(open->message.find("again, as it was good before the fault was found") != std::string::npos);
  bench.ok(R"({"do":"send","to":"Brook Lane","lines":[{"part":"cylinder","positions":["2"],"work":"hone"}]})");
  bench.ok(R"({"do":"back","order":"m1"})");
  bench.ok(R"({"do":"pick","step":"bores","entry":"surface","value":"clean"})");
  CHECK(bench.refused(clear) == ""); // the choice alone is the proof
}

TEST_CASE("the oversize that the worn bores call for is proposed, and another asks why") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","values":[80.22,80.31],"gauge":"mic","as_found":true})");
  // 80.31 + 0.10 to clean up is inside 80 + 0.50.
  CHECK(bench.entry("size", "oversize").calculated.at(0).results.at("choice").text_or_empty("value") == "0.5");
  CHECK(bench.refused(R"({"do":"pick","step":"size","entry":"pick","value":"standard"})") == "not-proposed");
  CHECK(bench.message.find("call for 0.50") != std::string::npos);
  CHECK(bench.refused(R"({"do":"pick","option":"oversize","value":"standard","text":""})") != "");
  bench.ok(R"({"do":"pick","step":"size","entry":"pick","value":"standard","text":"Sleeved to standard size"})");
  CHECK(bench.build.option("oversize") == "standard");
}

TEST_CASE("bores that may stay as they are propose the size that is given") {
  std::string stays(engine);
  stays.replace(stays.find(R"("available":)"), 12, R"("stay":{"constant":{"value":0.1,"unit":"mm"}},"available":)");
  Bench bench(stays);
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","values":[80.04,80.06],"gauge":"mic","as_found":true})");
  CHECK(build::proposed(bench.build, {0, 1}) == "standard");
  CHECK(bench.refused(R"({"do":"pick","step":"size","entry":"pick","value":"0.50"})") == "not-proposed");
  bench.ok(R"({"do":"pick","step":"size","entry":"pick","value":"standard"})");
}

TEST_CASE("bores too worn for any oversize propose nothing") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","values":[80.22,80.61],"gauge":"mic","as_found":true})");
  CHECK(bench.entry("size", "oversize").calculated.at(0).filled());
  bench.ok(R"({"do":"pick","step":"size","entry":"pick","value":"standard"})");
}

TEST_CASE("a bore found to be misread changes what is proposed, and the signed choice refuses it") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","values":[80.22,80.31],"gauge":"mic","as_found":true})");
  bench.ok(R"({"do":"pick","step":"size","entry":"pick","value":"0.50"})");
  bench.ok(R"({"do":"sign","step":"size"})");
  CHECK(bench.refused(
            R"({"do":"record","step":"bores","entry":"bore","values":[80.22,80.61],"gauge":"mic","as_found":true})") ==
        "step-signed");
}

TEST_CASE("the choices of an option side by side: limits moved, and how what is recorded would stand") {
  Bench bench(engine);
  bench.ok(R"({"do":"record","step":"bores","entry":"bore","values":[80.22,80.31],"gauge":"mic","as_found":true})");
  bench.ok(reading("bores", "bore", "[80.01,80.51]"));
  const auto before = everything(bench.build);
  const auto all = build::compare(bench.build, "oversize");
  REQUIRE(all.size() == 2);
  CHECK(all[0].now);
  CHECK_FALSE(all[0].proposed);
  CHECK(all[1].proposed);
  CHECK(all[0].limits.at(0).standard == "80.00 to 80.02 mm");
  CHECK(all[0].limits.at(0).service == "at most 80.1 mm");
  CHECK(all[1].limits.at(0).standard == "80.50 to 80.52 mm");
  CHECK(all[1].limits.at(0).service.empty());
  const auto& now = all[1].values.at(1);
  CHECK(all[1].values.at(0).as_found);
  CHECK(now.count.at(build::Standing::within) == 1);
  CHECK(now.count.at(build::Standing::outside) == 1);
  CHECK(everything(bench.build) == before);
  CHECK(build::compare(bench.build, "paint").empty());
}

#include "build/bench.h"

#include <catch2/catch.hpp>

using Codes = std::vector<std::string>;

TEST_CASE("a value outside its limit blocks the step and says which") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.051})");
  CHECK(bench.entry("cover", "flat").cells[0].judged.standing == build::Standing::outside);
  CHECK(bench.blocking("cover") == Codes{"entry-missing", "entry-missing", "reading-outside", "entry-missing"});
  CHECK(bench.refused(R"({"do":"sign","step":"cover"})") == "blocked");
}

TEST_CASE("a value on its limit is within") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.05})");
  CHECK(bench.entry("cover", "flat").cells[0].judged.standing == build::Standing::within);
}

TEST_CASE("a comma, a unit of another kind and a word are refused where they are typed") {
  Bench bench;
  bench.clean();
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":"0,05"})") == "bad-value");
  CHECK(bench.message.find("comma") != std::string::npos);
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":"5 N.m"})") == "bad-unit");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.05,"unit":"N.m"})") ==
        "bad-unit");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":"flat"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":[0.05]})") == "bad-value");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic"})") == "bad-value");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":1,"values":[1]})") ==
        "bad-value");
}

TEST_CASE("inches typed are kept as typed and understood exactly in millimetres") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":"2 thou"})");
  const auto& cell = bench.entry("cover", "flat").cells[0];
  CHECK(cell.value.text() == "0.0508");
  CHECK(cell.judged.standing == build::Standing::outside);
  const auto& item = bench.events.back().body.at("cells").items().front();
  CHECK(item.at("typed").as_text() == "2 thou");
}

TEST_CASE("points not measured yet are named and filled in later") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.010,null],null,[48.012,48.013]]})");
  CHECK(bench.state("mains") == "half done");
  const auto blocking = build::blockers(bench.shop, bench.build, 1, bench.now);
  CHECK(blocking.front().message == "Bore is not measured yet at 1, rear; 2, front; 2, rear.");
  bench.ok(R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","position":"2","values":[48.011,48.012]})");
  bench.ok(R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[null,48.011],null,null]})");
  CHECK(bench.entry("mains", "bore").cells[1].value.text() == "48.011");
  CHECK(build::blockers(bench.shop, bench.build, 1, bench.now).front().entry == "journal");
}

TEST_CASE("a filled point is not written over") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.03})");
  CHECK(bench.refused(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.04})") ==
        "already-recorded");
}

TEST_CASE("the newest reading can be taken back, an older one cannot") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.03})");
  bench.ok(R"({"do":"take-back","step":"cover","entry":"flat"})");
  CHECK_FALSE(bench.entry("cover", "flat").cells[0].filled());
  CHECK(bench.refused(R"({"do":"take-back","step":"cover","entry":"flat"})") == "too-late");
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.03})");
  bench.ok(R"({"do":"identify","step":"cover","entry":"number","text":"C 12"})");
  CHECK(bench.refused(R"({"do":"take-back","step":"cover","entry":"flat"})") == "too-late");
}

TEST_CASE("taking back a second measurement brings the first back") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.03})");
  bench.ok(R"({"do":"again","step":"cover","entry":"flat","gauge":"mic","value":0.05})");
  CHECK(bench.entry("cover", "flat").cells[0].value.text() == "0.04");
  bench.ok(R"({"do":"take-back","step":"cover","entry":"flat"})");
  CHECK(bench.entry("cover", "flat").cells[0].value.text() == "0.03");
  CHECK(bench.entry("cover", "flat").cells[0].u.text() == "0.003");
}

TEST_CASE("measuring again judges the mean and shrinks only the repeatable part of U") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.060})");
  bench.ok(R"({"do":"again","step":"cover","entry":"flat","gauge":"mic","value":0.036})");
  const auto& cell = bench.entry("cover", "flat").cells[0];
  CHECK(cell.value.text() == "0.048");
  CHECK(cell.judged.standing == build::Standing::within);
  // sqrt(0.003^2 - 0.002^2 + 0.002^2 / 2), by hand
  CHECK(cell.u.to_double() == Approx(0.00264575131).epsilon(1e-9));
  CHECK(cell.tries.size() == 2);
}

TEST_CASE("a better gauge decides where a coarser one could not tell") {
  Bench bench;
  bench.ok(R"({"do":"add-gauge","gauge":"fine","kind":"micrometer","unit":"mm","resolution":0.001,"u":0.001})");
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.052})");
  bench.ok(R"({"do":"again","step":"cover","entry":"flat","gauge":"fine","value":0.048})");
  const auto& cell = bench.entry("cover", "flat").cells[0];
  CHECK(cell.value.text() == "0.048");
  CHECK(cell.u.text() == "0.001");
  CHECK(cell.tries.size() == 2);
}

TEST_CASE("a misread number is corrected with its reason and the old one stays in the record") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.3})");
  CHECK(bench.refused(R"({"do":"correct","step":"cover","entry":"flat","gauge":"mic","value":0.03})") == "bad-value");
  CHECK(bench.refused(
            R"({"do":"correct","step":"cover","entry":"flat","gauge":"mic","value":0.03,"reason":"reground"})") ==
        "bad-value");
  CHECK(
      bench.refused(R"({"do":"correct","step":"cover","entry":"flat","gauge":"mic","value":0.03,"reason":"other"})") ==
      "bad-value");
  bench.ok(R"({"do":"correct","step":"cover","entry":"flat","gauge":"mic","value":0.03,"reason":"misread"})");
  CHECK(bench.entry("cover", "flat").cells[0].judged.standing == build::Standing::within);
  CHECK(bench.events.size() == 6);
  CHECK(
      bench.refused(
          R"({"do":"correct","step":"mains","entry":"bore","gauge":"mic","values":[[48,null],null,null],"reason":"typed"})") ==
      "entry-missing");
}

TEST_CASE("an oil hole is left out only where the procedure allows it") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[["-",47.970],[47.971,47.971],[47.972,47.973]]})");
  CHECK(bench.entry("mains", "journal").cells[0].skipped);
  CHECK(bench.refused(
            R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[["-",48.01],null,null]})") ==
        "bad-value");
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.010,48.012],[48.011,48.012],[48.012,48.013]]})");
  CHECK(bench.entry("mains", "oil").calculated[0].results.at("min").at("value").as_text() == "0.04");
}

TEST_CASE("a reused part beyond standard and inside service is within, worn, and does not block") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"part","part":"crank","state":"reused"})");
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.950,47.970],[47.970,47.970],[47.970,47.981]]})");
  const auto& cells = bench.entry("mains", "journal").cells;
  CHECK(cells[0].judged.standing == build::Standing::worn);
  CHECK(cells[1].judged.standing == build::Standing::within);
  CHECK(cells[5].judged.standing == build::Standing::outside); // service states no upper bound: the standard's holds
  CHECK_FALSE(cells[0].judged.blocks());
  bench.ok(R"({"do":"dispose","step":"mains","entry":"journal","disposition":"accept","text":"polished, used again"})");
  CHECK(bench.entry("mains", "journal").cells[0].judged.used_again);
  CHECK_FALSE(bench.entry("mains", "journal").cells[1].judged.used_again);
}

TEST_CASE("a part found to be new is judged again by the standard limit") {
  Bench bench;
  bench.clean();
  bench.ok(R"({"do":"part","part":"crank","state":"reused"})");
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.950,47.970],[47.970,47.970],[47.970,47.970]]})");
  bench.ok(R"({"do":"part","part":"crank","state":"remade"})");
  CHECK(bench.entry("mains", "journal").cells[0].judged.standing == build::Standing::outside);
  CHECK(bench.entry("mains", "journal").cells[1].judged.standing == build::Standing::within);
}

TEST_CASE("an undersize crank moves its limit with the option") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.720,47.720],[47.720,47.720],[47.720,47.720]]})");
  CHECK(bench.entry("mains", "journal").cells[0].judged.standing == build::Standing::outside);
  bench.ok(R"({"do":"pick","option":"undersize","value":"0.25"})");
  CHECK(bench.entry("mains", "journal").cells[0].judged.standing == build::Standing::within);
  CHECK(bench.refused(R"({"do":"pick","option":"undersize","value":"0.30"})") == "bad-value");
}

TEST_CASE("a reading of a loose part is measured ahead, one of the joint is not") {
  Bench bench;
  bench.ok(
      R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.970,47.970],[47.970,47.970],[47.970,47.970]]})");
  CHECK(bench.state("mains") == "not yet");
  CHECK(bench.refused(
            R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.01,48.01],null,null]})") ==
        "out-of-order");
}

TEST_CASE("what was found at strip-down is kept beside and never blocks") {
  Bench bench;
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.9,"as_found":true})");
  CHECK(bench.entry("cover", "flat").as_found[0].value.text() == "0.9");
  CHECK_FALSE(bench.entry("cover", "flat").cells[0].filled());
  bench.clean();
  bench.ok(R"({"do":"record","step":"cover","entry":"flat","gauge":"mic","value":0.01})");
}

TEST_CASE("too close to the limit to tell is left by the builder's signed acceptance, until measured anew") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.caps();
  bench.ok(R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})");
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.27],[0,0.27]]})");
  CHECK(bench.entry("float", "play").calculated[0].judged.standing == build::Standing::undecided);
  CHECK(bench.blocking("float") == Codes{"reading-undecided"});
  bench.ok(R"({"do":"accept","step":"float","entry":"play","reason":"seen twice"})");
  CHECK(bench.events.back().body.at("probability").items().size() == 1);
  CHECK(bench.blocking("float").empty());
  bench.ok(R"({"do":"again","step":"float","entry":"dial","gauge":"dial","values":[[0,0.28],[0,0.28]]})");
  CHECK(bench.blocking("float") == Codes{"reading-undecided"});
  CHECK(bench.refused(R"({"do":"accept","step":"float","entry":"dial","reason":"no"})") == "bad-value");
}

TEST_CASE("readings that no clearance can come from are said so and not calculated") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.caps();
  bench.ok(R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.2],[null,null]]})");
  CHECK_FALSE(bench.entry("float", "play").calculated[0].filled());
}

TEST_CASE("a reading far from its neighbours is named, one that is only worn is not") {
  Bench bench;
  bench.clean();
  const auto said = [&](const std::string& values) {
    const auto answer =
        bench.perform(R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":)" + values + "}");
    REQUIRE(answer.at("ok").as_boolean());
    std::vector<std::string> names;
    if (const auto* far = answer.find("far"))
      for (const auto& name : far->items()) names.push_back(name.as_text());
    return names;
  };
  CHECK(said("[[48.010,48.012],[48.011,48.12],[48.012,48.013]]") == std::vector<std::string>{"2, rear"});
  CHECK(bench.events.back().body.find("far") == nullptr); // advice, not record
  Bench worn;
  worn.clean();
  const auto answer = worn.perform(
      R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.010,48.015],[48.020,48.031],[48.012,48.013]]})");
  CHECK(answer.find("far") == nullptr);
}

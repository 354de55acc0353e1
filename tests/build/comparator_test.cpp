// Comparators: the size set at is added, the set stays open until the gauge was put back, a drift beyond a division
// gives its readings up (common practice, no source), and readings of one set share the U of their setting.
#include "build/bores.h"
#include "build/comparator.h"

#include <catch2/catch.hpp>

#include <cmath>

using Codes = std::vector<std::string>;

namespace {

bool blocks(const Bench& bench, const std::string& code) {
  const auto codes = bench.blocking("bores");
  return std::find(codes.begin(), codes.end(), code) != codes.end();
}

std::string sentence(const Bench& bench, const std::string& code) {
  for (const auto& blocker : build::blockers(bench.shop, bench.build, 0, bench.now))
    if (blocker.code == code) return blocker.message;
  return "";
}

const std::string both_bores = R"({"do":"record","step":"bores","entry":"bore","gauge":"bore-1","set_at":82,)"
                               R"("set_with":"ring-82","values":[[[0.010,0.018],[0.012,0.016]],)"
                               R"([[0.020,0.021],[0.022,"+0.0210"]]]})";

const build::Cell* as_found(const Bench& bench, std::size_t cell) {
  const auto& cells = bench.entry("bores", "bore").as_found;
  return cell < cells.size() ? &cells[cell] : nullptr;
}

double u_of(const Bench& bench, const char* step, const char* entry, const char* result) {
  return build::Exact::written(bench.entry(step, entry).calculated[0].results.at(result).at("u").as_text())
      ->to_double();
}

bool told_from_round(const Bench& bench) {
  for (const auto& note : bench.entry("bores", "shape").calculated[0].notes)
    if (note.find("not distinguishable") != std::string::npos) return false;
  return true;
}

} // namespace

TEST_CASE("what the dial shows is added to the size it was set at, and the event keeps both") {
  Bores bench;
  bench.ok(Bores::shown("1", R"([[0.010,"-0.002"],["0.5 thou",null]])"));
  CHECK(bench.bore(0).value.text() == "82.01");
  CHECK(bench.bore(1).value.text() == "81.998");
  CHECK(bench.bore(1).judged.standing == build::Standing::outside);
  CHECK(bench.bore(2).value.text() == "82.0127"); // 0.0005 in = 0.0127 mm exactly
  const auto& body = bench.events.back().body;
  CHECK(body.at("setting").at("at").as_text() == "82");
  CHECK(body.at("setting").at("with").as_text() == "ring-82");
  CHECK(body.at("setting").at("standard").at("calibrated").as_text() == "2025-06-01");
  CHECK(body.at("cells").items()[2].at("typed").as_text() == "0.5 thou");
  CHECK(body.at("cells").items()[2].at("value").as_text() == "82.0127");
}

TEST_CASE("the size set at may be typed in inches; values still add up exactly") {
  Bores bench;
  bench.ok(
      R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"bore-1","set_at":"3.2290 in","unit":"in","values":[[0.0005,null],null]})");
  CHECK(bench.bore(0).value.text() == "82.0293"); // 3.2295 in x 25.4
}

TEST_CASE("a size typed where the dial is wanted is refused, and what to type instead is named") {
  Bores bench;
  CHECK(bench.refused(Bores::shown("1", "[[82.013,null],null]")) == "implausible");
  CHECK(bench.message ==
        "Bore: 82.013 is the size itself; with bore-1 set at 82.000 mm type what its dial shows, +0.013.");
  CHECK(bench.refused(Bores::shown("1", "[[8.21,null],null]")) == "implausible");
  CHECK(bench.message.find("more than a tenth") != std::string::npos);
  CHECK(bench.refused(Bores::shown("1", "[[-20,null],null]")) == "implausible");
  bench.ok(Bores::shown("1", R"([["-",null],null])"));
}

TEST_CASE("the tenth itself is still shown by a dial") {
  CHECK_FALSE(build::beyond_a_dial(build::Exact::ratio(82, 10), build::Exact(82)));
  CHECK_FALSE(build::beyond_a_dial(build::Exact::ratio(-82, 10), build::Exact(82)));
  CHECK(build::beyond_a_dial(build::Exact::ratio(8201, 1000), build::Exact(82)));
}

TEST_CASE("what a gauge is set on must be known to the shop and fit for use") {
  Bores bench;
  const auto set_with = [](const std::string& id) {
    return R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"bore-1","set_at":82,"values":[[0.01,null],null],"set_with":")" +
           id + "\"}";
  };
  CHECK(bench.refused(set_with("ring-99")) == "gauge-unknown");
  CHECK(bench.refused(set_with("ring-old")) == "gauge-overdue");
  CHECK(bench.refused(set_with("wrench")) == "gauge-unfit");
  CHECK(bench.refused(set_with("bore-1")) == "bad-value");
  CHECK(
      bench.refused(
          R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"bore-1","values":[[0.01,null],null],"set_with":"ring-82"})") ==
      "bad-value");
  bench.ok(set_with("mic")); // a micrometer held in a stand
}

TEST_CASE("a setting standard is no gauge to measure with, and an eye is set to nothing") {
  Bores bench;
  CHECK(
      bench.refused(
          R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"ring-82","values":[[82.01,null],null]})") ==
      "gauge-unfit");
  CHECK(bench.refused(R"({"do":"record","step":"bores","entry":"level","position":"1","value":1,"set_at":82})") ==
        "bad-value");
  CHECK(bench.refused(R"({"do":"record","step":"pull","entry":"torque","gauge":"wrench","value":1,"set_at":82})") ==
        "bad-value");
  for (const char* size : {"0", "-82", "\"82,0\"", "\"82 N.m\"", "null", "[82]"}) {
    INFO(size);
    CHECK(
        bench.refused(
            R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"bore-1","values":[[0.01,null],null],"set_at":)" +
            std::string(size) + "}") != "");
  }
}

TEST_CASE("a set stays open until the gauge was put back on its setting, and the step is not signed before") {
  Bores bench;
  bench.ok(both_bores);
  CHECK(sentence(bench, "zero-missing") ==
        "Bore: put the bore gauge bore-1 back on its setting (82.000 mm on ring-82) and record what it shows.");
  CHECK(bench.refused(R"({"do":"sign","step":"bores"})") == "blocked");
  const auto answer = bench.perform(Bores::zero("0.001"));
  CHECK(answer.at("drift").as_text() == "0.001");
  CHECK(answer.at("kept").as_boolean());
  CHECK_FALSE(blocks(bench, "zero-missing"));
  CHECK(bench.events.back().body.at("drift").as_text() == "0.001");
  CHECK(bench.entry("bores", "bore").sets[0].drift->text() == "0.001");
  bench.ok(R"({"do":"sign","step":"bores"})");
}

TEST_CASE("a drift of one division keeps the set, a hair more gives its readings up") {
  for (const auto& [shows, kept] : {std::pair{"0.001", true}, {"-0.001", true}, {"0.0011", false}, {"-0.002", false}}) {
    INFO(shows);
    Bores bench;
    bench.ok(both_bores);
    CHECK(bench.perform(Bores::zero(shows)).at("kept").as_boolean() == kept);
    CHECK(bench.bore(0).filled() == kept);
    CHECK(bench.bore(7).filled() == kept);
    CHECK(bench.entry("bores", "shape").calculated[1].filled() == kept);
  }
}

TEST_CASE("a drift opens the places again, says which, and the blocker says why") {
  Bores bench;
  bench.ok(both_bores);
  const auto answer = bench.perform(Bores::zero(R"("+0.003")"));
  CHECK_FALSE(answer.at("kept").as_boolean());
  const auto& opened = bench.events.back().body.at("opened").items();
  REQUIRE(opened.size() == 1);
  CHECK(opened[0].at("places").items().size() == 8);
  CHECK(bench.entry("bores", "bore").pass == 2);
  CHECK(sentence(bench, "entry-missing") ==
        "Bore: measure again at 1, top, across; 1, top, along; 1, bottom, across; and 5 more; back on its setting "
        "bore-1 showed +0.003 mm, more than a division.");
  CHECK_FALSE(blocks(bench, "zero-missing"));
  bench.ok(both_bores);
  CHECK(bench.entry("bores", "bore").sets.size() == 2);
  bench.ok(Bores::zero("0"));
  CHECK(bench.blocking("bores").empty());
}

TEST_CASE("nothing else is recorded in an entry while a set is open") {
  Bores bench;
  bench.ok(Bores::shown("1", "[[0.010,0.018],[0.012,0.016]]"));
  const std::string start = R"({"do":"record","step":"bores","entry":"bore","position":"2","values":)";
  for (const char* more : {R"([[0.01,0.01],null],"gauge":"bore-1","set_at":82.5,"set_with":"ring-82")",
                           R"([[0.01,0.01],null],"gauge":"bore-2","set_at":82,"set_with":"ring-82")",
                           R"([[0.01,0.01],null],"gauge":"bore-1","set_at":82,"set_with":"mic")",
                           R"([[82.01,82.01],null],"gauge":"bore-1")", R"([[82.01,82.01],null],"gauge":"mic")"}) {
    INFO(more);
    CHECK(bench.refused(start + more + "}") == "zero-missing");
  }
  CHECK(bench.message == "Bore is being read with bore-1 set at 82.000 mm on ring-82: go on from that setting, or put "
                         "it back on it and record what it shows.");
  bench.ok(start + R"([[0.01,0.01],[0.01,0.01]],"gauge":"bore-1","set_at":82})"); // on the same ring
  CHECK(bench.entry("bores", "bore").sets.size() == 1);
  CHECK(bench.bore(4).shared == bench.bore(0).shared);
  CHECK(bench.bore(4).tries[0].set_with == "ring-82");
  bench.ok(Bores::zero("0"));
  bench.ok(R"({"do":"again","step":"bores","entry":"bore","position":"2","values":[[82.01,null],null],"gauge":"mic"})");
}

TEST_CASE("zero is refused where no gauge waits for it, and a size is no drift") {
  Bores bench;
  CHECK(bench.refused(Bores::zero("0")) == "bad-value");
  CHECK(bench.refused(R"({"do":"zero","step":"pull","entry":"torque","value":0})") == "bad-value");
  CHECK(bench.refused(R"({"do":"zero","step":"bores","entry":"shape","value":0})") == "bad-value");
  bench.ok(both_bores);
  CHECK(bench.refused(Bores::zero("82.001")) == "implausible");
  CHECK(bench.refused(Bores::zero(R"("0,001")")) == "bad-value");
  CHECK(bench.refused(R"({"do":"zero","step":"bores","entry":"bore","value":0,"unit":"N.m"})") == "bad-unit");
  CHECK(bench.refused(R"({"do":"zero","step":"bores","entry":"bore"})") == "bad-value");
  bench.ok(R"({"do":"zero","step":"bores","entry":"bore","value":1,"unit":"um"})");
  CHECK(bench.refused(Bores::zero("0")) == "bad-value");
}

TEST_CASE("readings taken back, corrected, disposed of or taken apart leave no set behind") {
  SECTION("taken back") {
    Bores bench;
    bench.ok(both_bores);
    bench.ok(R"({"do":"take-back","step":"bores","entry":"bore"})");
    CHECK_FALSE(blocks(bench, "zero-missing"));
    CHECK(bench.refused(Bores::zero("0")) == "bad-value");
    bench.ok(
        R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"mic","values":[[82.01,null],null]})");
  }
  SECTION("all but one taken back") {
    Bores bench;
    bench.ok(Bores::shown("1", "[[0.010,0.018],[0.012,0.016]]"));
    bench.ok(Bores::shown("2", "[[0.010,0.018],[0.012,0.016]]"));
    bench.ok(R"({"do":"take-back","step":"bores","entry":"bore"})");
    CHECK(blocks(bench, "zero-missing"));
  }
  SECTION("set at the wrong size, and corrected") {
    Bores bench;
    bench.ok(Bores::shown("1", "[[0.010,null],null]"));
    bench.ok(
        R"({"do":"correct","step":"bores","entry":"bore","position":"1","gauge":"bore-1","set_at":82.02,"values":[[0.010,null],null],"reason":"typed"})");
    CHECK(bench.bore(0).value.text() == "82.03");
    CHECK(sentence(bench, "zero-missing").find("(82.020 mm)") != std::string::npos);
    bench.ok(Bores::zero("0"));
    CHECK_FALSE(blocks(bench, "zero-missing"));
  }
  SECTION("one of several may not be corrected into another set") {
    Bores bench;
    bench.ok(Bores::shown("1", "[[0.010,0.011],null]"));
    CHECK(
        bench.refused(
            R"({"do":"correct","step":"bores","entry":"bore","position":"1","gauge":"bore-1","set_at":82.02,"values":[[0.010,null],null],"reason":"typed"})") ==
        "zero-missing");
  }
  SECTION("disposed of") {
    Bores bench;
    bench.ok(Bores::shown("1", "[[0.090,0.018],[0.012,0.016]]"));
    bench.ok(R"({"do":"dispose","step":"bores","entry":"bore","disposition":"rework","text":"honed"})");
    CHECK_FALSE(blocks(bench, "zero-missing"));
    bench.ok(Bores::shown("1", "[[0.010,0.018],[0.012,0.016]]"));
    CHECK(bench.entry("bores", "bore").sets.size() == 2);
  }
  SECTION("the step opened again keeps sizes, and so the set that was closed") {
    Bores bench;
    bench.ok(both_bores);
    bench.ok(Bores::zero("0"));
    bench.ok(R"({"do":"sign","step":"bores"})");
    bench.ok(R"({"do":"reopen","step":"bores","reason":"x"})");
    CHECK_FALSE(blocks(bench, "zero-missing"));
  }
}

TEST_CASE("a number misread in a set that was closed is corrected within it") {
  Bores bench;
  bench.ok(both_bores);
  bench.ok(Bores::zero("0.001"));
  bench.ok(Bores::shown("1", "[[0.011,null],null]", R"(,"reason":"misread")", "correct"));
  CHECK(bench.bore(0).value.text() == "82.011");
  CHECK(bench.bore(0).tries.back().set == 1);
  CHECK_FALSE(blocks(bench, "zero-missing"));
  bench.ok(Bores::shown("1", "[[0.012,null],null]", "", "again")); // set again: its own zero is asked
  CHECK(bench.bore(0).tries.back().set == 2);
  CHECK(blocks(bench, "zero-missing"));
}

TEST_CASE("sizes as found may come from a setting too, and go with its drift") {
  Bores bench;
  bench.ok(Bores::shown("1", "[[0.030,0.018],[0.012,0.016]]", R"(,"as_found":true)"));
  CHECK(as_found(bench, 0)->value.text() == "82.03");
  CHECK(blocks(bench, "zero-missing"));
  CHECK(
      bench.refused(
          R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"mic","values":[[82.01,null],null]})") ==
      "zero-missing");
  CHECK_FALSE(bench.perform(Bores::zero("0.002")).at("kept").as_boolean());
  CHECK_FALSE(as_found(bench, 0)->filled());
  CHECK(bench.entry("bores", "bore").pass == 1);
  bench.ok(Bores::shown("1", "[[0.030,0.018],[0.012,0.016]]", R"(,"as_found":true)"));
  bench.ok(Bores::zero("0.001"));
  CHECK(as_found(bench, 3)->value.text() == "82.016");
}

TEST_CASE("a second look from a setting is closed by its own zero while the step stands signed once") {
  Bores bench;
  bench.ok(R"({"do":"set-shop","one_person":true})");
  bench.ok(both_bores);
  bench.ok(Bores::zero("0"));
  bench.ok(R"({"do":"sign","step":"bores"})");
  bench.ok(R"({"do":"record","step":"pull","entry":"torque","gauge":"wrench","value":3})");
  bench.ok(R"({"do":"sign","step":"pull"})");
  bench.later(40);
  CHECK(bench.refused(Bores::zero("0")) == "bad-value");
  for (const char* position : {"1", "2"})
    bench.ok(Bores::shown(position,
                          position[0] == '1' ? "[[0.010,0.018],[0.012,0.016]]" : "[[0.020,0.021],[0.022,0.021]]",
                          R"(,"second_look":true)"));
  CHECK(bench.refused(R"({"do":"sign","step":"bores","person":"anna","passphrase":"right"})") == "blocked");
  bench.ok(Bores::zero("0.002")); // drifted: looked at again
  CHECK_FALSE(bench.entry("bores", "bore").second_look[0].filled());
  CHECK(bench.bore(0).filled());
  for (const char* position : {"1", "2"})
    bench.ok(Bores::shown(position,
                          position[0] == '1' ? "[[0.010,0.018],[0.012,0.016]]" : "[[0.020,0.021],[0.022,0.021]]",
                          R"(,"second_look":true)"));
  bench.ok(Bores::zero("0"));
  bench.ok(R"({"do":"sign","step":"bores","person":"anna","passphrase":"right"})");
  CHECK(bench.state("bores") == "signed");
}

TEST_CASE("a ring found out puts in doubt what was read from a gauge set on it") {
  Bores bench;
  bench.ok(both_bores);
  bench.ok(Bores::zero("0"));
  bench.later(60);
  bench.ok(R"({"do":"update-gauge","gauge":"ring-82","calibrated":"2026-01-05","due":"2027-01-05","found":"out"})");
  CHECK(sentence(bench, "gauge-unfit").find("Bore: its gauge was set on ring-82, found out on 2026-01-05") == 0);
  bench.later(60);
  bench.ok(R"({"do":"again","step":"bores","entry":"bore","gauge":"mic","values":[[[82.010,82.018],[82.012,82.016]],)"
           R"([[82.020,82.021],[82.022,82.021]]]})");
  CHECK_FALSE(blocks(bench, "gauge-unfit"));
}

TEST_CASE("a ring that is no better than the tolerance is refused before the first reading") {
  Bores bench;
  bench.ok(R"({"do":"add-gauge","gauge":"pipe","kind":"setting standard","unit":"mm","resolution":0.01,"u":0.025})");
  CHECK(
      bench.refused(
          R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"bore-1","set_at":82,"set_with":"pipe","values":[[0.01,null],null]})") ==
      "gauge-unfit");
  CHECK(bench.message.find("bore-1 set on pipe is too coarse for Bore") == 0);
}

// U of one reading 0.003 mm, of the ring 0.020 mm. JCGM 100:2008, 5.1.2: independent parts add as a root sum of
// squares; 5.2.2: what two readings have wholly in common cancels in their difference. Worked out here by hand.
TEST_CASE("out-of-round and taper are told although the ring's U is far larger; the clearance's U holds it") {
  Bores bench;
  bench.ok(both_bores);
  CHECK(bench.bore(0).u.to_double() == Approx(std::sqrt(0.003 * 0.003 + 0.020 * 0.020)).epsilon(1e-11));
  const double difference = std::sqrt(2 * 0.003 * 0.003);
  CHECK(u_of(bench, "bores", "shape", "out_of_round") == Approx(difference).epsilon(1e-11)); // 0.008 out of round
  CHECK(u_of(bench, "bores", "shape", "taper") == Approx(difference).epsilon(1e-11));
  CHECK(u_of(bench, "bores", "shape", "max") == Approx(std::sqrt(0.000409)).epsilon(1e-11));
  CHECK(u_of(bench, "bores", "shape", "mean") == Approx(std::sqrt(0.000009 / 4 + 0.0004)).epsilon(1e-11));
  CHECK(bench.entry("bores", "shape").calculated[0].results.at("out_of_round").at("value").as_text() == "0.008");
  CHECK(bench.entry("bores", "shape").calculated[0].results.at("taper").at("value").as_text() == "0.002");
  bench.ok(R"({"do":"record","step":"pistons","entry":"skirt","gauge":"mic","values":[[81.92],[81.921]]})");
  CHECK(u_of(bench, "pistons", "room", "min") == Approx(std::sqrt(0.000409 + 0.000009)).epsilon(1e-11));
  CHECK(u_of(bench, "pistons", "room", "mean") == Approx(std::sqrt(0.000009 / 4 + 0.0004 + 0.000009)).epsilon(1e-11));
}

TEST_CASE("the same readings from a ring of which each had its own U could not be told from round") {
  Bores one_ring;
  one_ring.ok(both_bores);
  CHECK(one_ring.entry("bores", "shape").calculated[0].notes.size() == 2); // three lobes; taper 0.002 is below 0.0042
  Bores coarse;
  coarse.ok(R"({"do":"add-gauge","gauge":"bore-3","kind":"bore gauge","unit":"mm","resolution":0.001,"u":0.0202})");
  coarse.ok(R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"bore-3","values":)"
            R"([[82.010,82.018],[82.012,82.016]]})");
  CHECK_FALSE(told_from_round(coarse));
  CHECK(coarse.entry("bores", "shape").calculated[0].notes.size() == 3);
}

TEST_CASE("measuring again makes the repeatable part of U smaller and never the part of the ring") {
  Bores bench;
  bench.ok(Bores::shown("1", "[[0.010,null],null]"));
  bench.ok(Bores::shown("1", "[[0.012,null],null]", "", "again"));
  CHECK(bench.bore(0).value.text() == "82.011");
  const double own = 0.003 * 0.003 - 0.002 * 0.002 + 0.002 * 0.002 / 2;
  CHECK(bench.bore(0).own.to_double() == Approx(std::sqrt(own)).epsilon(1e-11));
  CHECK(bench.bore(0).shared.text() == "0.02");
  CHECK(bench.bore(0).u.to_double() == Approx(std::sqrt(own + 0.0004)).epsilon(1e-11));
}

TEST_CASE("readings of two settings, or of one and none, are believed no further than their whole U") {
  Bores bench;
  bench.ok(Bores::shown("1", "[[0.010,0.018],null]"));
  bench.ok(Bores::zero("0"));
  SECTION("two settings") {
    bench.ok(Bores::shown("1", "[null,[0.012,0.016]]"));
  }
  SECTION("one and none") {
    bench.ok(
        R"({"do":"record","step":"bores","entry":"bore","position":"1","gauge":"mic","values":[null,[82.012,82.016]]})");
  }
  // A difference across the two settings has root 2 of the whole U at least, a mean at least the ring's over root 2.
  CHECK(u_of(bench, "bores", "shape", "taper") >= std::sqrt(2 * 0.000409) * (1 - 1e-11));
  CHECK(u_of(bench, "bores", "shape", "max") >= std::sqrt(0.000409) * (1 - 1e-11));
  CHECK(u_of(bench, "bores", "shape", "mean") >= std::sqrt(0.000009 / 4 + 0.0004 / 2));
}

TEST_CASE("the fold of a comparator's events gives the same sets, and each decision made again is the same") {
  Bores bench;
  bench.ok(both_bores);
  bench.ok(Bores::zero("0.004"));
  bench.ok(both_bores);
  bench.ok(Bores::zero("0.001"));
  bench.ok(Bores::shown("1", "[[0.011,null],null]", R"(,"reason":"misread")", "correct"));
  auto folded = build::begin(bench.events.front(), bench.plan);
  REQUIRE(folded);
  const build::Actor anna{"anna", "Anna Reed", "c-anna", {build::Role::builder, build::Role::owner}};
  for (std::size_t e = 1; e < bench.events.size(); ++e) {
    const auto& event = bench.events[e];
    build::Context context;
    context.now = event.time;
    context.actor = &anna;
    const auto again = build::decide_build(bench.shop, &*folded, event.body.at("asked"), context);
    REQUIRE(again);
    CHECK(json::canonical(again->body) == json::canonical(event.body));
    REQUIRE(build::apply(*folded, event));
  }
  CHECK(everything(*folded) == everything(bench.build));
}

TEST_CASE("an event whose set does not exist does not fit") {
  Bores bench;
  bench.ok(both_bores);
  build::Event damaged = bench.events.back();
  damaged.body.set("setting", json::Value());
  damaged.body.remove("setting");
  auto begun = build::begin(bench.events.front(), bench.plan);
  CHECK_FALSE(build::apply(*begun, damaged));
  bench.ok(Bores::zero("0"));
  for (const std::int64_t number : {0, 2, -1}) {
    damaged = bench.events.back();
    damaged.body.set("set", json::Value::integer(number));
    auto before = bench.build;
    CHECK_FALSE(build::apply(before, damaged));
  }
}

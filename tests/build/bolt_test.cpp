// Bolts that may be tightened so often, that grow, and that are known by their mark; wrenches that wear.
#include "build/joint.h"

#include "build/tightening.h"

#include <catch2/catch.hpp>

namespace {

const build::BoltState& head_bolt(const Joints& bench, std::size_t place) {
  return build::bolt_at(bench.build, {0, 0}, place);
}

void whole_head(Joints& bench) {
  bench.ok(Joints::head("all", "snug", "40"));
  bench.ok(Joints::head("all", "line", "", ""));
  for (const char* f : {"a", "c", "d", "b"}) bench.ok(Joints::head(f, "turn", "90", ""));
  for (const char* f : {"a", "c", "d", "b"}) bench.ok(Joints::head(f, "look", "80", "peak"));
}

} // namespace

TEST_CASE("bolts that are limited in use must be said to be new or reused before they are tightened") {
  Joints bench;
  CHECK(bench.refused(Joints::head("all", "snug", "40")) == "bolt-unknown");
  bench.new_bolts();
  bench.ok(Joints::head("all", "snug", "40"));
}

TEST_CASE("a reused bolt is measured first, and one too long is not used again") {
  Joints bench;
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["c","b","d"],"state":"new"})");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["a"],"state":"reused"})");
  CHECK(bench.refused(Joints::head("a", "snug", "40")) == "bolt-length-missing");
  CHECK(bench.perform(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["a"],"length":99.41,"gauge":"mic"})")
            .at("verdict")
            .as_text() == "outside");
  CHECK(bench.refused(Joints::head("a", "snug", "40")) == "bolt-used-up");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["a"],"length":99.40,"gauge":"mic"})");
  bench.ok(Joints::head("a", "snug", "40"));
}

TEST_CASE("the uses of a bolt are counted at its last turn, and the last one allowed is the last") {
  Joints bench;
  bench.new_bolts();
  whole_head(bench);
  CHECK(head_bolt(bench, 0).uses == 1);
  for (int use = 2; use <= 3; ++use) {
    bench.ok(R"({"do":"loosen","step":"head","entry":"bolts","fasteners":"all","reason":"gasket leaked"})");
    if (use == 3) break;
    whole_head(bench);
  }
  CHECK(head_bolt(bench, 0).uses == 2);
  CHECK(bench.refused(Joints::head("a", "snug", "40")) == "bolt-used-up");
  CHECK(bench.message == "Head bolts, fastener a: tightened 2 times, 2 is the most; take a new bolt.");
}

TEST_CASE("another entry on the same fasteners has the same bolts in it") {
  Joints bench;
  bench.new_bolts();
  bench.ok(Joints::pull("head", "again", "all", "1", "40"));
  CHECK(head_bolt(bench, 0).uses == 1);
}

TEST_CASE("a bolt in place is not another bolt") {
  Joints bench;
  bench.new_bolts();
  bench.ok(Joints::head("all", "snug", "40"));
  CHECK(bench.refused(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["a"],"state":"new"})") ==
        "already-recorded");
}

TEST_CASE("a marked bolt is known again in the next engine") {
  Joints bench;
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","state":"new","identity":"H17"})");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["c"],"length":99.1,"gauge":"mic"})");
  whole_head(bench);
  bench.ok(Joints::pull("head", "again", "all", "1", "40"));
  bench.ok(R"({"do":"sign","step":"head"})");
  CHECK(bench.shop.bolts.at("H17/c").length == "99.1 mm");
  CHECK(bench.shop.bolts.at("H17/a").length.empty());
  REQUIRE(bench.shop.bolts.count("H17/c"));
  CHECK(bench.shop.bolts.at("H17/c").uses == 2);
  CHECK(bench.shop.bolts.at("H17/c").build == "b");
  bench.ok(R"({"do":"reopen","step":"head","reason":"another engine, for this test"})");
  CHECK(bench.refused(
            R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","state":"new","identity":"H17"})") ==
        "bad-value");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","state":"reused","identity":"H17"})");
  CHECK(head_bolt(bench, 1).uses == 2);
  CHECK(bench.events.back().body.at("bolts").items()[1].at("length_before").as_text() == "99.1 mm");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["a"],"state":"reused","identity":"unheard of"})");
  CHECK(head_bolt(bench, 0).uses == 1); // used at least once
}

TEST_CASE("stretched too far: a new bolt, nothing else will do") {
  Joints bench;
  CHECK(bench.perform(Joints::pull("nuts", "rod", "r", "1", "0.171", "mic")).at("verdict").as_text() == "outside");
  const auto blockers = build::blockers(bench.shop, bench.build, 2, bench.now);
  const auto of_rod = std::find_if(blockers.begin(), blockers.end(), [](const auto& b) { return b.entry == "rod"; });
  CHECK(of_rod->message == "Rod bolt, fastener r, stage 1: 0.171 mm is beyond 0.13 to 0.17 mm; take a new bolt and "
                           "start at the first stage.");
  bench.ok(R"({"do":"loosen","step":"nuts","entry":"rod","fasteners":"all","reason":"stretched"})");
  CHECK(bench.refused(Joints::pull("nuts", "rod", "r", "1", "0.15", "mic")) == "bolt-used-up");
  bench.ok(R"({"do":"bolt","step":"nuts","entry":"rod","fasteners":"all","state":"new"})");
  bench.ok(Joints::pull("nuts", "rod", "r", "1", "0.15", "mic"));
}

TEST_CASE("a wrench has done its pulls: counted as they are made, kept by the shop, begun anew by a calibration") {
  Joints bench;
  bench.ok(
      R"({"do":"add-gauge","gauge":"old","kind":"torque wrench","unit":"N.m","resolution":1,"tool":"setting","class_error":0.04,"use_limit":7})");
  CHECK(bench.refused(R"({"do":"update-gauge","gauge":"old","use_limit":0})") == "bad-value");
  bench.ok(Joints::cover("all", "1", "40", "old"));
  bench.ok(Joints::cover("all", "off", "", ""));
  bench.ok(Joints::cover("all", "2", "40", "old"));
  bench.later(10);
  bench.ok(Joints::cover("1", "3", "60", "old"));
  CHECK(bench.refused(Joints::cover("2", "3", "60", "old")) == "gauge-unfit");
  CHECK(bench.message == "old has done its 7 pulls; have it calibrated or take another.");
  bench.ok(Joints::cover("2", "3", "60"));
  bench.ok(Joints::cover("3", "3", "60"));
  bench.ok(Joints::pull("cover", "last", "x", "1", "40"));
  bench.later(2);
  bench.ok(R"({"do":"sign","step":"cover"})");
  CHECK(bench.shop.gauge("old")->uses == 7);
  CHECK(bench.shop.gauge("wrench")->uses == 3);
  bench.ok(R"({"do":"update-gauge","gauge":"old","calibrated":"2026-01-05"})");
  CHECK(bench.shop.gauge("old")->uses == 0);
}

TEST_CASE("a bolt for one use is tightened to the end once; loosened, only a new one goes in") {
  std::string once(joints());
  const std::string uses = R"("uses": 2, "length": "length", )";
  once.replace(once.find(uses), uses.size(), R"("uses": 1, )");
  Bench bench{once};
  bench.ok(
      R"({"do":"add-gauge","gauge":"peak","kind":"torque wrench","unit":"N.m","resolution":0.1,"tool":"indicating","class_error":0.01,"range":[1,300]})");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","state":"new"})");
  const auto to_the_end = [&] {
    bench.ok(Joints::head("all", "snug", "40"));
    bench.ok(Joints::head("all", "line", "", ""));
    for (const char* f : {"a", "c", "d", "b"}) bench.ok(Joints::head(f, "turn", "90", ""));
    for (const char* f : {"a", "c", "d", "b"}) bench.ok(Joints::head(f, "look", "80", "peak"));
  };
  to_the_end();
  bench.ok(R"({"do":"loosen","step":"head","entry":"bolts","fasteners":"all","reason":"gasket leaked"})");
  CHECK(bench.refused(Joints::head("all", "snug", "40")) == "bolt-used-up");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","state":"reused"})"); // used once at least
  CHECK(bench.refused(Joints::head("all", "snug", "40")) == "bolt-used-up");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","state":"new"})");
  to_the_end();
}

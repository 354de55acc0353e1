// Stages of a joint, one after the other, and what happens when they do not go as they should.
#include "build/joint.h"

#include "build/tightening.h"

#include <catch2/catch.hpp>

TEST_CASE("an order that the manual does not give is worked out from the places: always the farthest next") {
  const Joints bench;
  std::string order;
  for (const auto& fastener : bench.plan->entry({0, 0}).fasteners) order += fastener.id;
  CHECK(order == "acdb");
  CHECK(bench.plan->entry({0, 1}).fasteners[1].id == "c"); // taken over with its order
}

TEST_CASE("snug, marked, turned and looked at: a head goes down stage by stage") {
  Joints bench;
  bench.new_bolts();
  CHECK(bench.next(Joints::head("all", "snug", "40")) == "a line");
  CHECK(bench.refused(Joints::head("all", "line", "3", "")) == "bad-value"); // nothing is measured
  CHECK(bench.next(Joints::head("all", "line", "", "")) == "a turn");
  CHECK(bench.refused(Joints::head("all", "turn", "90", "")) == "one-by-one");
  CHECK(bench.next(Joints::head("a", "turn", "90", "")) == "c turn");
  for (const char* f : {"c", "d", "b"}) bench.ok(Joints::head(f, "turn", "92", ""));
  CHECK(bench.refused(Joints::head("a", "look", "80")) == "gauge-unfit"); // a click cannot show more than it is set to
  for (const char* f : {"a", "c", "d"}) bench.ok(Joints::head(f, "look", "80", "peak"));
  CHECK(bench.next(Joints::head("b", "look", "80", "peak")) == "");
}

TEST_CASE("turned too little is gone on with; turned too far starts again with the same bolt, its length measured") {
  Joints bench;
  bench.snug_and_marked();
  CHECK(bench.next(Joints::head("a", "turn", "84.9", "")) == "a turn");
  CHECK(bench.entry("head", "bolts").fasteners[0].back().below);
  CHECK(bench.blocking("head").front() == "reading-outside");
  CHECK(bench.next(Joints::head("a", "turn", "88", "")) == "c turn");
  CHECK(bench.next(Joints::head("c", "turn", "95.1", "")) == "d turn");
  const auto blockers = build::blockers(bench.shop, bench.build, 0, bench.now);
  CHECK(blockers.front().message ==
        "Head bolts, fastener c, stage turn: 95.1 deg is beyond 85 to 95 deg; loosen it, never turn it back a little, "
        "and start at the first stage.");
  bench.ok(R"({"do":"loosen","step":"head","entry":"bolts","fasteners":["c"],"reason":"turned too far"})");
  CHECK(build::bolt_at(bench.build, {0, 0}, 1).uses == 1); // it was taken that far: counted
  CHECK(bench.refused(Joints::head("c", "snug", "40")) == "bolt-length-missing");
  CHECK(bench.refused(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":"all","length":99.3,"gauge":"mic"})") ==
        "bad-value");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["c"],"length":99.4,"gauge":"mic"})");
  CHECK(bench.next(Joints::head("c", "snug", "40")) == "c line");
  CHECK(bench.next(Joints::head("c", "line", "", "")) == "c turn");
  CHECK(bench.next(Joints::head("c", "turn", "90", "")) == "d turn");
  CHECK(build::bolt_at(bench.build, {0, 0}, 1).uses == 2);
}

TEST_CASE("a check outside its window asks for the bolt to be looked at; a new one starts at the first stage") {
  Joints bench;
  bench.snug_and_marked();
  for (const char* f : {"a", "c", "d", "b"}) bench.ok(Joints::head(f, "turn", "90", ""));
  bench.ok(Joints::head("a", "look", "59.9", "peak"));
  CHECK(bench.blocking("head").front() == "reading-outside");
  bench.ok(
      R"({"do":"dispose","step":"head","entry":"bolts","fasteners":["a"],"disposition":"replace","text":"necked"})");
  CHECK(bench.refused(Joints::head("a", "snug", "40")) == "bolt-unknown");
  bench.ok(R"({"do":"bolt","step":"head","entry":"bolts","fasteners":["a"],"state":"new"})");
  CHECK(bench.next(Joints::head("a", "snug", "40")) == "a line");
}

TEST_CASE("out of order at a torque: recorded, and the stage is gone round again in order") {
  Joints bench;
  CHECK(bench.next(Joints::cover("2", "1", "40")) == "1 1");
  CHECK(bench.entry("cover", "screws").disordered);
  bench.ok(Joints::cover("1", "1", "40"));
  CHECK(bench.refused(Joints::cover("2", "1", "40")) == "already-recorded");
  CHECK(bench.next(Joints::cover("3", "1", "40")) == "1 1"); // again
  CHECK(!bench.entry("cover", "screws").disordered);
  CHECK(bench.next(Joints::cover("all", "1", "40")) == "1 off");
}

TEST_CASE("out of order at a torque that an angle follows: gone round again too; marks have no order") {
  Joints bench;
  bench.new_bolts();
  CHECK(bench.next(Joints::head("d", "snug", "40")) == "a snug");
  CHECK(bench.next(Joints::head("all", "snug", "40")) == "a snug");
  CHECK(bench.next(Joints::head("all", "snug", "40")) == "a line");
  CHECK(bench.next(Joints::head("d", "line", "", "")) == "a line");
  CHECK(bench.next(Joints::head("all", "line", "", "")) == "a turn");
}

TEST_CASE("out of order, missed or doubled at an angle: the joint is loosened and starts at snug") {
  Joints bench;
  bench.snug_and_marked();
  CHECK(bench.refused(Joints::head("d", "turn", "90", "")) == "out-of-order");
  bench.ok(Joints::head("a", "turn", "90", ""));
  CHECK(bench.refused(Joints::head("a", "turn", "90", "")) == "out-of-order");
  CHECK(bench.message == "Fastener a has stage turn already. If it was turned twice, loosen the joint and start at the "
                         "first stage; next is c.");
  CHECK(bench.refused(
            R"({"do":"loosen","step":"head","entry":"bolts","fasteners":"all","stage":"turn","reason":"doubled"})") ==
        "bad-value");
  bench.ok(R"({"do":"loosen","step":"head","entry":"bolts","fasteners":"all","reason":"doubled"})");
  CHECK(bench.next(Joints::head("all", "snug", "40")) == "a line");
}

TEST_CASE("loosened between stages, then a time to settle that the next stage waits for") {
  Joints bench;
  bench.ok(Joints::cover("all", "1", "40"));
  bench.ok(Joints::cover("all", "off", "", ""));
  const auto answer = bench.perform(Joints::cover("all", "2", "40"));
  CHECK(answer.at("next").at("stage").as_text() == "3");
  CHECK(answer.at("until").as_text() == "2026-01-05T09:10:00.000+01:00");
  CHECK(bench.refused(Joints::cover("all", "3", "60")) == "waiting");
  bench.later(9);
  CHECK(bench.refused(Joints::cover("1", "3", "60")) == "waiting");
  bench.later(1);
  CHECK(bench.next(Joints::cover("all", "3", "60")) == "");
}

TEST_CASE("a joint that ends with a time to settle cannot be signed before") {
  Joints bench;
  bench.ok(Joints::cover("all", "1", "40"));
  bench.ok(Joints::cover("all", "off", "", ""));
  bench.ok(Joints::cover("all", "2", "40"));
  bench.later(10);
  bench.ok(Joints::cover("all", "3", "60"));
  CHECK(bench.next(Joints::pull("cover", "last", "x", "1", "40")) == "");
  CHECK(bench.blocking("cover") == std::vector<std::string>{"waiting"});
  bench.later(2);
  CHECK(bench.blocking("cover").empty());
}

TEST_CASE("left in the middle of a stage: whoever goes on says that the last one is sure, or goes round again") {
  Joints bench;
  bench.ok(Joints::cover("1", "1", "40"));
  bench.later(15);
  bench.ok(Joints::cover("2", "1", "40"));
  bench.later(16);
  CHECK(bench.refused(Joints::cover("3", "1", "40")) == "interrupted");
  CHECK(bench.message == "The last sure one is fastener 2, by anna at 2026-01-05 09:15. Confirm that it is, or loosen "
                         "this stage.");
  bench.ok(R"({"do":"confirm","step":"cover","entry":"screws"})");
  bench.signed_in("ben");
  CHECK(bench.refused(Joints::cover("3", "1", "40")) == "interrupted"); // somebody else
  bench.ok(
      R"({"do":"loosen","step":"cover","entry":"screws","fasteners":"all","stage":"1","reason":"not sure any more"})");
  CHECK(bench.next(Joints::cover("all", "1", "40")) == "1 off");
}

TEST_CASE("between two stages nobody is asked") {
  Joints bench;
  bench.ok(Joints::cover("all", "1", "40"));
  bench.later(600);
  bench.ok(Joints::cover("all", "off", "", ""));
}

TEST_CASE("a castle nut goes on to the next slot, not beyond the high torque") {
  Joints bench;
  bench.ok(Joints::pull("nuts", "castle", "n", "1", "39", "peak"));
  CHECK(bench.entry("nuts", "castle").fasteners[0][0].below);
  bench.ok(Joints::pull("nuts", "castle", "n", "1", "60", "peak"));
  CHECK(bench.entry("nuts", "castle").fasteners[0][0].judged.standing == build::Standing::within);
}

TEST_CASE("prevailing torque is added where the procedure says so, and only there") {
  Joints bench;
  CHECK(bench.refused(Joints::pull("nuts", "locking", "n", "1", "48")) == "bad-value");
  const std::string line = Joints::pull("nuts", "locking", "n", "1", "48");
  bench.ok(line.substr(0, line.size() - 1) + R"(,"prevailing":8})");
  CHECK(bench.entry("nuts", "locking").fasteners[0][0].judged.standing == build::Standing::within);
  const std::string slot = Joints::pull("nuts", "castle", "n", "1", "48");
  CHECK(bench.refused(slot.substr(0, slot.size() - 1) + R"(,"prevailing":8})") == "bad-value");
}

TEST_CASE("a wrench too coarse for the window is refused, a finer one will do") {
  Joints bench;
  CHECK(bench.refused(Joints::pull("nuts", "fine", "n", "1", "50")) == "gauge-unfit");
  CHECK(bench.message ==
        "wrench is too coarse for 49 to 51 N.m: it may be off by 2 N.m either way; take a better one.");
  bench.ok(Joints::pull("nuts", "fine", "n", "1", "50", "peak"));
}

TEST_CASE("an indicating wrench gives a peak for every fastener") {
  Joints bench;
  CHECK(bench.refused(Joints::cover("all", "1", "40", "peak")) == "one-by-one");
  bench.ok(Joints::cover("1", "1", "40.1", "peak"));
}

TEST_CASE("with an adapter the wrench shows less than the bolt gets, and the record holds both") {
  Joints bench;
  const std::string adapter = R"({"do":"extension","step":"cover","entry":"screws","wrench_length":"400 mm",)";
  CHECK(bench.refused(adapter + R"("extension":"400 mm","angle":"180 deg"})") == "bad-value");
  CHECK(bench.refused(adapter + R"("extension":"60 kg"})") == "bad-unit");
  bench.ok(adapter + R"("extension":"100 mm"})");
  const auto& lever = *bench.entry("cover", "screws").lever;
  CHECK(lever.ratio == quantity::Exact::ratio(4, 5));
  CHECK(bench.perform(Joints::cover("1", "1", "40")).at("verdict").as_text() == "outside"); // that would be 50
  bench.ok(R"({"do":"loosen","step":"cover","entry":"screws","fasteners":["1"],"reason":"set too high"})");
  bench.ok(Joints::cover("1", "1", "32"));
  CHECK(bench.entry("cover", "screws").fasteners[0][0].value == quantity::Exact(40));
  const auto& body = bench.events.back().body;
  CHECK(body.at("lever").at("on_the_wrench").as_text() == "32");
  CHECK(body.at("fasteners").items()[0].at("value").as_text() == "40");
  CHECK(body.at("how").as_text() == "set");
  bench.ok(R"({"do":"extension","step":"cover","entry":"screws","off":true})");
  bench.ok(Joints::cover("2", "1", "40"));
}

TEST_CASE("a jump in the turning torque names the cap after which it came") {
  const auto cell = [](const char* value) {
    build::Cell it;
    it.value = *quantity::Exact::decimal(value);
    it.u = quantity::Exact::ratio(1, 10);
    build::Try& one = it.tries.emplace_back();
    one.value = it.value;
    one.u = one.own = it.u;
    return it;
  };
  const std::vector<build::Cell> cells = {cell("2.0"), cell("2.6"), cell("3.1"), cell("5.4"), cell("5.8")};
  std::vector<const build::Cell*> series;
  for (const auto& one : cells) series.push_back(&one);
  const auto jump = build::jump_in(series);
  REQUIRE(jump);
  CHECK(jump->at == 3);
  CHECK(jump->from == cells[2].value);
  series.erase(series.begin() + 3);
  CHECK(build::jump_in(series)->at == 3); // 3.1 to 5.8 now
  series.pop_back();
  CHECK(!build::jump_in(series));
}

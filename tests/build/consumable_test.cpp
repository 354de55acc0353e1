// Parts used up by fitting them, and parts with a last day of use: what is out does not go in again by oversight, what
// is past its day not without a reason. The rules are common practice, no source; the engine is made up.
#include "build/bench.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <algorithm>
#include <random>

namespace {

// A seal and its sealant in a carrier; washers under two jets; a gasket that goes on in one step and is pressed in
// another; a sump stuck with the same sealant.
constexpr std::string_view engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "parts":[{"id":"seal","title":"Rear crankshaft seal","once":true},
    {"id":"washer","title":"Jet washer","once":true,"positions":["1","2"]},
    {"id":"gasket","title":"Head gasket","once":true},
    {"id":"sealant","title":"Sealant","dated":true}],
  "limits":{"depth":{"title":"Depth","unit":"mm","standard":{"low":1,"high":2},"basis":"invented example"}},
  "sections":[{"id":"all","title":"All","steps":[
    {"id":"carrier","title":"Carrier on","hold":true,"fits":["seal"],"entries":[
      {"id":"depth","kind":"reading","title":"Depth","unit":"mm","limit":"depth"},
      {"id":"on","kind":"confirm","title":"On"}]},
    {"id":"jets","title":"Jets in","positions":["1","2"],"fits":["washer"],"entries":[
      {"id":"height","kind":"reading","title":"Height","unit":"mm","taken-apart":"lost"}]},
    {"id":"lay","title":"Lay the gasket","fits":["gasket"],"entries":[{"id":"laid","kind":"confirm","title":"Laid"}]},
    {"id":"press","title":"Press the gasket","after":["lay"],"fits":["gasket"],"entries":[{"id":"pressed","kind":"confirm","title":"Pressed"}]},
    {"id":"sump","title":"Sump on","fits":["sealant"],"entries":[{"id":"on","kind":"confirm","title":"On"}]},
    {"id":"pan","title":"Pan on","fits":["sealant"],"entries":[{"id":"on","kind":"confirm","title":"On"}]}]}]})";

struct Parts : Bench {
  Parts() : Bench(engine) {}

  void carrier() {
    ok(R"({"do":"record","step":"carrier","entry":"depth","value":1.5,"gauge":"mic"})");
    ok(R"({"do":"confirm","step":"carrier","entry":"on"})");
    ok(R"({"do":"sign","step":"carrier"})");
  }
  void jets() {
    ok(R"({"do":"record","step":"jets","entry":"height","values":[1,1],"gauge":"mic"})");
    ok(R"({"do":"sign","step":"jets"})");
  }
  void confirm_and_sign(const std::string& step, const std::string& entry) {
    ok(fmt::format(R"({{"do":"confirm","step":"{}","entry":"{}"}})", step, entry));
    ok(fmt::format(R"({{"do":"sign","step":"{}"}})", step));
  }
  void reopen(const std::string& step, const std::string& more = "") {
    ok(fmt::format(R"({{"do":"reopen","step":"{}","reason":"leaked"{}}})", step, more));
  }
  std::vector<std::string> messages(const std::string& step) const {
    std::vector<std::string> out;
    for (const auto& it : build::blockers(shop, build, *plan->find_step(step), now)) out.push_back(it.message);
    return out;
  }
  bool asks(const std::string& step) const {
    const auto codes = blocking(step);
    return std::find(codes.begin(), codes.end(), "one-use") != codes.end();
  }
  // Named in the events: "seal", "washer 2".
  std::vector<std::string> listed(std::string_view member) const {
    std::vector<std::string> out;
    const auto add = [&](const json::Value& body) {
      if (const auto* list = body.find(member))
        for (const auto& it : list->items())
          out.push_back(it.text_or_empty("part") + (it.find("position") ? " " + it.text_or_empty("position") : ""));
    };
    add(events.back().body);
    if (const auto* reopened = events.back().body.find("reopened"))
      for (const auto& item : reopened->items()) add(item);
    return out;
  }
};

using Names = std::vector<std::string>;

} // namespace

TEST_CASE("a seal that came out does not go in again until another is named, or the reason") {
  for (
      const std::string named :
      {R"({"do":"part","part":"seal","state":"new","lot":"S-2"})",
       R"({"do":"part","part":"seal","state":"reused","text":"Never touched by the shaft; none to be had until Monday"})"}) {
    Parts bench;
    bench.carrier();
    CHECK(bench.listed("fitted") == Names{"seal"});
    CHECK(bench.build.parts.empty()); // never named: nothing is made up about it
    bench.reopen("carrier");
    CHECK(bench.listed("taken_out") == Names{"seal"});
    bench.ok(R"({"do":"confirm","step":"carrier","entry":"depth"})");
    bench.ok(R"({"do":"confirm","step":"carrier","entry":"on"})");
    CHECK(bench.messages("carrier") ==
          Names{"Rear crankshaft seal was fitted before: fit a new one and name it, or say why the same goes in "
                "again."});
    CHECK(bench.blocking("carrier") == Names{"one-use"});
    CHECK(bench.refused(R"({"do":"sign","step":"carrier"})") == "blocked");
    CHECK(bench.refused(R"({"do":"part","part":"seal","state":"reused"})") == "one-use");
    CHECK(bench.message == "Rear crankshaft seal is used up by fitting it: take a new one, or say in \"text\" why the "
                           "same goes in again.");
    bench.ok(named);
    bench.ok(R"({"do":"sign","step":"carrier"})");
  }
}

TEST_CASE("the second signature, and a correction that is signed again, leave the seal where it is") {
  Parts bench;
  bench.carrier();
  CHECK_FALSE(bench.asks("carrier"));
  bench.ok(R"({"do":"sign","step":"carrier","person":"carl","passphrase":"right"})");
  bench.ok(R"({"do":"correct","step":"carrier","entry":"depth","value":1.6,"gauge":"mic","reason":"misread"})");
  CHECK(bench.state("carrier") == "reopened");
  CHECK(bench.blocking("carrier").empty());
  bench.ok(R"({"do":"sign","step":"carrier"})");
  CHECK(bench.listed("fitted").empty()); // in already
  // Taken out while it waits to be signed again it is out all the same.
  bench.ok(R"({"do":"correct","step":"carrier","entry":"depth","value":1.7,"gauge":"mic","reason":"misread"})");
  bench.reopen("carrier");
  CHECK(bench.asks("carrier"));
}

TEST_CASE("taken out before the second person has signed, the seal is used up too") {
  Parts bench;
  bench.carrier();
  bench.reopen("carrier");
  CHECK(bench.asks("carrier"));
}

TEST_CASE("named only after it was fitted, the same seal is not taken for a new one when it comes out") {
  Parts bench;
  bench.carrier();
  bench.ok(R"({"do":"part","part":"seal","state":"new","lot":"S-1"})");
  CHECK_FALSE(bench.asks("carrier"));
  bench.reopen("carrier");
  CHECK(bench.asks("carrier"));
}

TEST_CASE("one jet taken out asks for its own washer alone, the other when its turn comes") {
  Parts bench;
  bench.jets();
  CHECK(bench.listed("fitted") == Names{"washer 1", "washer 2"});
  const auto preview = bench.perform(R"({"do":"reopen","step":"jets","positions":["2"],"reason":"drips"})");
  CHECK(preview.at("taken_out").items().size() == 1);
  CHECK(bench.listed("taken_out") == Names{"washer 2"});
  bench.ok(R"({"do":"record","step":"jets","entry":"height","position":"2","value":1,"gauge":"mic"})");
  CHECK(bench.messages("jets") ==
        Names{"Jet washer 2 was fitted before: fit a new one and name it, or say why the same goes in again."});
  bench.ok(R"({"do":"part","part":"washer","position":"1","state":"new"})"); // not the one that came out
  CHECK(bench.asks("jets"));
  bench.ok(R"({"do":"part","part":"washer","position":"2","state":"remade","text":"Annealed"})");
  // Still unsigned, and with nothing of it recorded but the other place: its washer is not forgotten.
  bench.reopen("jets", R"(,"positions":["1"])");
  CHECK(bench.listed("taken_out") == Names{"washer 1"});
  CHECK(bench.asks("jets"));
}

TEST_CASE("a gasket pressed in a later step is used up by opening that step alone") {
  Parts bench;
  bench.confirm_and_sign("lay", "laid");
  bench.confirm_and_sign("press", "pressed");
  CHECK(bench.events.size() > 4);
  bench.reopen("press");
  bench.ok(R"({"do":"confirm","step":"press","entry":"pressed"})");
  CHECK(bench.asks("press"));
  bench.reopen("lay");
  CHECK(bench.asks("lay"));
  bench.ok(R"({"do":"part","part":"gasket","state":"new"})");
  CHECK_FALSE(bench.asks("lay"));
  CHECK_FALSE(bench.asks("press"));
}

TEST_CASE("sealant is named with its lot and last day before it is used") {
  Parts bench;
  bench.ok(R"({"do":"confirm","step":"sump","entry":"on"})");
  CHECK(bench.messages("sump") == Names{"Sealant: name it with its lot and last day of use."});
  CHECK(bench.blocking("sump") == Names{"part-missing"});
  for (const char* line :
       {R"({"do":"part","part":"sealant","state":"new"})", R"({"do":"part","part":"sealant","state":"new","lot":"L"})",
        R"({"do":"part","part":"sealant","state":"new","expires":"2026-08-31"})"})
    CHECK(bench.refused(line) == "bad-value");
  CHECK(bench.message == "Sealant has a last day of use: give its lot and the day, as \"lot\" and \"expires\".");
  CHECK(bench.refused(R"({"do":"part","part":"sealant","state":"new","lot":"L","expires":"31.8.2026"})") ==
        "bad-value");
  bench.ok(R"({"do":"part","part":"sealant","state":"new","lot":"L-7","expires":"2026-08-31"})");
  bench.ok(R"({"do":"sign","step":"sump"})");
  const auto& fitted = bench.events.back().body.at("fitted").items().front();
  CHECK(fitted.text_or_empty("lot") == "L-7");
  CHECK(fitted.text_or_empty("expires") == "2026-08-31");
}

TEST_CASE("the last day itself is good, by the calendar of the place; the day after wants a reason") {
  // The bench stands at 2026-01-05 09:00, an hour before UTC.
  Parts bench;
  bench.ok(R"({"do":"part","part":"sealant","state":"new","lot":"L","expires":"2026-01-05"})");
  bench.ok(R"({"do":"confirm","step":"sump","entry":"on"})");
  bench.ok(R"({"do":"confirm","step":"pan","entry":"on"})");
  bench.later(14 * 60 + 59); // 23:59
  CHECK(bench.blocking("sump").empty());
  bench.ok(R"({"do":"sign","step":"sump"})");
  bench.later(1); // the 6th here, still the 5th in UTC
  CHECK(bench.messages("pan") ==
        Names{"Sealant: its last day of use was 2026-01-05; name another, or name it again with the reason."});
  CHECK(bench.blocking("pan") == Names{"out-of-date"});
  CHECK(bench.refused(R"({"do":"sign","step":"pan"})") == "blocked");
  CHECK(bench.refused(R"({"do":"part","part":"sealant","state":"new","lot":"L","expires":"2026-01-05"})") ==
        "out-of-date");
  bench.ok(
      R"({"do":"part","part":"sealant","state":"new","lot":"L","expires":"2026-01-05","text":"Skins as it should on a trial strip"})");
  bench.ok(R"({"do":"sign","step":"pan"})");
}

TEST_CASE("a remark made while the sealant was good is no reason to use it when it is not") {
  Parts bench;
  bench.ok(
      R"({"do":"part","part":"sealant","state":"new","lot":"L","expires":"2026-01-05","text":"From the new carton"})");
  bench.ok(R"({"do":"confirm","step":"sump","entry":"on"})");
  bench.later(24 * 60);
  CHECK(bench.blocking("sump") == Names{"out-of-date"});
}

TEST_CASE("sealant that went in while it was good is not asked about later, a new bead is") {
  Parts bench;
  bench.ok(R"({"do":"part","part":"sealant","state":"new","lot":"L","expires":"2026-01-05"})");
  bench.confirm_and_sign("sump", "on");
  bench.later(48 * 60);
  bench.reopen("sump");
  bench.ok(R"({"do":"confirm","step":"sump","entry":"on"})");
  CHECK(bench.blocking("sump") == Names{"out-of-date"});
  bench.ok(R"({"do":"part","part":"sealant","state":"new","lot":"M","expires":"2027-01-05"})");
  bench.ok(R"({"do":"sign","step":"sump"})");
}

TEST_CASE("in whatever order it is taken apart and signed, nothing used up goes in twice unnamed") {
  std::size_t in = 0, out = 0;
  for (unsigned seed = 1; seed <= 30; ++seed) {
    std::mt19937 chance(seed);
    Parts bench;
    const std::vector<std::string> lines = {
        R"({"do":"record","step":"carrier","entry":"depth","value":1.5,"gauge":"mic"})",
        R"({"do":"confirm","step":"carrier","entry":"depth"})",
        R"({"do":"correct","step":"carrier","entry":"depth","value":1.6,"gauge":"mic","reason":"misread"})",
        R"({"do":"confirm","step":"carrier","entry":"on"})",
        R"({"do":"sign","step":"carrier"})",
        R"({"do":"sign","step":"carrier","person":"carl","passphrase":"right"})",
        R"({"do":"reopen","step":"carrier","reason":"x"})",
        R"({"do":"record","step":"jets","entry":"height","values":[1,1],"gauge":"mic"})",
        R"({"do":"record","step":"jets","entry":"height","position":"1","value":1,"gauge":"mic"})",
        R"({"do":"record","step":"jets","entry":"height","position":"2","value":1,"gauge":"mic"})",
        R"({"do":"sign","step":"jets"})",
        R"({"do":"sign","step":"jets"})",
        R"({"do":"reopen","step":"jets","positions":["1"],"reason":"x"})",
        R"({"do":"reopen","step":"jets","positions":["2"],"reason":"x"})",
        R"({"do":"part","part":"seal","state":"new"})",
        R"({"do":"part","part":"washer","position":"1","state":"new"})",
        R"({"do":"part","part":"washer","position":"2","state":"reused","text":"Annealed"})"};
    // Kept apart from the gate's own books: what is in, and what came out and was not named since.
    std::set<std::string> fitted, loose;
    for (int turn = 0; turn < 200; ++turn) {
      const auto before = bench.events.size();
      bench.perform(lines[chance() % lines.size()]);
      if (bench.events.size() == before) continue;
      const auto& event = bench.events.back();
      if (event.kind == "part") loose.erase(event.body.text_or_empty("part") + event.body.text_or_empty("position"));
      if (event.kind != "reopen" && event.kind != "sign") continue;
      const bool carrier = event.body.at("step").as_text() == "carrier";
      Names places = carrier ? Names{"seal"} : Names{"washer1", "washer2"};
      if (const auto* only = event.body.at("asked").find("positions"))
        places = {"washer" + only->items().front().as_text()};
      for (const auto& place : places) {
        if (event.kind == "sign" && fitted.insert(place).second) {
          CHECK_FALSE(loose.count(place));
          ++in;
        }
        if (event.kind == "reopen" && fitted.erase(place)) {
          loose.insert(place);
          ++out;
        }
      }
    }
    build::Build again = *build::begin(bench.events.front(), bench.plan);
    for (std::size_t e = 1; e < bench.events.size(); ++e) REQUIRE(build::apply(again, bench.events[e]));
    CHECK(everything(again) == everything(bench.build));
  }
  CHECK(in > 100);
  CHECK(out > 50);
}

// Whatever is asked in whatever order: no step is signed with a blocker, none before what it rests on, and the fold of
// the events is the state that was built up action by action.
#include "build/bench.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>
#include <random>

namespace {

class Chance {
public:
  explicit Chance(unsigned seed) : engine_(seed) {}
  std::size_t below(std::size_t n) { return engine_() % n; }
  template <typename T>
  const T& of(const std::vector<T>& list) {
    return list[below(list.size())];
  }

private:
  std::mt19937 engine_;
};

const std::vector<std::string> steps = {"clean", "mains", "caps", "float", "cover", "rotor-pump", "relief", "run"};

std::string number(Chance& chance, double around, double spread) {
  return fmt::format("{:.3f}", around + spread * (static_cast<double>(chance.below(2001)) / 1000.0 - 1.0));
}

std::string grid(Chance& chance, std::size_t rows, double around, double spread) {
  std::string out = "[";
  for (std::size_t r = 0; r < rows; ++r) {
    if (r) out += ",";
    if (chance.below(12) == 0)
      out += "null";
    else
      out += fmt::format("[{},{}]", number(chance, around, spread), number(chance, around, spread));
  }
  return out + "]";
}

std::string reading(Chance& chance) {
  const std::string kind = chance.of<std::string>({"record", "record", "record", "again", "correct"});
  const std::string reason = kind == "correct" ? R"(,"reason":"misread")" : "";
  switch (chance.below(6)) {
  case 0:
    return fmt::format(R"({{"do":"{}","step":"mains","entry":"bore","gauge":"mic","values":{}{}}})", kind,
                       grid(chance, 3, 48.012, 0.010), reason);
  case 1:
    return fmt::format(R"({{"do":"{}","step":"mains","entry":"journal","gauge":"mic","values":{}{}}})", kind,
                       grid(chance, 3, 47.972, 0.009), reason);
  case 2:
    return fmt::format(R"({{"do":"{}","step":"cover","entry":"flat","gauge":"mic","value":{}{}}})", kind,
                       number(chance, 0.04, 0.02), reason);
  case 3:
    return fmt::format(R"({{"do":"{}","step":"float","entry":"dial","gauge":"dial","values":[[0,{}],[0,{}]]{}}})", kind,
                       number(chance, 0.19, 0.09), number(chance, 0.19, 0.09), reason);
  case 4:
    return fmt::format(R"({{"do":"{}","step":"float","entry":"turning","gauge":"wrench","value":{}{}}})", kind,
                       number(chance, 4, 2.5), reason);
  default:
    return fmt::format(R"({{"do":"{}","step":"relief","entry":"lift","gauge":"mic","value":{}{}}})", kind,
                       number(chance, 2.5, 0.7), reason);
  }
}

// What a builder who gets on would do; mixed in, so that the streams reach the far steps too.
const std::vector<std::string> helpful = {
    R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.010,48.012],[48.011,48.012],[48.012,48.013]]})",
    R"({"do":"record","step":"mains","entry":"journal","gauge":"mic","values":[[47.970,47.972],[47.971,47.971],[47.972,47.973]]})",
    R"({"do":"zero","step":"mains","entry":"bore","value":0.001})",
    R"({"do":"sign","step":"mains"})",
    R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"all","stage":"1","value":30,"gauge":"wrench"})",
    R"({"do":"tighten","step":"caps","entry":"bolts","fastener":"all","stage":"2","value":68,"gauge":"wrench"})",
    R"({"do":"record","step":"caps","entry":"strip","values":[[1],[1],[1]]})",
    R"({"do":"sign","step":"caps"})",
    R"({"do":"record","step":"float","entry":"dial","gauge":"dial","values":[[0,0.19],[0,0.20]]})",
    R"({"do":"record","step":"float","entry":"turning","gauge":"wrench","value":3})",
    R"({"do":"sign","step":"float"})",
    R"({"do":"sign","step":"float","person":"ben","passphrase":"right"})",
    R"({"do":"sign","step":"relief"})"};

// Bores read from a setting, and the gauge put back on it.
std::string comparator(Chance& chance) {
  if (chance.below(3) == 0)
    return fmt::format(R"({{"do":"zero","step":"mains","entry":"bore","value":{}}})",
                       chance.of<std::string>({"0", "0.001", "-0.001", "0.004"}));
  return fmt::format(
      R"({{"do":"{}","step":"mains","entry":"bore","position":"{}","gauge":"mic","values":[{},{}],"set_at":48{}{}}})",
      chance.of<std::string>({"record", "record", "again"}), chance.of<std::string>({"1", "2", "3"}),
      chance.of<std::string>({"0.010", "0.012", "null"}), chance.of<std::string>({"0.011", "0.013"}),
      chance.of<std::string>({"", R"(,"set_with":"ring")"}), chance.of<std::string>({"", "", R"(,"as_found":true)"}));
}

std::string any_action(Chance& chance) {
  if (chance.below(2) == 0) return chance.of(helpful);
  const std::string& step = chance.of(steps);
  switch (chance.below(17)) {
  case 0: return fmt::format(R"({{"do":"acknowledge","step":"{}"}})", step);
  case 1:
    return chance.of<std::string>(
        {R"({"do":"confirm","step":"clean","entry":"galleries"})", R"({"do":"confirm","step":"float","entry":"dial"})",
         R"({"do":"confirm","step":"mains","entry":"oil"})", R"({"do":"confirm","step":"mains","entry":"bore"})",
         R"({"do":"confirm","step":"run","entry":"runs"})"});
  case 2:
  case 3:
  case 4:
  case 5: return reading(chance);
  case 6:
    return fmt::format(
        R"({{"do":"tighten","step":"caps","entry":"bolts","fastener":"{}","stage":"{}","value":{},"gauge":"wrench"}})",
        chance.of<std::string>({"all", "all", "2L", "1R"}), chance.of<std::string>({"1", "2"}),
        chance.of<std::string>({"30", "68"}));
  case 7: return R"({"do":"record","step":"caps","entry":"strip","values":[[1],[1],[1]]})";
  case 8:
    return chance.of<std::string>(
        {R"({"do":"identify","step":"cover","entry":"number","text":"C"})",
         R"({"do":"pick","step":"cover","entry":"faces","value":"sound"})",
         R"({"do":"wait","step":"cover","entry":"skin"})", R"({"do":"pick","option":"pump","value":"gear"})",
         R"({"do":"pick","option":"undersize","value":"0.25"})",
         R"({"do":"pick","option":"undersize","value":"standard"})", R"({"do":"part","part":"crank","state":"reused"})",
         R"({"do":"part","part":"shell","position":"2","state":"reused"})",
         R"({"do":"fill-limit","limit":"lift","unit":"mm","standard":{"low":2,"high":3},"basis":"maker","source":"p"})"});
  case 9:
    return fmt::format(
        R"({{"do":"dispose","step":"{}","entry":"{}","disposition":"{}","text":"x","person":"anna","passphrase":"right"}})",
        step, chance.of<std::string>({"bore", "oil", "flat", "play", "journal"}),
        chance.of<std::string>({"rework", "concession", "accept", "replace"}));
  case 10: return fmt::format(R"({{"do":"accept","step":"float","entry":"play","reason":"x"}})");
  case 11:
    return fmt::format(R"({{"do":"take-back","step":"{}","entry":"{}"}})", step,
                       chance.of<std::string>({"bore", "flat", "dial"}));
  case 12:
    if (chance.below(4) == 0) return fmt::format(R"({{"do":"reopen","step":"{}","reason":"x"}})", step);
    return fmt::format(R"({{"do":"sign","step":"{}","person":"ben","passphrase":"right"}})", step);
  case 13:
    return chance.of<std::string>(
        {R"({"do":"send","to":"Brook Lane","lines":[{"part":"crank","text":"Ground"}]})",
         R"({"do":"send","to":"Brook Lane","lines":[{"part":"shell","positions":["2"],"text":"x"}]})",
         R"({"do":"back","order":"m1"})", R"({"do":"back","order":"m2"})",
         R"({"do":"back","order":"m3","state":"reused"})", R"({"do":"back","order":"m4","state":"new"})"});
  case 16: return comparator(chance);
  default: return fmt::format(R"({{"do":"sign","step":"{}"}})", step);
  }
}

} // namespace

TEST_CASE("random actions never sign a step with a blocker, and folding the events again gives the same build") {
  std::size_t signatures = 0;
  std::size_t accepted = 0;
  for (unsigned seed = 1; seed <= 80; ++seed) {
    Chance chance(seed);
    Bench bench;
    bench.clean();
    for (int turn = 0; turn < 260; ++turn) {

      const std::string line = any_action(chance);
      const auto action = *json::read_one(line);
      const bool signing = action.text_or_empty("do") == "sign";
      std::vector<build::Blocker> before;
      if (signing)
        before =
            build::blockers(bench.shop, bench.build, *bench.plan->find_step(action.text_or_empty("step")), bench.now);
      bench.later(static_cast<int>(chance.below(9)));
      const auto answer = bench.perform(line);
      if (!answer.at("ok").as_boolean()) continue;
      ++accepted;
      if (!signing) continue;
      ++signatures;
      INFO("seed " << seed << ": " << line);
      for (const auto& blocker : before) {
        // A wait may have run out since `before` was asked; the second signature removes its own blocker.
        CHECK((blocker.code == "second-person-needed" || blocker.code == "waiting"));
      }
      const auto step = *bench.plan->find_step(action.text_or_empty("step"));
      for (const auto rests_on : bench.plan->after(step)) CHECK(bench.build.step(rests_on).signed_off);
    }
    auto folded = build::begin(bench.events.front(), bench.plan);
    REQUIRE(folded);
    for (std::size_t e = 1; e < bench.events.size(); ++e) REQUIRE(build::apply(*folded, bench.events[e]));
    CHECK(everything(*folded) == everything(bench.build));
  }
  CHECK(signatures > 100);
  CHECK(accepted > 800);
}

TEST_CASE("every decision made again from its own event is the same") {
  for (unsigned seed = 101; seed <= 130; ++seed) {
    Chance chance(seed);
    Bench bench;
    bench.clean();
    for (int turn = 0; turn < 80; ++turn) {

      const build::Build before = bench.build;
      const std::size_t events = bench.events.size();
      bench.perform(any_action(chance));
      if (bench.events.size() == events) continue;
      const auto& event = bench.events.back();
      const auto& asked = event.body.at("asked");
      build::Context context;
      context.now = event.time;
      const build::Actor anna{"anna", "Anna Reed", "c-anna", {build::Role::builder, build::Role::owner}};
      const build::Actor ben{"ben", "Ben Holt", "c-ben", {build::Role::builder}};
      context.actor = &anna;
      if (asked.find("person")) context.authority = event.person == "ben" ? &ben : &anna;
      const auto again = build::decide_build(bench.shop, &before, asked, context);
      INFO(json::canonical(event.body));
      REQUIRE(again);
      CHECK(json::canonical(again->body) == json::canonical(event.body));
      CHECK(again->meaning == event.meaning);
    }
  }
}

TEST_CASE("hostile values in any field of any action are refused or recorded, and never more") {
  const std::vector<std::string> more = {
      R"({"do":"enrol","person":"e","name":"E","roles":["builder"],"passphrase":"right"})",
      R"({"do":"add-gauge","gauge":"g","kind":"micrometer","unit":"mm","resolution":0.01,"u":0.01,"range":[0,25],"due":"2027-01-01"})",
      R"({"do":"update-gauge","gauge":"mic","calibrated":"2026-01-02","found":"in"})",
      R"({"do":"check-gauge","gauge":"mic","standard":"ring","size":25,"reading":25.001})",
      R"({"do":"set-shop","name":"Heronsgate","one_person":false})",
      R"({"do":"loosen","step":"caps","entry":"bolts","fasteners":["2L"],"reason":"x"})",
      R"({"do":"release","person":"anna","passphrase":"right","deferred":["start"],"reason":"x"})",
      R"({"do":"reopen","step":"mains","positions":["2"],"reason":"x"})",
      R"({"do":"record","step":"mains","entry":"bore","position":"2","gauge":"mic","values":[0.01,0.01],"set_at":48,"set_with":"ring","part_at":20})",
      R"({"do":"zero","step":"mains","entry":"bore","value":0.001,"unit":"mm"})"};
  const std::vector<std::string> values = {"null",
                                           "true",
                                           "0",
                                           "-0",
                                           "-1",
                                           "9007199254740993",
                                           "99999999999999999999",
                                           "1e999",
                                           "1e-12",
                                           "0.1",
                                           "[]",
                                           "[null]",
                                           "[[[]]]",
                                           "{}",
                                           R"({"low":2})",
                                           R"({"low":1e9,"high":"x"})",
                                           R"("")",
                                           R"(" ")",
                                           R"("all")",
                                           R"("clean")",
                                           R"("mains")",
                                           R"("caps")",
                                           R"("bore")",
                                           R"("flat")",
                                           R"("bolts")",
                                           R"("mic")",
                                           R"("wrench")",
                                           R"("mm")",
                                           R"("-")",
                                           R"("1e3 mm")",
                                           R"("2")",
                                           R"("new")",
                                           R"("rework")",
                                           R"("concession")",
                                           R"("2026-01-01")",
                                           R"("\u202e")",
                                           R"("\u0000")",
                                           R"("anna")",
                                           R"(["2"])",
                                           R"(["2L",5])",
                                           R"([["1","2"],["3","4"],["5","6"]])",
                                           R"([1,2])",
                                           R"({"\u00e9":1})",
                                           R"("\ud83d\ude00")"};
  Chance chance(5);
  Bench bench;
  bench.clean();
  int recorded = 0;
  int refused = 0;
  for (int turn = 0; turn < 4000; ++turn) {
    auto action = *json::read_one(chance.below(3) ? any_action(chance) : chance.of(more));
    const auto value = json::read_one(chance.of(values));
    auto& members = action.members();
    const std::size_t which = 1 + chance.below(members.size());
    if (!value) continue;
    if (which < members.size())
      action.set(members[which].key, *value);
    else
      action.set("extra", *value);
    if (action.find("passphrase")) action.set("passphrase", json::Value::text("right"));
    const bool ok = bench.perform(json::compact(action)).at("ok").as_boolean();
    ++(ok ? recorded : refused);
  }
  CHECK(recorded > 50);
  CHECK(refused > 1000);
}

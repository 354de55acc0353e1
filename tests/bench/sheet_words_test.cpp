// What stands beside an entry at work: its limits, what was read before, which key leads on; and where the build
// stands. The engine is made up.
#include "bench/limit_words.h"
#include "bench/missing_keys.h"
#include "bench/screen.h"

#include "build/limits.h"
#include "quantity/unit.h"

#include <catch2/catch.hpp>
#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <regex>
#include <set>

namespace {

constexpr int f5 = bench::key::f1 + 4;
constexpr int f7 = bench::key::f1 + 6;
constexpr int f8 = bench::key::f1 + 7;

const std::string engine =
    R"({"format":1,"id":"tiny","title":"Tiny","revision":"1","engine":{"model":"HX4-150"},
  "options":[{"id":"size","title":"Over size","choices":["standard","0.25"]}],
  "parts":[{"id":"block","title":"Block"},{"id":"pin","title":"Pin","positions":["1","2","3","4"]}],
  "limits":{"pin":{"title":"Pin","unit":"mm","standard":{"low":20.000,"high":20.010},"service":{"low":19.990},
                   "basis":"invented example"},
            "step":{"title":"Step","unit":"mm","standard":{"high":0.08},"basis":"invented example"},
            "deep":{"title":"Depth","unit":"mm","standard":{"low":11.5},"basis":"invented example"},
            "empty":{"title":"Not filled in","unit":"mm","basis":"invented example"},
            "sized":{"title":"Sized","unit":"mm","when":[
              {"option":"size","is":"standard","standard":{"low":1,"high":2}},
              {"option":"size","is":"0.25","standard":{"low":2,"high":3}}],"basis":"invented example"}},
  "sections":[{"id":"first","title":"First","steps":[
    {"id":"pins","title":"Measure the pins","positions":["1","2","3","4"],
     "cautions":[{"word":"WARNING","hazard":"Sharp edges.","consequence":"They cut.","avoid":"Gloves."}],"entries":[
      {"id":"pin","kind":"readings","title":"Pin","unit":"mm","rows":["front","rear"],"limit":"pin","parts":["pin"],
       "by-eye":true},
      {"id":"form","kind":"calculated","title":"Form of the pin","computation":"form",
       "inputs":{"readings":{"entry":"pin"}},"judge":{"out_of_round":"step","taper":"deep"}}]},
    {"id":"depth","title":"Measure the depth","entries":[
      {"id":"depth","kind":"reading","title":"Depth","unit":"mm","limit":"deep","by-eye":true},
      {"id":"free","kind":"reading","title":"Free","unit":"mm","by-eye":true,"optional":true},
      {"id":"empty","kind":"reading","title":"Empty","unit":"mm","limit":"empty","by-eye":true,"optional":true},
      {"id":"sized","kind":"reading","title":"Sized","unit":"mm","limit":"sized","by-eye":true,"optional":true},
      {"id":"seen","kind":"confirm","title":"Seen"}]},
    {"id":"last","title":"Close it","after":["depth"],"entries":[
      {"id":"skin","kind":"wait","title":"Sealant skins","least":{"value":10,"unit":"min"}},
      {"id":"closed","kind":"confirm","title":"Closed"}]}]}]})";

struct Bench : Screen {
  explicit Bench(const std::string& text = engine) : Screen(1, 1280, 2000, text) {} // all of it in sight
  void begin() {
    sign_in();
    press(f5); // the notices
  }
  build::EntryAt at(const std::string& step, const std::string& id) const {
    const auto s = *build().plan->find_step(step);
    return {s, *build().plan->find_entry(s, id)};
  }
  std::string limit(const std::string& step, const std::string& id, std::optional<std::size_t> position = {}) const {
    return bench::limit_words(build(), at(step, id), position);
  }
};

std::string text_of(const std::filesystem::path& file) {
  std::ifstream in(file);
  return {std::istreambuf_iterator<char>(in), {}};
}

} // namespace

TEST_CASE("numbers that no second person checked are marked behind the limit") {
  std::string maker = engine;
  const std::string deep = R"("standard":{"low":11.5},"basis":"invented example")";
  maker.replace(maker.find(deep), deep.size(), R"("standard":{"low":11.5},"basis":"maker","source":"p. 4")");
  CHECK(Bench(maker).limit("depth", "depth") == "at least 11.5 mm, standard, numbers not checked by a second person");
  CHECK(Bench().limit("depth", "depth") == "at least 11.5 mm, standard");
}

TEST_CASE("bounds are written as the trade writes them") {
  using quantity::Exact;
  const auto& mm = *quantity::find_unit("mm");
  const auto number = [](const char* text) { return *Exact::written(text); };
  CHECK(build::text(build::Bounds{number("0.02"), number("0.062")}, mm) == "0.020 to 0.062 mm");
  CHECK(build::text(build::Bounds{number("11.5"), {}}, mm) == "at least 11.5 mm");
  CHECK(build::text(build::Bounds{{}, number("0.08")}, mm) == "at most 0.08 mm");
}

TEST_CASE("every kind of limit stands beside its entry in words") {
  Bench bench;
  CHECK(bench.limit("pins", "pin") == "20.00 to 20.01 mm, standard");
  CHECK(bench.limit("depth", "depth") == "at least 11.5 mm, standard");
  CHECK(bench.limit("pins", "form") == "out of round: at most 0.08 mm, standard; taper: at least 11.5 mm, standard");
  CHECK(bench.limit("depth", "free").empty());
  CHECK(bench.limit("depth", "empty") == "limit missing");
  CHECK(bench.limit("depth", "sized") == "option not picked");
}

TEST_CASE("where the positions differ the point at work shows its own limit, the others theirs by name") {
  Bench bench;
  bench.in_the_shop(R"({"do":"part","build":"marigold","part":"pin","position":"3","state":"reused"})");
  CHECK(bench.limit("pins", "pin", 0) == "20.00 to 20.01 mm, standard");
  CHECK(bench.limit("pins", "pin", 2) == "19.99 to 20.01 mm, service");
  CHECK(bench.limit("pins", "pin") == "1, 2, 4: 20.00 to 20.01 mm, standard; 3: 19.99 to 20.01 mm, service");
  bench.begin();
  CHECK(bench.shows("20.00 to 20.01 mm, standard"));
  CHECK_FALSE(bench.shows("service"));
  for (int i = 0; i < 4; ++i) bench.enter("20.005");
  CHECK(bench.shows("At 3, front"));
  CHECK(bench.shows("19.99 to 20.01 mm, service"));
}

TEST_CASE("the same point on the ones before stands beside the field") {
  Bench bench;
  bench.begin();
  CHECK_FALSE(bench.shows("The same on"));
  for (const char* typed : {"20.001", "20.002", "20.003", "20.004", "20.005", "20.006"}) bench.enter(typed);
  CHECK(bench.shows("The same on 1: 20.001, 2: 20.003, 3: 20.005."));
  bench.press(bench::key::right);
  CHECK(bench.shows("The same on 1: 20.002, 2: 20.004, 3: 20.006."));
}

TEST_CASE("what was read before the rework stands beside the field, with its day") {
  Bench bench;
  bench.begin();
  bench.enter("20.050");
  CHECK_FALSE(bench.shows("Earlier here"));
  bench.press(f8);
  bench.press(bench::key::digit_0 + 1);
  bench.enter("ground again");
  CHECK(bench.shows("Earlier here: 20.05 before rework, 2026-01-05."));
}

TEST_CASE("every code that keeps a step or the release back has its key") {
  // The codes as the gate's own files write them.
  std::set<std::string> codes;
  const std::regex written(R"re((?:add|push_back|return)\s*\(?\s*\{?\s*"([a-z-]+)",|Error\{[^"]*"([a-z-]+)")re");
  const std::regex also(R"re("([a-z]+-[a-z]+)"\s*,\s*(?:fmt::format|"))re");
  for (const char* file : {"blockers", "second_look", "consumables", "findings", "orders"}) {
    const std::string text =
        text_of(std::filesystem::path(PROJECT_FOLDER) / "app/build" / (std::string(file) + ".cpp"));
    REQUIRE_FALSE(text.empty());
    for (const auto& pattern : {written, also})
      for (auto it = std::sregex_iterator(text.begin(), text.end(), pattern); it != std::sregex_iterator(); ++it)
        if ((*it)[1].matched) codes.insert((*it)[1]);
  }
  for (const char* known : {"caution-unread", "entry-missing", "reading-outside", "part-away", "cause-missing",
                            "one-use", "out-of-date", "second-look-differs", "waiting", "step-unsigned"})
    CHECK(codes.count(known) == 1); // the patterns find what they are for
  for (const char* of_a_joint : {"limit-missing", "option-unset"}) codes.insert(of_a_joint);
  const auto keys = bench::missing_keys();
  for (const auto& code : codes) {
    INFO(code);
    const auto its = std::ranges::find(keys, code, &bench::MissingKeys::code);
    REQUIRE(its != keys.end());
    CHECK_FALSE(its->words.empty());
  }
  for (const auto& one : keys) {
    INFO(one.code);
    CHECK(codes.count(std::string(one.code)) == 1); // and none that the gate does not know
  }
}

TEST_CASE("what is missing says which key leads on, from signing in to the end") {
  Bench bench;
  CHECK(bench.shows("notices of this step are not read yet. Sign in first: your name and Enter."));
  bench.sign_in();
  CHECK(bench.shows("notices of this step are not read yet. F5 says that you have read them."));
  bench.press(f5);
  CHECK(bench.shows("Pin is not measured yet. Enter records it."));
  CHECK(bench.shows("Form of the pin (1) is worked out once its readings are there. Down goes there."));
  bench.press(bench::key::page_down);
  bench.enter("12");
  CHECK(bench.shows("Seen is not confirmed yet. F5 says it is done."));
  bench.press(bench::key::up);
  CHECK(bench.shows("Seen is not confirmed yet. Down goes there."));
  bench.press(bench::key::page_down);
  CHECK(bench.shows("\"Measure the depth\" must be signed before. Shift Page Up goes there."));
  bench.press_with_shift(bench::key::page_up);
  CHECK(bench.shows("At the place, in mm") == false);
  bench.press(f5);
  bench.press(f7);
  REQUIRE(bench.state("depth") == "signed");
  bench.press(f5);
  CHECK(bench.shows("Shift Page Down goes to other work meanwhile."));
  bench.press_with_shift(bench::key::page_down);
  CHECK(bench.shows("Pin is not measured yet"));
}

TEST_CASE("an outside value says the key") {
  Bench bench;
  bench.begin();
  bench.enter("20.050");
  CHECK(bench.shows("rework, replace or a concession. F8 says what is done about it."));
}

TEST_CASE("a gauge that is not there says how it is added") {
  Screen none(1, 1280, 800,
              R"({"format":1,"id":"t","title":"T","revision":"1","engine":{"model":"HX4-150"},"sections":[{"id":"a",
      "title":"A","steps":[{"id":"s","title":"S","entries":[{"id":"e","kind":"reading","title":"E","unit":"bar",
      "gauges":["pressure gauge"]}]}]}]})");
  none.sign_in();
  CHECK(none.shows("E is not measured yet. F10 adds a gauge."));
}

TEST_CASE("the margin says what is away since when, what time will finish, and how it was released") {
  Bench bench;
  CHECK(bench.shows("0 of 3 steps signed"));
  bench.in_the_shop(R"({"do":"send","build":"marigold","to":"Brook Lane Machining",
                        "lines":[{"part":"block","text":"skim it"}]})");
  CHECK(bench.shows("away since 2026-01-05 09:00"));
  CHECK(bench.shows("Block is at Brook Lane Machining (m1)"));
  bench.in_the_shop(R"({"do":"back","build":"marigold","order":"m1","state":"reused","text":"nothing done"})");
  CHECK_FALSE(bench.shows("away since"));
  bench.begin();
  bench.press(bench::key::page_down);
  bench.enter("12");
  bench.press(bench::key::page_down);
  CHECK(bench.shows("Measure the depth   half done since 2026-01-05 09:00"));
  bench.press(bench::key::page_up);
  bench.press(bench::key::down);
  bench.press(bench::key::down);
  bench.press(bench::key::down);
  bench.press(bench::key::down);
  bench.press(f5);
  bench.press(f7);
  REQUIRE(bench.state("depth") == "signed");
  CHECK(bench.shows("Measure the depth   signed Ivo Tarrant, 2026-01-05 09:00"));
  bench.press(f5);
  CHECK(bench.shows("Sealant skins: waits until 2026-01-05 09:10"));
  bench.now.utc_ms += 11LL * 60'000;
  bench.frame();
  CHECK_FALSE(bench.shows("Sealant skins: waits until"));
}

// What the pages of a handover say about a build, event by event.
#include "build/bores.h"
#include "handover/content.h"
#include "handover/words.h"

#include <catch2/catch.hpp>

#include <algorithm>

namespace {

using handover::Content;

Content content_of(const Bench& bench) {
  return handover::content_of(bench.build, bench.shop, bench.events);
}

const handover::StepDone& step_of(const Content& content, std::string_view title) {
  for (const auto& section : content.sections)
    for (const auto& step : section.steps)
      if (step.title == title) return step;
  throw std::logic_error("no such step");
}

const handover::EntryDone& entry_of(const Content& content, std::string_view step, std::string_view title) {
  for (const auto& entry : step_of(content, step).entries)
    if (entry.title == title) return entry;
  throw std::logic_error("no such entry");
}

bool has(const std::string& text, std::string_view part) {
  return text.find(part) != std::string::npos;
}

std::string fact(const Content& content, std::string_view name) {
  for (const auto& it : content.facts)
    if (it.name == name) return it.value;
  return "";
}

void record_flat(Bench& bench, const std::string& value, const std::string& gauge = "mic") {
  REQUIRE(
      bench.ok(R"({"do":"record","step":"cover","entry":"flat","value":)" + value + R"(,"gauge":")" + gauge + R"("})"));
}

} // namespace

TEST_CASE("an open build is a draft, and says so") {
  Bench bench;
  const auto content = content_of(bench);
  CHECK(content.draft);
  CHECK(handover::banner(content) == "DRAFT");
  CHECK(content.headline == "Not released: work is going on");
  CHECK(fact(content, "Released by").empty());
  CHECK(fact(content, "Serial number") == "1");
  CHECK(content.customer == "Marigold");
  CHECK(content.procedure_notice == "Invented values.");
}

TEST_CASE("a practice build says that it is no record, open or released") {
  Content content;
  content.practice = true;
  CHECK(handover::banner(content) == "DRAFT. PRACTICE, NOT A RECORD");
  content.draft = false;
  CHECK(handover::banner(content) == "PRACTICE, NOT A RECORD");
  content.practice = false;
  CHECK(handover::banner(content).empty());
}

TEST_CASE("readings stand with limits, verdict, gauge and who signed") {
  Bench bench;
  bench.clean();
  bench.mains();
  const auto content = content_of(bench);
  const auto& step = step_of(content, "Measure the mains");
  REQUIRE(step.signatures.size() == 1);
  CHECK(step.signatures.front().name == "Anna Reed");
  const auto& journal = entry_of(content, "Measure the mains", "Journal").groups;
  REQUIRE(journal.size() == 1);
  CHECK(journal.front().limits == "47.964 to 47.980 mm (invented example)");
  CHECK(journal.front().verdict == "within");
  CHECK(journal.front().measured == "with micrometer mic, U 0.003 mm");
  REQUIRE(journal.front().values.size() == 6);
  CHECK(journal.front().values.front().name == "1, front");
  CHECK(journal.front().values.front().text == "47.970");
  const auto& bore = entry_of(content, "Measure the mains", "Bore").groups;
  REQUIRE(bore.size() == 1);
  CHECK(bore.front().limits == "recorded, not judged");
  CHECK(bore.front().verdict.empty());
  REQUIRE(content.gauges.size() == 1);
  CHECK(content.gauges.front().calibration == "calibrated 2025-06-01, due 2026-06-01");
}

TEST_CASE("a calculated value says how it was calculated, and stands between its limits for a look") {
  Bench bench;
  bench.clean();
  bench.mains();
  const auto content = content_of(bench);
  const auto& lines = entry_of(content, "Measure the mains", "Oil clearance").lines;
  CHECK(std::any_of(lines.begin(), lines.end(), [](const auto& line) {
    return has(line, "Calculated: min = smallest outer − largest inner;") &&
           has(line, "here outer = Bore, inner = Journal");
  }));
  const auto& scales = content.sections.front().scales;
  const auto oil =
      std::find_if(scales.begin(), scales.end(), [](const auto& scale) { return scale.title == "Oil clearance"; });
  REQUIRE(oil != scales.end());
  CHECK(oil->marks.size() == 6); // smallest and largest at three journals, by one limit
  CHECK(*oil->low == 0.02);
  CHECK(*oil->high == 0.062);
  CHECK(oil->unit == "mm");
  // The smallest bore at the first less the largest journal there: 48.010 - 47.972; limits from 0.020.
  CHECK(oil->tightest == "0.038 at 1");
  CHECK(oil->trouble.empty());
}

TEST_CASE("numbers that nobody checked are marked at the step, between the limits and counted on the cover") {
  Bench bench(Bench::small_engine_unchecked({"clearance", "first", "lift"}));
  bench.clean();
  bench.mains();
  bench.caps();
  const auto content = content_of(bench);
  const std::string mark = "numbers not checked by a second person";
  for (const auto& group : entry_of(content, "Measure the mains", "Oil clearance").groups)
    CHECK(has(group.limits, "(maker: p. 4; " + mark + ")") == (group.name == "min" || group.name == "max"));
  for (const auto& group : entry_of(content, "Measure the mains", "Journal").groups) CHECK(!has(group.limits, mark));
  const auto& stages = entry_of(content, "Fit the caps", "Cap bolts").stages;
  CHECK(stages[0].title == "Stage 1: torque, 30 N.m (" + mark + ")");
  CHECK(stages[1].title == "Stage 2: torque, 68 N.m");
  for (const auto& scale : content.sections.front().scales)
    CHECK(scale.doubt == (scale.title == "Oil clearance" ? mark : ""));
  CHECK(content.unchecked == 3); // with the face, whose numbers come next to the empty lift
  CHECK(content_of(Bench()).unchecked == 0);
}

TEST_CASE("tightening stands stage by stage, each with its aim") {
  Bench bench;
  bench.clean();
  bench.mains();
  bench.caps();
  const auto content = content_of(bench);
  const auto& stages = entry_of(content, "Fit the caps", "Cap bolts").stages;
  REQUIRE(stages.size() == 2);
  CHECK(stages[0].title == "Stage 1: torque, 30 N.m");
  CHECK(stages[1].fasteners.size() == 6);
  CHECK(stages[1].fasteners.front().name == "2L");
  CHECK(stages[1].fasteners.front().text == "68");
  CHECK(stages[1].unit == "N.m");
}

TEST_CASE("a concession is told with value, limit, reason and who granted it") {
  Bench bench;
  bench.clean();
  record_flat(bench, "0.06");
  const auto before = content_of(bench);
  CHECK(before.concessions.empty());
  REQUIRE(bench.ok(R"({"do":"dispose","step":"cover","entry":"flat","disposition":"concession",)"
                   R"("text":"sealant bridges it.","person":"olga","passphrase":"right"})"));
  const auto content = content_of(bench);
  REQUIRE(content.concessions.size() == 1);
  const auto& line = content.concessions.front();
  CHECK(has(line, "Fit the cover: Face flat, 0.06 mm (at most 0.05 mm)"));
  CHECK(has(line, "sealant bridges it."));
  CHECK(has(line, "Granted by Olga Marsh"));
  CHECK(entry_of(content, "Fit the cover", "Face flat").groups.front().values.front().note == "outside: concession");
}

TEST_CASE("rework is told as a repair and in the history, a slip of the keys in neither") {
  Bench bench;
  bench.clean();
  record_flat(bench, "0.06");
  REQUIRE(bench.ok(R"({"do":"correct","step":"cover","entry":"flat","value":0.07,"gauge":"mic","reason":"typed"})"));
  CHECK(content_of(bench).happenings.empty());
  REQUIRE(bench.ok(R"({"do":"dispose","step":"cover","entry":"flat","disposition":"rework","text":"lapped"})"));
  record_flat(bench, "0.02");
  const auto content = content_of(bench);
  REQUIRE(content.repairs.size() == 1);
  CHECK(has(content.repairs.front(), "Fit the cover: Face flat, rework: lapped"));
  REQUIRE(content.happenings.size() == 1);
  CHECK(content.happenings.front().what == "Was outside. rework: lapped");
  CHECK(entry_of(content, "Fit the cover", "Face flat").groups.front().values.front().text == "0.02");
}

TEST_CASE("a reading nearer to its limit than its uncertainty is listed as close, one further off is not") {
  Bench bench;
  bench.clean();
  record_flat(bench, "0.048"); // U 0.003, limit 0.05
  REQUIRE(content_of(bench).close.size() == 1);
  CHECK(has(content_of(bench).close.front(), "0.048 mm"));
  REQUIRE(bench.ok(R"({"do":"correct","step":"cover","entry":"flat","value":0.046,"gauge":"mic","reason":"misread"})"));
  CHECK(content_of(bench).close.empty());
}

TEST_CASE("cautions are told once each, parts with their state") {
  Bench bench;
  REQUIRE(bench.ok(R"({"do":"part","part":"shell","position":"2","state":"new","size":"0.25","lot":"L7"})"));
  const auto content = content_of(bench);
  REQUIRE(content.notices.size() == 1);
  CHECK(content.notices.front().word == "WARNING");
  REQUIRE(content.parts.size() == 1);
  CHECK(content.parts.front().position == "2");
  CHECK(content.parts.front().details == "size 0.25; lot L7");
}

TEST_CASE(
    "each lot of a sealant is told with the steps it is in, and what was fitted against the rule with its reason") {
  Bench bench(R"({"format":1,"id":"t","title":"T","revision":"1","engine":{"model":"HX4-150"},
  "parts":[{"id":"sealant","title":"Sealant","dated":true},{"id":"seal","title":"Seal","once":true}],
  "sections":[{"id":"a","title":"A","steps":[
    {"id":"sump","title":"Sump on","fits":["sealant"],"entries":[{"id":"on","kind":"confirm","title":"On"}]},
    {"id":"pan","title":"Pan on","fits":["sealant","seal"],"entries":[{"id":"on","kind":"confirm","title":"On"}]}]}]})");
  for (const char* line :
       {R"({"do":"part","part":"sealant","state":"new","lot":"L-1","expires":"2026-08-31"})",
        R"({"do":"confirm","step":"sump","entry":"on"})", R"({"do":"sign","step":"sump"})",
        R"({"do":"part","part":"sealant","state":"new","lot":"L-2","expires":"2026-01-01","text":"Skinned on trial"})",
        R"({"do":"part","part":"seal","state":"reused","text":"Never run"})",
        R"({"do":"confirm","step":"pan","entry":"on"})", R"({"do":"sign","step":"pan"})"})
    REQUIRE(bench.ok(line));
  const auto content = content_of(bench);
  REQUIRE(content.parts.size() == 3);
  CHECK(content.parts[0].details == "lot L-1; last day of use 2026-08-31; in \"Sump on\"");
  CHECK(content.parts[0].state == "an earlier lot");
  CHECK(content.parts[1].details ==
        "lot L-2; last day of use 2026-01-01; in \"Pan on\"; used after that day: Skinned on trial");
  CHECK(content.parts[2].details == "Never run");
  REQUIRE(content.happenings.size() == 2);
  CHECK(content.happenings[0].where == "Sealant");
  CHECK(content.happenings[0].what == "Used after its last day of use, 2026-01-01: Skinned on trial");
  CHECK(content.happenings[1].what == "The same one again: Never run");
  // Taken out again, a lot is no longer in the engine.
  REQUIRE(bench.ok(R"({"do":"reopen","step":"sump","reason":"weeps"})"));
  CHECK(content_of(bench).parts.size() == 2);
}

TEST_CASE("the same build gives the same content, and the newest event its time and head") {
  Bench bench;
  bench.clean();
  const auto content = content_of(bench);
  CHECK(content.head == bench.build.head);
  CHECK(content.head_seq == 4);
  CHECK(content.written_at == "2026-01-05T09:00:00+01:00");
}

TEST_CASE("a number is rounded to its uncertainty, but never over a limit") {
  using quantity::Exact;
  const auto number = [](const char* text) { return *Exact::decimal(text); };
  const build::Bounds upto{std::nullopt, number("0.05")};
  CHECK(handover::shown(number("0.0255833333333"), number("0.00204"), std::nullopt) == "0.0256");
  CHECK(handover::shown(number("47.969"), number("0.003"), std::nullopt) == "47.969");
  CHECK(handover::shown(number("0.0500001"), number("0.004"), upto) == "0.0500001");
  CHECK(handover::shown(number("0.0499999"), number("0.004"), upto) == "0.0500");
  CHECK(handover::shown_u(number("0.00452769256907")) == "0.0045");
  CHECK(handover::readable("out_of_round: below 0.00424264068712 mm") == "out of round: below 0.004242 mm");
}

TEST_CASE("a limit is written with as many places as the longest of its numbers") {
  using quantity::Exact;
  procedure::Limit limit;
  limit.unit = quantity::find_unit("mm");
  limit.values.standard = build::Bounds{*Exact::decimal("78.000"), *Exact::decimal("78.02")};
  limit.values.service = build::Bounds{*Exact::decimal("78.00"), *Exact::decimal("78.125")};
  CHECK(handover::bounds_text(*limit.values.standard, limit) == "78.000 to 78.020 mm");
  CHECK(handover::bounds_text({*Exact::decimal("78"), std::nullopt}, limit) == "at least 78.000 mm");
  CHECK(handover::bounds_text({std::nullopt, *Exact::decimal("78.1")}, limit) == "at most 78.100 mm");
  procedure::Limit count;
  count.unit = quantity::find_unit("1");
  count.values.standard = build::Bounds{Exact(7), Exact(7)};
  CHECK(handover::bounds_text(*count.values.standard, count) == "7");
}

TEST_CASE("a formula is printed in words") {
  using handover::formula_in_words;
  CHECK(formula_in_words("clearance = pi strip_diameter^2 / (4 width)") == "clearance = π strip diameter² / (4 width)");
  CHECK(formula_in_words("abs(strip - computed) <= sqrt(U_strip^2)") ==
        "size of (strip − computed) is at most root of (U of strip²)");
  CHECK(formula_in_words("inside low..high, a pin") == "inside low to high, a pin");
  for (const auto& computation : calc::all_computations()) {
    INFO(computation.name);
    CHECK_FALSE(has(formula_in_words(computation.formula), "_"));
    CHECK_FALSE(has(formula_in_words(computation.formula), "^"));
  }
}

TEST_CASE("readings of one scale are written with the places most of them have") {
  Bench bench;
  bench.clean();
  bench.ok(
      R"({"do":"record","step":"mains","entry":"bore","gauge":"mic","values":[[48.010,48.012],[48.01,48.012],[48.0125,48.013]]})");
  const auto content = handover::content_of(bench.build, bench.shop, bench.events);
  std::vector<std::string> numbers;
  for (const auto& section : content.sections)
    for (const auto& step : section.steps)
      for (const auto& entry : step.entries)
        for (const auto& group : entry.groups)
          for (const auto& value : group.values) numbers.push_back(value.text);
  CHECK(numbers == std::vector<std::string>{"48.010", "48.012", "48.010", "48.012", "48.0125", "48.013"});
}

TEST_CASE("the pages say what a gauge was set at, what it showed put back, and how warm a part was") {
  Bores bench;
  bench.ok(Bores::shown("1", "[[0.010,0.018],[0.012,0.016]]"));
  const auto measured = [&](std::string_view step, std::string_view entry) {
    return entry_of(content_of(bench), step, entry).groups.front().measured;
  };
  CHECK(has(measured("Measure the bores", "Bore"), "; set at 82.000 on ring-82, not yet put back"));
  bench.ok(Bores::zero("0.001"));
  CHECK(has(measured("Measure the bores", "Bore"), "; set at 82.000 on ring-82, back at zero: +0.001"));
  bench.ok(
      R"({"do":"record","step":"pistons","entry":"skirt","position":"1","gauge":"mic","values":[81.94],"part_at":31,"gauge_at":22})");
  CHECK(has(measured("Measure the pistons", "Skirt"), "; at 31 degC, taken to 20 degC (gauge at 22 degC)"));
  const auto content = content_of(bench);
  CHECK(std::any_of(content.gauges.begin(), content.gauges.end(), [](const auto& it) { return it.id == "ring-82"; }));
}

TEST_CASE("a gauge that had drifted on its setting is told with what was measured again") {
  Bores bench;
  bench.ok(Bores::shown("1", "[[0.010,0.018],[0.012,0.016]]"));
  bench.ok(Bores::zero("0.003"));
  const auto content = content_of(bench);
  CHECK(std::any_of(content.happenings.begin(), content.happenings.end(), [](const auto& it) {
    return has(it.what, "Measured again: bore-1 showed 0.003 mm back on its setting");
  }));
}

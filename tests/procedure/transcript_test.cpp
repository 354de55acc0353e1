// Numbers copied from a manual twice. The manual is invented; one published bearing is named where it stands.
#include "procedure/reading.h"

#include "procedure/transcript.h"

#include <catch2/catch.hpp>

using namespace procedure;
using reading::step;
using reading::text;

namespace {

const Hand ruth{"Ruth Ansell", "2026-11-26"};
const Hand tom{"Tom Bell", "2026-11-27"};
const Origin manual{Basis::maker, "Workshop manual, page 3-12"};

// Written by hand, each limit in another way.
const std::string file = R"({
  "format": 1, "id": "a", "title": "A", "revision": "1", "engine": {"model": "HX4-150"},
  "options": [{"id": "under", "title": "Under size", "choices": ["standard", "0.25"], "given": "standard"}],
  "limits": {
    "gap": {"title": "Oil clearance", "unit": "mm", "basis": "not yet"},
    "journal": {
      "unit":   "mm",
      "basis": "not yet",
      "when": [{"option": "under", "is": "0.25"}]
    },
    "torque" : { "title": "Caf\u00e9 \"bolts\"", "unit": "N.m",
        "basis": "not yet" }
  },
  "sections":[ {"id": "s", "title": "S – one", "steps": [{"id": "a", "title": "A", "entries": [
    {"id": "r", "kind": "reading", "title": "Gap", "limit": "gap"},
    {"id": "j", "kind": "reading", "title": "Journal", "limit": "journal"},
    {"id": "t", "kind": "tightening", "title": "Bolts", "fasteners": ["1"], "stages": [{"id": "1", "torque": "torque"}]}]}]} ]
}
)";

TypedNumbers standard(const std::string& low, const std::string& high) {
  TypedNumbers typed;
  typed.standard_low = low;
  typed.standard_high = high;
  return typed;
}

std::string entered(const std::string& in, const NumberSet& set, const TypedNumbers& typed,
                    const Origin& origin = manual, const Hand& hand = ruth) {
  const auto out = with_entered(in, set, typed, origin, hand);
  INFO((out ? "" : out.error().message));
  REQUIRE(out);
  return *out;
}
std::string checked(const std::string& in, const NumberSet& set, const TypedNumbers& typed, const Hand& hand = tom) {
  const auto out = with_checked(in, set, typed, hand);
  INFO((out ? "" : out.error().message));
  REQUIRE(out);
  return *out;
}
Transcribed state(const std::string& in, const NumberSet& set) {
  const auto read = read_procedure(in);
  REQUIRE(read.procedure);
  return transcribed(*read.procedure->limit(set.limit), *values_of(*read.procedure, set));
}
std::vector<std::string> differing(const std::string& in, const NumberSet& set) {
  const auto read = read_procedure(in);
  REQUIRE(read.procedure);
  return differences(*read.procedure->limit(set.limit), *values_of(*read.procedure, set));
}
std::string refused(const Result<std::string>& out) {
  REQUIRE_FALSE(out);
  return out.error().code + ": " + out.error().message;
}

} // namespace

TEST_CASE("numbers entered stand in the file as typed, and nothing else of it has moved") {
  const std::string out = entered(file, {"gap"}, standard("0.020", "0.0620 mm"));
  CHECK(state(file, {"gap"}) == Transcribed::empty);
  CHECK(state(out, {"gap"}) == Transcribed::entered);
  const std::string begin = file.substr(0, file.find("{\"title\": \"Oil clearance\""));
  const std::string end = file.substr(file.find(",\n    \"journal\""));
  REQUIRE(out.substr(0, begin.size()) == begin);
  REQUIRE(out.substr(out.size() - end.size()) == end);
  CHECK(out.substr(begin.size(), out.size() - begin.size() - end.size()) == R"({
      "title": "Oil clearance",
      "unit": "mm",
      "standard": {"low": 0.020, "high": 0.0620},
      "basis": "maker",
      "source": "Workshop manual, page 3-12",
      "entered": {"by": "Ruth Ansell", "on": "2026-11-26"}
    })");
}

TEST_CASE("a text with escapes and signs beyond ASCII is found again at its place") {
  TypedNumbers typed;
  typed.target = "68";
  const std::string out = entered(file, {"torque"}, typed);
  CHECK(read_procedure(out).procedure->limit("torque")->title == "Café \"bolts\"");
  CHECK(out.substr(out.find("\"sections\"")) == file.substr(file.find("\"sections\"")));
  CHECK(out.substr(0, out.find("\"torque\"")) == file.substr(0, file.find("\"torque\"")));
}

TEST_CASE("a second reading that agrees makes the numbers checked, and both stay in the file") {
  const std::string once = entered(file, {"gap"}, standard("0.020", "0.062"));
  const std::string twice = checked(once, {"gap"}, standard("0.02", "0.062"));
  CHECK(state(twice, {"gap"}) == Transcribed::checked);
  CHECK_THAT(twice, Catch::Contains(R"("checked": {"by": "Tom Bell", "on": "2026-11-27", "unit": "mm", )"
                                    R"("standard": {"low": 0.02, "high": 0.062}})"));
  CHECK(reading::codes(twice) == reading::codes(once));
}

TEST_CASE("a second reading that differs is kept, named number by number, and counts as not checked") {
  const std::string once = entered(file, {"gap"}, standard("0.020", "0.062"));
  const std::string twice = checked(once, {"gap"}, standard("0.020", "0.026"));
  CHECK(state(twice, {"gap"}) == Transcribed::differs);
  CHECK(differing(twice, {"gap"}) == std::vector<std::string>{"standard high: 0.062 entered, 0.026 checked"});
  const auto lines = reading::all_lines(read_procedure(twice));
  CHECK_THAT(lines, Catch::Contains("W33 limit \"gap\": what \"Tom Bell\" checked is not what was entered: standard "
                                    "high: 0.062 entered, 0.026 checked"));
  SECTION("the first is put right") {
    CHECK(state(entered(twice, {"gap"}, standard("0.020", "0.026")), {"gap"}) == Transcribed::checked);
  }
  SECTION("the second is put right") {
    CHECK(state(checked(twice, {"gap"}, standard("0.020", "0.062")), {"gap"}) == Transcribed::checked);
  }
}

TEST_CASE("a number edited in the file after it was checked is told") {
  std::string twice = checked(entered(file, {"gap"}, standard("0.020", "0.062")), {"gap"}, standard("0.020", "0.062"));
  const std::size_t at = twice.find("0.062");
  twice.replace(at, 5, "0.082");
  CHECK(state(twice, {"gap"}) == Transcribed::differs);
  CHECK(differing(twice, {"gap"}) == std::vector<std::string>{"standard high: 0.082 entered, 0.062 checked"});
}

TEST_CASE("the same digits in another unit differ") {
  TypedNumbers typed;
  typed.target = "68";
  const std::string once = entered(file, {"torque"}, typed);
  typed.unit = "lbf.ft";
  CHECK(differing(checked(once, {"torque"}, typed), {"torque"}) ==
        std::vector<std::string>{"unit: N.m entered, lbf.ft checked"});
}

TEST_CASE("a limit takes the unit of the manual, as long as none of its other numbers stands in another") {
  const std::string out = entered(file, {"journal", 0}, standard("1.8883 in", "1.8890 in"));
  CHECK(read_procedure(out).procedure->limit("journal")->unit->name == "in");
  CHECK_THAT(out, Catch::Contains(R"("standard": {"low": 1.8883, "high": 1.8890})"));
  CHECK_THAT(refused(with_entered(out, {"journal", 1}, standard("47.714 mm", "47.730 mm"), manual, ruth)),
             Catch::StartsWith("bad-unit") && Catch::Contains("are in in; give these in in too"));
  CHECK_THAT(refused(with_entered(file, {"journal", 0}, standard("1.8883 in", "47.98 thou"), manual, ruth)),
             Catch::StartsWith("bad-unit"));
  CHECK_THAT(refused(with_entered(file, {"journal", 0}, standard("1.8 N.m", ""), manual, ruth)),
             Catch::StartsWith("bad-unit"));
}

TEST_CASE("each line of \"when\" is entered and checked by itself") {
  const std::string own = entered(file, {"journal", 0}, standard("47.964", "47.980"));
  const std::string both = entered(own, {"journal", 1}, standard("47.714", "47.730"), {}, tom);
  CHECK(state(checked(both, {"journal", 1}, standard("47.714", "47.730"), ruth), {"journal", 1}) ==
        Transcribed::checked);
  CHECK(state(both, {"journal", 0}) == Transcribed::entered);
  const auto read = read_procedure(both);
  REQUIRE(read.procedure);
  CHECK(values_of(*read.procedure, {"journal", 1})->entered->by == "Tom Bell");
  CHECK(title_of(*read.procedure, {"journal", 1}) == "journal, under 0.25");
  CHECK(number_sets(*read.procedure) ==
        std::vector<NumberSet>{{"gap", 0}, {"journal", 0}, {"journal", 1}, {"torque", 0}});
}

TEST_CASE("that the maker gives none is an answer, and numbers found by the second reader contradict it") {
  const std::string none = entered(file, {"gap"}, {}, {});
  CHECK(state(none, {"gap"}) == Transcribed::none);
  CHECK(read_procedure(none).procedure->limit("gap")->basis == Basis::none);
  CHECK(state(checked(none, {"gap"}, {}), {"gap"}) == Transcribed::none);
  CHECK(state(checked(none, {"gap"}, standard("", "0.1")), {"gap"}) == Transcribed::differs);
  CHECK(state(entered(none, {"gap"}, standard("", "0.1")), {"gap"}) == Transcribed::entered);
  CHECK(state(entered(file, {"journal"}, {}, {}), {"journal"}) == Transcribed::none);
}

TEST_CASE("what cannot be entered is refused with the reason, and the file stays as it was") {
  CHECK_THAT(refused(with_entered(file, {"gap"}, standard("0,020", ""), manual, ruth)), Catch::StartsWith("bad-value"));
  CHECK_THAT(refused(with_entered(file, {"gap"}, standard("0.062", "0.020"), manual, ruth)),
             Catch::Contains("low 0.062 is above high 0.02"));
  CHECK_THAT(refused(with_entered(file, {"gap"}, standard("0.02", ""), {}, ruth)),
             Catch::Contains("Say where the numbers come from"));
  CHECK_THAT(refused(with_entered(file, {"gap"}, standard("0.02", ""), {Basis::maker, ""}, ruth)),
             Catch::Contains("needs a \"source\""));
  CHECK_THAT(refused(with_entered(file, {"none"}, standard("0.02", ""), manual, ruth)),
             Catch::StartsWith("unknown-limit"));
  CHECK_THAT(refused(with_entered(file, {"gap", 1}, standard("0.02", ""), manual, ruth)),
             Catch::StartsWith("unknown-limit"));
  CHECK_THAT(refused(with_checked(file, {"gap"}, standard("0.02", ""), tom)), Catch::StartsWith("not-entered"));
  CHECK_THAT(refused(with_entered("{}", {"gap"}, standard("0.02", ""), manual, ruth)),
             Catch::StartsWith("bad-procedure: Line 1"));
}

// The journal of TM 9-2815-254-24 p. 3-138: 69.920 to 69.932 mm, oil clearance 0.018 to 0.065 mm; its bore follows.
TEST_CASE("a slip is told for the numbers typed alone, for the second reader as for the first") {
  const std::string bearing = text(
      R"("limits": {"bore": {"unit": "mm", "basis": "shop", "standard": {"low": 69.950, "high": 69.985}},
                    "journal": {"unit": "mm", "basis": "shop", "standard": {"low": 69.920, "high": 69.932}},
                    "gap": {"unit": "mm", "basis": "not yet"}},)",
      step("a", R"({"id": "bore", "kind": "reading", "title": "B", "limit": "bore"},
                   {"id": "journal", "kind": "reading", "title": "J", "limit": "journal"},
                   {"id": "oil", "kind": "calculated", "title": "O", "computation": "oil-clearance",
                    "inputs": {"bore": {"entry": "bore"}, "journal": {"entry": "journal"}},
                    "judge": {"min": "gap", "max": "gap"}})"));
  const auto codes = [&](const std::string& in, const TypedNumbers& typed) {
    std::string all;
    const auto slips = slips_of(in, {"gap"}, typed);
    REQUIRE(slips);
    for (const Remark& remark : *slips) all += remark.code.empty() ? "error " : remark.code + " ";
    return all;
  };
  CHECK(codes(bearing, standard("0.018", "0.065")).empty());
  CHECK_THAT(codes(bearing, standard("0.18", "0.65")), Catch::Contains("W20"));
  CHECK_THAT(codes(bearing, standard("0.065", "0.018")), Catch::Contains("error"));
  const std::string slipped = entered(bearing, {"gap"}, standard("0.18", "0.65"));
  CHECK(codes(slipped, standard("0.018", "0.065")).empty());
  CHECK_THAT(codes(slipped, standard("0.18", "0.65")), Catch::Contains("W20"));
}

TEST_CASE("numbers of an example, and what holds no number, are not called unchecked") {
  const auto doubt = [](const std::string& limit) {
    const std::string in = text("\"limits\": {\"gap\": " + limit + "},",
                                step("a", R"({"id": "r", "kind": "reading", "title": "G", "limit": "gap"})"));
    const auto read = read_procedure(in);
    INFO(reading::all_lines(read));
    REQUIRE(read.procedure);
    const Limit& its = *read.procedure->limit("gap");
    return std::string(doubt_of(its, its.values));
  };
  const std::string checked_too =
      R"("checked": {"by": "T", "on": "2026-11-27", "unit": "mm", "standard": {"high": 1}})";
  CHECK(doubt(R"({"unit": "mm", "basis": "invented example", "standard": {"high": 1}})").empty());
  CHECK(doubt(R"({"unit": "mm", "basis": "not yet"})").empty());
  CHECK(doubt(R"({"unit": "mm", "basis": "none"})").empty());
  CHECK(doubt(R"({"unit": "mm", "basis": "shop", "standard": {"high": 1}})") ==
        "numbers not checked by a second person");
  CHECK(doubt(R"({"unit": "mm", "basis": "shop", "standard": {"high": 1}, )" + checked_too + "}").empty());
  CHECK(doubt(R"({"unit": "mm", "basis": "shop", "standard": {"high": 2}, )" + checked_too + "}") ==
        "numbers entered and checked differ");
}

TEST_CASE("every limit of the shipped procedures can be entered and checked, and the file stays one") {
  for (const char* name : {"short-block", "hx4-150"}) {
    std::string whole = reading::file(fmt::format("procedures/{}.json", name));
    const auto before = read_procedure(whole).procedure;
    REQUIRE(before);
    std::size_t done = 0;
    for (const NumberSet& set : number_sets(*before)) {
      const LimitValues& its = *values_of(*before, set);
      if (its.empty() || ++done > 25) continue;
      TypedNumbers typed;
      if (its.standard && its.standard->low) typed.standard_low = its.standard->low->text();
      if (its.standard && its.standard->high) typed.standard_high = its.standard->high->text();
      if (its.service && its.service->low) typed.service_low = its.service->low->text();
      if (its.service && its.service->high) typed.service_high = its.service->high->text();
      if (its.target) typed.target = its.target->text();
      CAPTURE(name, set.limit, set.line);
      whole = checked(entered(whole, set, typed, {}), set, typed);
      CHECK(state(whole, set) == Transcribed::checked);
    }
    CHECK(done > 10);
  }
}

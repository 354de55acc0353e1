#include "procedure/reading.h"

#include "procedure/members.h"
#include "procedure/names.h"
#include "json/fields.h"

#include <catch2/catch.hpp>

#include <set>

using namespace procedure;
using reading::step;
using reading::text;

namespace {

const Entry& entry_of(const Procedure& procedure, std::string_view step_id, std::string_view entry) {
  return *procedure.step(step_id)->find(entry);
}

// The ```json blocks of a page.
std::vector<std::string> examples(const std::string& page) {
  const std::string opening = "```json\n";
  std::vector<std::string> all;
  for (std::size_t at = page.find(opening); at != std::string::npos; at = page.find(opening, at)) {
    at += opening.size();
    all.push_back(page.substr(at, page.find("```\n", at) - at));
  }
  return all;
}

const std::string reading_entry = R"({"id": "r", "kind": "reading", "title": "Size", "unit": "mm"})";

} // namespace

TEST_CASE("the short block reads without a remark and holds every kind of entry") {
  const Reading read = read_procedure(reading::file("procedures/short-block.json"));
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  CHECK(read.remarks.empty());
  std::set<EntryKind> kinds;
  for (const Step* one : read.procedure->steps())
    for (const Entry& entry : one->entries) kinds.insert(entry.kind);
  CHECK(kinds.size() == 9);
}

TEST_CASE("what should be a list and is none is told once") {
  const Reading read =
      read_procedure(R"({"format":1,"id":"a","title":"A","revision":"1","engine":{"model":"HX4-150"},"sections":{}})");
  REQUIRE(read.remarks.size() == 1);
  CHECK(read.remarks.front().fault.message == R"(procedure: "sections" must be a list, not an object)");
}

TEST_CASE("the short block says that its values are invented, of every limit and as a whole") {
  const auto procedure = read_procedure(reading::file("procedures/short-block.json")).procedure;
  REQUIRE(procedure);
  CHECK(procedure->notice.find("invented values: not for any real engine") != std::string::npos);
  for (const Limit& limit : procedure->limits) {
    CAPTURE(limit.id);
    CHECK(limit.basis == Basis::invented_example);
  }
}

TEST_CASE("the worked example of the page on procedures reads") {
  const Reading read = read_procedure(examples(reading::file("procedures/README.md")).front());
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  CHECK(read.remarks.empty());
  CHECK(entry_of(*read.procedure, "measure", "oil").computation == calc::find_computation("oil-clearance"));
}

TEST_CASE("the head that the page on procedures tightens reads") {
  const auto shown = examples(reading::file("procedures/README.md"));
  REQUIRE(shown.size() == 4);
  const Reading read = read_procedure(text(shown[1] + ",", step("head", shown[2]) + "," + step("warm", shown[3])));
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  CHECK(read.remarks.empty());
  CHECK(entry_of(*read.procedure, "warm", "again").fasteners.size() == 6);
}

TEST_CASE("the page on procedures names every unit, member and kind") {
  const std::string page = reading::file("procedures/README.md");
  for (const auto& unit : quantity::all_units()) CHECK(page.find(std::string(unit.name)) != std::string::npos);
  const auto names = [&](std::string_view word) {
    return page.find(fmt::format("`{}`", word)) != std::string::npos ||
           page.find(fmt::format("\"{}\"", word)) != std::string::npos;
  };
  for (const ObjectMembers& object : known_members())
    for (const std::string_view member : object.members) {
      CAPTURE(object.object, member);
      CHECK(names(member));
    }
  for (const auto& kind : written_entry_kinds) CHECK(names(kind.text));
  for (const auto& kind : written_stage_kinds) CHECK(names(kind.text));
}

TEST_CASE("limits, options and positions are taken over where an entry or a step leaves them out") {
  const Reading read = read_procedure(
      text(R"("options": [{"id": "size", "title": "Size", "choices": ["standard", "0.25"]}],
              "parts": [{"id": "shell", "title": "Shell", "positions": ["1", "2", "3"]}],
              "limits": {"gap": {"unit": "mm", "standard": {"high": 0.06}, "basis": "shop",
                                 "when": [{"option": "size", "is": "0.25", "standard": {"high": 0.05}}]}},)",
           step("a", R"({"id": "r", "kind": "reading", "title": "Gap", "limit": "gap"})", R"("part": "shell",)") + "," +
               step("b", R"({"id": "p", "kind": "choice", "title": "Size", "option": "size"})")));
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  const Procedure& procedure = *read.procedure;
  CHECK(entry_of(procedure, "a", "r").unit == quantity::find_unit("mm"));
  CHECK(procedure.step("a")->positions == std::vector<std::string>{"1", "2", "3"});
  CHECK(entry_of(procedure, "b", "p").choices == std::vector<std::string>{"standard", "0.25"});
}

TEST_CASE("a step may take some of its part's positions only") {
  const Reading read =
      read_procedure(text(R"("parts": [{"id": "rod", "title": "Rod", "positions": ["1", "2", "3", "4"]}],)",
                          step("outer", reading_entry, R"("part": "rod", "positions": ["1", "4"],)")));
  REQUIRE(read.procedure);
  CHECK(read.procedure->step("outer")->positions == std::vector<std::string>{"1", "4"});
}

TEST_CASE("what taking apart does goes by the kind of entry unless it is said") {
  const Reading read = read_procedure(text(R"("limits": {"tight": {"unit": "N.m", "target": 60, "basis": "shop"}},)",
                                           step("a", R"({"id": "fixed", "kind": "reading", "title": "x", "unit": "mm"},
        {"id": "loose", "kind": "readings", "title": "x", "unit": "mm", "rows": ["1"], "loose": true},
        {"id": "said", "kind": "reading", "title": "x", "unit": "mm", "taken-apart": "lost"},
        {"id": "done", "kind": "confirm", "title": "x"},
        {"id": "picked", "kind": "choice", "title": "x", "choices": ["a", "b"]},
        {"id": "bolts", "kind": "tightening", "title": "x", "fasteners": ["1"], "stages": [{"id": "1", "torque": "tight"}]},
        {"id": "number", "kind": "identity", "title": "x"},
        {"id": "set", "kind": "wait", "title": "x", "least": {"value": 1, "unit": "h"}},
        {"id": "photo", "kind": "photograph", "title": "x"},
        {"id": "mean", "kind": "calculated", "title": "x", "computation": "mean-of", "inputs": {"values": {"entry": "loose"}}})")));
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  const std::vector<std::pair<std::string, TakenApart>> expected = {
      {"fixed", TakenApart::asks}, {"loose", TakenApart::keeps},  {"said", TakenApart::lost},
      {"done", TakenApart::lost},  {"picked", TakenApart::keeps}, {"bolts", TakenApart::lost},
      {"set", TakenApart::lost},   {"number", TakenApart::keeps}, {"photo", TakenApart::keeps},
      {"mean", TakenApart::asks}};
  for (const auto& [id, taken_apart] : expected) {
    CAPTURE(id);
    CHECK(entry_of(*read.procedure, "a", id).taken_apart == taken_apart);
  }
}

TEST_CASE("numbers are the decimals they are written as, times come in seconds") {
  const Reading read = read_procedure(text(
      R"("limits": {"gap": {"unit": "mm", "standard": {"low": 0.020, "high": 0.062}, "basis": "shop", "rule": "guarded"}},)",
      step("a", R"({"id": "r", "kind": "reading", "title": "x", "limit": "gap"},
             {"id": "w", "kind": "wait", "title": "x", "least": {"value": 0.5, "unit": "h"}, "most": {"value": 45, "unit": "min"}})")));
  REQUIRE(read.procedure);
  const Limit& limit = *read.procedure->limit("gap");
  CHECK(limit.values.standard->low == Exact::ratio(2, 100));
  CHECK(limit.values.standard->high == Exact::ratio(62, 1000));
  CHECK(limit.rule == calc::Rule::guarded);
  CHECK(entry_of(*read.procedure, "a", "w").least == Exact(1800));
  CHECK(entry_of(*read.procedure, "a", "w").most == Exact(2700));
}

TEST_CASE("a limit without numbers is allowed, and takes the rule of the procedure") {
  const Reading read = read_procedure(
      text(R"("rule": "guarded", "limits": {"gap": {"unit": "mm", "basis": "maker", "source": "p. 4"}},)",
           step("a", R"({"id": "r", "kind": "reading", "title": "x", "limit": "gap"})")));
  INFO(reading::all_lines(read));
  REQUIRE(read.procedure);
  CHECK(read.remarks.empty());
  CHECK(read.procedure->limit("gap")->values.empty());
  CHECK(read.procedure->limit("gap")->rule == calc::Rule::guarded);
}

TEST_CASE("an input without a step is of the own step, one with a slash of another") {
  const auto procedure = read_procedure(reading::file("procedures/short-block.json")).procedure;
  REQUIRE(procedure);
  const auto& inputs = entry_of(*procedure, "strip-check", "agreement").inputs;
  const auto& strip = std::get<FromEntry>(inputs.at(0).second);
  const auto& computed = std::get<FromEntry>(inputs.at(1).second);
  CHECK((strip.step == "strip-check" && strip.entry == "strip" && strip.result == "mean"));
  CHECK((computed.step == "mains" && computed.entry == "oil" && computed.result == "mean"));
}

TEST_CASE("cells are counted position by position, row by row") {
  const auto procedure = read_procedure(reading::file("procedures/short-block.json")).procedure;
  REQUIRE(procedure);
  const Step& mains = *procedure->step("mains");
  const Entry& bore = *mains.find("main-bore");
  CHECK(cells_of(mains, bore).count() == 20);
  CHECK(name_of_cell(mains, bore, 0) == "1, front, in line");
  CHECK(name_of_cell(mains, bore, 11) == "3, rear, across");
  CHECK(name_of_cell(mains, bore, 19) == "5, rear, across");
  const Step& free = *procedure->step("crank-free");
  CHECK(cells_of(free, *free.find("turning")).count() == 1);
  CHECK(name_of_cell(free, *free.find("turning"), 0) == "");
}

TEST_CASE("steps, sections, limits and parts are found by name, others are not there") {
  const auto procedure = read_procedure(reading::file("procedures/short-block.json")).procedure;
  REQUIRE(procedure);
  CHECK(procedure->section_of("rear-seal")->id == "closing");
  CHECK(procedure->option("gasket-grade")->given.empty());
  CHECK(procedure->part("main-cap")->positions.size() == 5);
  CHECK(procedure->step("rear seal") == nullptr);
  CHECK(procedure->section_of("closing") == nullptr);
  CHECK(procedure->limit("") == nullptr);
}

TEST_CASE("a fault is told with file, line, column and pointer") {
  const std::string bad = "{\n  \"format\": 1,\n  \"id\": \"Big\"\n}";
  const auto lines = reading::lines(read_procedure(bad));
  REQUIRE(lines.size() == 5);
  CHECK(lines.back() == "f:3:9: error: procedure: \"id\" must be 1 to 60 small letters a-z, digits and hyphens, not "
                        "\"Big\" (/id)");
}

TEST_CASE("hidden characters are told of but never passed on") {
  const auto lines = reading::lines(read_procedure("{\"\\u001b[31m\": 1,\n \"id\": \"\\u202ex\"}"));
  REQUIRE(lines.size() == 2);
  CHECK(lines[0].starts_with("f:1:2: error: the text holds a control character"));
  CHECK(lines[1].starts_with("f:2:8: error: the text holds a control character"));
  for (const std::string& line : lines) CHECK_FALSE(json::has_hidden_characters(line));
}

TEST_CASE("a key given twice with hidden characters in it does not reach the terminal") {
  const auto lines = reading::lines(read_procedure("{\"\\u001b[31m\": 1, \"\\u001b[31m\": 2}"));
  REQUIRE(lines.size() == 1);
  CHECK_FALSE(json::has_hidden_characters(lines.front()));
}

TEST_CASE("text that is no procedure at all is refused, never thrown at") {
  for (const char* bad : {"", "null", "7", "\"x\"", "[]", "{}", "{\"sections\": 3, \"limits\": []}",
                          "{\"sections\": [3, null, {\"steps\": [{\"entries\": [[], {\"kind\": 1}]}]}]}",
                          "{\"limits\": {\"a\": 1, \"b\": {\"when\": [1, {}]}}, \"options\": [{}], \"parts\": [0]}"}) {
    CAPTURE(bad);
    const Reading read = read_procedure(bad);
    CHECK(read.procedure == nullptr);
    CHECK_FALSE(read.remarks.empty());
  }
}

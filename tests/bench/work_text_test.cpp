#include "bench/work_out.h"

#include "calculating.h"

#include <fmt/format.h>

#include <random>

using bench::Lines;
using calc::Dimension;
using calc::Field;
using calc::Shape;

namespace {

Field field(Shape shape, std::optional<Dimension> dimension = Dimension::length) {
  Field out;
  out.name = "field";
  out.shape = shape;
  out.dimension = dimension;
  out.sign = calc::Sign::any;
  return out;
}

std::string typed(const Field& field, const Lines& lines) {
  const auto value = bench::value_typed(field, lines);
  return value ? json::compact(*value) : "refused: " + value.error().message;
}

// What the field holds in the end, read as the command line reads it.
std::string held(const Field& field, const Lines& lines) {
  const auto value = bench::value_typed(field, lines);
  if (!value) return "refused: " + value.error().message;
  const auto given = calc::read_inputs({field}, json::Value::object({{field.name, *value}}));
  if (!given) return "refused: " + given.error().message;
  const calc::Readings& readings = given->readings(field.name);
  std::string out;
  for (const auto& row : readings.rows) {
    if (!out.empty()) out += " / ";
    for (const auto& cell : row) out += fmt::format("{} ", cell ? cell->text() : "-");
  }
  out += readings.unit->name;
  if (readings.u) out += fmt::format(" u {}", readings.u->text());
  if (readings.u_shared) out += fmt::format(" shared {}", readings.u_shared->text());
  return out;
}

bench::Worked worked(std::string_view name, const bench::TypedFields& fields) {
  return bench::work_out(*calc::find_computation(name), fields);
}

Field scale() {
  Field out = field(Shape::records, std::nullopt);
  Field width = field(Shape::one);
  Field clearance = field(Shape::one);
  width.name = "width";
  clearance.name = "clearance";
  out.members = {width, clearance};
  return out;
}

} // namespace

TEST_CASE("a quantity goes on as it was typed") {
  CHECK(typed(field(Shape::one), {"61.962 mm"}) == R"("61.962 mm")");
  CHECK(typed(field(Shape::one), {"  2.4395 in "}) == R"("2.4395 in")");
  CHECK(typed(field(Shape::one), {"61.962 mm u 0.004"}) == R"({"value":"61.962 mm","u":"0.004"})");
  CHECK(held(field(Shape::one), {"61.962 mm \u00B1 4 um"}) == "61.962 mm u 0.004");
  CHECK(held(field(Shape::one), {"61.962mm +-0.004"}) == "61.962 mm u 0.004");
  CHECK(held(field(Shape::one), {"61.962 mm +/- 0.004 shared 0.002"}) == "61.962 mm u 0.004 shared 0.002");
}

TEST_CASE("what is odd about a quantity is refused with its reason, never mended") {
  CHECK_THAT(held(field(Shape::one), {"61,962 mm"}), Catch::Contains("comma"));
  CHECK_THAT(held(field(Shape::one), {"61.962"}), Catch::Contains("has no unit"));
  CHECK_THAT(held(field(Shape::one), {"1 1/2 in"}), Catch::StartsWith("refused"));
  CHECK_THAT(held(field(Shape::one), {"61.962 ells"}), Catch::Contains("\"ells\""));
  CHECK_THAT(held(field(Shape::one), {"61.962 N.m"}), Catch::Contains("length"));
  CHECK_THAT(held(field(Shape::one), {"sixty mm"}), Catch::StartsWith("refused"));
  CHECK_THAT(held(field(Shape::one), {"61.962 mm u"}), Catch::Contains("a number is wanted behind u"));
  CHECK_THAT(held(field(Shape::one), {"61.962 mm u -0.004"}), Catch::Contains("must not be negative"));
  CHECK_THAT(held(field(Shape::one), {"61.9 61.8 mm"}), Catch::StartsWith("refused"));
}

TEST_CASE("between several units nobody guesses") {
  CHECK_THAT(held(field(Shape::list), {"1 in 25.4"}), Catch::Equals("1 25.4 in"));
  CHECK_THAT(held(field(Shape::list), {"1 in 25.4 3 mm"}), Catch::Contains("25.4 needs its own"));
  CHECK_THAT(held(field(Shape::grid), {"1 2 in", "3 4 mm"}), Catch::Contains("1 needs its own"));
  CHECK(held(field(Shape::list), {"25.4 mm 25400 um 1 \u00B5m"}) == "25.4 25.4 0.001 mm");
}

TEST_CASE("one unit holds for all the numbers") {
  CHECK(held(field(Shape::list), {"0.1 0.2 0.15 mm"}) == "0.1 0.2 0.15 mm");
  CHECK(held(field(Shape::list), {"2.31 mm"}) == "2.31 mm");
  CHECK(held(field(Shape::list), {"1 in 25.4 mm"}) == "1 1 in");
  CHECK(held(field(Shape::list, Dimension::torque), {"20 40 ft lb u 2"}) == "20 40 lbf.ft u 2");
  CHECK(held(field(Shape::list, Dimension::expansion), {"11e-6 12e-6 1/K"}) == "0.000011 0.000012 1/K");
}

TEST_CASE("a list without a unit, with a comma or a stray word is refused") {
  CHECK_THAT(held(field(Shape::list), {"0.1 0.2"}), Catch::Contains("has no unit"));
  CHECK_THAT(held(field(Shape::list), {"0.1, 0.2 mm"}), Catch::Contains("0.1,: between numbers stands a blank"));
  CHECK_THAT(held(field(Shape::list), {"0,1 0.2 mm"}), Catch::Contains("comma"));
  CHECK_THAT(held(field(Shape::list), {"0.1 about 0.2 mm"}), Catch::Contains("about"));
  CHECK_THAT(held(field(Shape::list), {"0.1 - 0.2 mm"}), Catch::Contains("none can be"));
  CHECK_THAT(held(field(Shape::list), {"0.1 mm mm"}), Catch::StartsWith("refused"));
  CHECK_THAT(held(field(Shape::list), {"1 in 25.4 mm u 0.1"}), Catch::Contains("several units"));
  CHECK(held(field(Shape::list), {"1 in 25.4 mm u 0.254 mm"}) == "1 1 in u 0.01");
}

TEST_CASE("rows are lines, a dash leaves a point out, unit and u stand once") {
  const Field grid = field(Shape::grid);
  CHECK(held(grid, {"69.931 69.905 mm u 0.003", "69.927 -"}) == "69.931 69.905  / 69.927 - mm u 0.003");
  CHECK(held(grid, {"69.931 69.905", "", "69.927 69.921 mm u 0.003", ""}) ==
        "69.931 69.905  / 69.927 69.921 mm u 0.003");
  CHECK(held(grid, {"1 2; 3 4 mm"}) == "1 2  / 3 4 mm");
  CHECK(held(grid, {"1 2 mm"}) == "1 2 mm");
  CHECK_THAT(held(grid, {"1 2 mm", "3"}), Catch::Contains("different length"));
  CHECK_THAT(held(grid, {"1 2 mm u 0.1", "3 4 u 0.2"}), Catch::Contains("one uncertainty"));
  CHECK(held(field(Shape::pairs), {"0 0.142 mm", "0.002 0.146"}) == "0 0.142  / 0.002 0.146 mm");
  CHECK_THAT(held(field(Shape::pairs), {"0 - mm"}), Catch::Contains("none can be"));
  CHECK(held(field(Shape::readings), {"1 2 mm", "3 -"}) == "1 2  / 3 - mm");
  CHECK(held(field(Shape::readings), {"1 - 2 mm"}) == "1 - 2 mm");
}

TEST_CASE("points are lines of numbers") {
  Field points = field(Shape::points);
  points.columns = 3;
  CHECK(typed(points, {"0 0 0.01 mm", "100 0 0.02"}) ==
        R"({"points":[["0 mm","0 mm","0.01 mm"],["100 mm","0 mm","0.02 mm"]]})");
  CHECK(held(points, {"0 0 -0.01 mm", "100 0 0.02"}) == "0 0 -0.01  / 100 0 0.02 mm");
}

TEST_CASE("a plain quantity wants no unit") {
  CHECK(held(field(Shape::one, Dimension::number), {"0.3 u 0.1"}) == "0.3 1 u 0.1");
  CHECK(held(field(Shape::list, Dimension::number), {"0.3 0.4"}) == "0.3 0.4 1");
}

TEST_CASE("bare numbers are written as JSON writes them") {
  const Field number = field(Shape::number, std::nullopt);
  CHECK(typed(number, {"100"}) == "100");
  CHECK(typed(number, {"2.50"}) == "2.50");
  CHECK(typed(number, {".5"}) == "0.5");
  CHECK(typed(number, {"+3"}) == "3");
  CHECK(typed(number, {"-4e-3"}) == "-4e-3");
  CHECK_THAT(typed(number, {"1,5"}), Catch::Contains("comma"));
  CHECK_THAT(typed(number, {"0.14 mm"}), Catch::StartsWith("refused"));
  CHECK_THAT(typed(number, {"true"}), Catch::StartsWith("refused"));
  CHECK(typed(field(Shape::numbers, std::nullopt), {"0.3 .6 1"}) == "[0.3,0.6,1]");
  CHECK_THAT(typed(field(Shape::numbers, std::nullopt), {"0.3 x"}), Catch::StartsWith("refused"));
}

TEST_CASE("records are lines with their members in order") {
  const Field marks = scale();
  const std::string both = R"([{"width":"1.0 mm","clearance":"0.062 mm"},{"width":"1.5 mm","clearance":"0.041 mm"}])";
  CHECK(typed(marks, {"1.0 mm; 0.062 mm", "1.5 mm; 0.041 mm"}) == both);
  CHECK(typed(marks, {"1.0 mm; 0.062 mm", "", "1.5; 0.041"}) == both);
  CHECK(typed(marks, {"1.0 mm 0.062 mm", "1.5 0.041"}) == both);
  CHECK(typed(marks, {"1.0 mm u 0.1; 0.062 mm"}) ==
        R"([{"width":{"value":"1.0 mm","u":"0.1"},"clearance":"0.062 mm"}])");
  CHECK(typed(marks, {"1.0 mm"}) == R"([{"width":"1.0 mm"}])");
  CHECK(typed(marks, {"1 mm", "1 in", "2"}) == R"([{"width":"1 mm"},{"width":"1 in"},{"width":"2"}])");
  CHECK(typed(marks, {"; 0.062 mm"}) == R"([{"clearance":"0.062 mm"}])");
  CHECK_THAT(typed(marks, {"1.0 mm; 0.062 mm; 3 mm"}), Catch::Contains("number 1 has more than Width; Clearance"));
  Field one = scale();
  one.most = 1;
  CHECK(typed(one, {"1.0 mm; 0.062 mm"}) == R"({"width":"1.0 mm","clearance":"0.062 mm"})");
}

TEST_CASE("a member's words may hold blanks") {
  Field lines = scale();
  Field name = field(Shape::text, std::nullopt);
  name.name = "name";
  lines.members.insert(lines.members.begin(), name);
  CHECK(typed(lines, {"left edge; 1 mm; 2 mm"}) == R"([{"name":"left edge","width":"1 mm","clearance":"2 mm"}])");
  CHECK(bench::lines_of(lines, json::read_one(R"({"field":[{"name":"left edge","width":"1 mm"}]})").value()) ==
        Lines{"left edge; 1 mm"});
}

// By the description alone: whatever computation there is, its example can be shown, and typed like that gives the
// answer the description says.
TEST_CASE("every worked example is typed as a person would and gives its answer") {
  for (const calc::Computation& each : calc::all_computations()) {
    INFO(each.name);
    const bench::Worked worked = bench::work_out(each, bench::example_typed(each));
    for (const auto& [name, sentence] : worked.wrong) CHECK(name + ": " + sentence == "");
    CHECK(worked.refused == "");
    CHECK(worked.missing.empty());
    REQUIRE(worked.answer);
    CHECK(json::compact(calc::to_json(each, *worked.answer)) == each.example.answer);
  }
}

TEST_CASE("what is left out is told, and nothing is worked out") {
  const bench::Worked none = worked("ring-gap", {});
  CHECK(none.missing == std::vector<std::string>{"gap", "gauge_bore", "working_bore"});
  CHECK(none.wrong.empty());
  CHECK_FALSE(none.answer);
  const bench::Worked some = worked("ring-gap", {{"gap", {"0.30 mm"}}, {"gauge_bore", {" "}}});
  CHECK(some.missing == std::vector<std::string>{"gauge_bore", "working_bore"});
}

TEST_CASE("a slip is told under its field while others are still blank") {
  const bench::Worked one = worked("ring-gap", {{"gap", {"0,30 mm"}}});
  REQUIRE(one.wrong.contains("gap"));
  CHECK_THAT(one.wrong.at("gap"), Catch::Contains("comma") && Catch::EndsWith("."));
  CHECK(one.missing.size() == 2);
  const bench::Worked two =
      worked("ring-gap", {{"gap", {"0.3 mm"}}, {"gauge_bore", {"-83 mm"}}, {"working_bore", {"8"}}});
  CHECK(two.wrong.at("gauge_bore") == "Must be greater than 0.");
  CHECK_THAT(two.wrong.at("working_bore"), Catch::Contains("has no unit"));
  CHECK_FALSE(two.wrong.contains("gap"));
  CHECK_FALSE(two.answer);
}

TEST_CASE("a refusal of the computation itself stands under the field it names") {
  const bench::Worked dual =
      worked("spring", {{"loads", {"310 850 N"}}, {"lengths", {"40 40 mm"}}, {"installed", {"39 mm"}}});
  CHECK_FALSE(dual.answer);
  CHECK(dual.wrong.contains("lengths"));
  const bench::Worked grades =
      worked("protrusion", {{"readings", {"0.6 mm"}}, {"grades", {"1 notch; 0.55 mm; 0.60 mm", "2 notches; 0.60 mm"}}});
  CHECK(grades.wrong.at("grades") == "Number 2, to: missing.");
}

// US Army TM 5-6115-593-34, table 1-2, note: a ring opens 0.003 in for each 0.001 in of bore.
TEST_CASE("inches are worked out as they are typed") {
  const bench::Worked gap =
      worked("ring-gap", {{"gap", {"0.012 in"}}, {"gauge_bore", {"3.500 in"}}, {"working_bore", {"3.501 in"}}});
  REQUIRE(gap.answer);
  const auto& opened = *gap.answer->find("gap_at_working")->quantity();
  CHECK(opened.unit->name == "in");
  CHECK(opened.value.fixed(3) == "0.015");
}

TEST_CASE("typing counts as the same when only blanks differ") {
  CHECK(bench::same({{"a", {"1 mm", ""}}, {"b", {" "}}}, {{"a", {" 1 mm"}}}));
  CHECK_FALSE(bench::same({{"a", {"1 mm"}}}, {{"a", {"2 mm"}}}));
}

TEST_CASE("random typing never brings the fields down, and gives no number from what calc refuses") {
  std::mt19937 chance(11);
  const std::vector<std::string> words = {"1",  "0.5", "-",   "mm",     "in", "N.m",     "u",         "shared",
                                          ";",  ",",   "1,5", "\u00B1", "+-", "ft",      "lb",        "1/K",
                                          "\"", "abc", "1e9", "..",     "-3", "journal", "2024-05-01"};
  for (int round = 0; round < 4000; ++round) {
    const auto& all = calc::all_computations();
    const calc::Computation& each = all[chance() % all.size()];
    bench::TypedFields typed = bench::example_typed(each);
    for (const Field& its : each.inputs) {
      if (chance() % 2) continue;
      Lines lines(1 + chance() % 3);
      for (std::string& line : lines)
        for (std::size_t w = chance() % 5; w > 0; --w)
          line += words[chance() % words.size()] + (chance() % 3 ? " " : "");
      typed[std::string(its.name)] = lines;
    }
    const bench::Worked worked = bench::work_out(each, typed);
    const auto answer = calc::compute(each, worked.input);
    if (worked.answer) REQUIRE(answer.ok());
    CHECK(worked.answer.has_value() == (worked.missing.empty() && worked.wrong.empty() && worked.refused.empty()));
  }
}

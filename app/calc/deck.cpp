// What stands above the deck and what seals it.
#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <algorithm>

namespace calc {

namespace {

struct Grade {
  std::string name;
  Exact from;
  Exact to;
};

Result<std::vector<Grade>> grades_of(const Given& given) {
  std::vector<Grade> grades;
  for (const Given& grade : given.records("grades"))
    grades.push_back({grade.text("name"), grade.quantity("from").value, grade.quantity("to").value});
  std::ranges::sort(grades, {}, &Grade::from);
  for (std::size_t i = 0; i < grades.size(); ++i) {
    if (grades[i].from >= grades[i].to)
      return bad_input("grades", fmt::format("{}: from must be below to", grades[i].name));
    if (i > 0 && grades[i].from < grades[i - 1].to)
      return bad_input("grades", fmt::format("{} and {} overlap", grades[i - 1].name, grades[i].name));
  }
  return grades;
}

// The grade a height belongs to, from <= height < to, the last `to` included.
std::optional<std::size_t> grade_at(const std::vector<Grade>& grades, const Exact& height) {
  for (std::size_t i = 0; i < grades.size(); ++i) {
    const bool last = i + 1 == grades.size();
    if (grades[i].from <= height && (height < grades[i].to || (last && height == grades[i].to))) return i;
  }
  return {};
}

std::string name_at(const std::vector<Grade>& grades, std::optional<std::size_t> at) {
  return at && *at < grades.size() ? grades[*at].name : "";
}

struct Cylinder {
  Exact height; // mean of its readings
  std::size_t readings;
};

Result<std::vector<Cylinder>> cylinders_of(const Readings& readings) {
  std::vector<Cylinder> cylinders;
  for (const auto& row : readings.rows) {
    std::vector<Exact> values;
    for (const auto& cell : row)
      if (cell) values.push_back(*cell);
    if (values.empty()) return bad_input("readings", fmt::format("cylinder {} has no reading", cylinders.size() + 1));
    cylinders.push_back({mean(values), values.size()});
  }
  return cylinders;
}

using Governing = std::vector<Cylinder>::const_iterator;

Quantity mean_height(const std::vector<Cylinder>& cylinders, const Readings& readings) {
  const Exact share = Exact(1) / whole(cylinders.size());
  Exact height;
  std::vector<Part> parts = {{1, readings.u_shared}};
  for (const Cylinder& cylinder : cylinders) {
    height += cylinder.height * share;
    parts.push_back({share, readings.u, cylinder.readings});
  }
  return {height, readings.unit, combined(parts)};
}

// How far the highest cylinder stands above the mean of all; what the readings share cancels.
Quantity excess(const std::vector<Cylinder>& cylinders, Governing governing, const Readings& readings) {
  const Exact share = Exact(1) / whole(cylinders.size());
  std::vector<Part> parts = {{0, readings.u_shared}};
  for (auto cylinder = cylinders.begin(); cylinder != cylinders.end(); ++cylinder)
    parts.push_back({cylinder == governing ? Exact(1) - share : share, readings.u, cylinder->readings});
  return {governing->height - mean_height(cylinders, readings).value, readings.unit, combined(parts)};
}

Result<Answer> protrusion(const Given& given) {
  const Readings& readings = given.readings("readings");
  const Result<std::vector<Grade>> grades = grades_of(given);
  if (!grades) return grades.error();
  const bool by_mean = given.has("basis") && given.text("basis") == "mean";
  if (by_mean && !given.has("exceed")) return bad_input("exceed", "missing; the basis mean needs it");
  if (!by_mean && given.has("exceed")) return bad_input("exceed", "belongs to the basis mean only");
  const Result<std::vector<Cylinder>> cylinders = cylinders_of(readings);
  if (!cylinders) return cylinders.error();

  const auto governing = std::ranges::max_element(*cylinders, {}, &Cylinder::height);
  const auto lowest = std::ranges::min_element(*cylinders, {}, &Cylinder::height);
  const Quantity highest{governing->height, readings.unit, readings.u_mean(governing->readings)};
  const Quantity middle = mean_height(*cylinders, readings);
  const Quantity above_middle = excess(*cylinders, governing, readings);
  // The name of the grade with every height so many U higher; empty for none.
  const auto grade = [&](int steps) {
    const auto raised = [&](const Quantity& height) { return height.value + Exact(steps) * height.u.value_or(0); };
    if (!by_mean) return name_at(*grades, grade_at(*grades, raised(highest)));
    auto at = grade_at(*grades, raised(middle));
    if (at && raised(above_middle) > given.quantity("exceed").value) ++*at;
    return name_at(*grades, at);
  };
  const auto shown = [](const std::string& name) { return name.empty() ? std::string("none") : name; };

  Answer answer;
  Outcome chosen;
  if (grade(-1) != grade(1))
    answer.notes.push_back(fmt::format("grade: undecided, within the U of the height it may be {} or {}: measure again",
                                       shown(grade(-1)), shown(grade(1))));
  else if (grade(0).empty())
    answer.notes.push_back(fmt::format("grade: none, the table goes from {} to {} {}", grades->front().from.text(),
                                       grades->back().to.text(), readings.unit->name));
  else
    chosen = grade(0);
  Outcomes per_cylinder;
  for (const Cylinder& cylinder : *cylinders)
    per_cylinder.emplace_back(Quantity{cylinder.height, readings.unit, readings.u_mean(cylinder.readings)});
  const auto spread_u =
      combined({{1, readings.u, governing->readings}, {1, readings.u, lowest->readings}, {0, readings.u_shared}});
  answer.results = {{"per_cylinder", per_cylinder},
                    {"highest", highest},
                    {"governs", whole(static_cast<std::size_t>(governing - cylinders->begin()) + 1)},
                    {"spread", Quantity{highest.value - lowest->height, readings.unit, spread_u}},
                    {"grade", chosen}};
  return answer;
}

} // namespace

std::vector<Computation> deck_computations() {
  using enum Dimension;
  return {{
      .name = "protrusion",
      .group = "deck",
      .purpose = "How far the pistons stand above the deck, and the gasket grade that asks for.",
      .inputs = {{.name = "readings",
                  .shape = Shape::grid,
                  .dimension = length,
                  .meaning = "one row a cylinder, + above the deck; null where a point is left out",
                  .sign = Sign::any},
                 {.name = "grades",
                  .shape = Shape::records,
                  .meaning = "the maker's table of gasket grades",
                  .members =
                      {{.name = "name", .shape = Shape::text, .meaning = "name of the grade"},
                       {.name = "from", .dimension = length, .meaning = "least height of the grade", .sign = Sign::any},
                       {.name = "to",
                        .dimension = length,
                        .meaning = "height at which the next grade begins",
                        .sign = Sign::any}}},
                 {.name = "basis",
                  .shape = Shape::text,
                  .meaning = "which height picks the grade, highest unless said",
                  .required = false,
                  .words = {"highest", "mean"}},
                 {.name = "exceed",
                  .dimension = length,
                  .meaning = "with the basis mean: how far one cylinder may stand above that mean",
                  .required = false,
                  .sign = Sign::not_negative}},
      .results = {{"per_cylinder", ResultKind::quantities, length, "mean of each cylinder"},
                  {"highest", ResultKind::quantity, length, "largest of these"},
                  {"governs", ResultKind::number, {}, "cylinder of the highest, from 1"},
                  {"spread", ResultKind::quantity, length, "highest - lowest cylinder"},
                  {"grade", ResultKind::text, {}, "name of the grade; null outside the table or when undecided"}},
      .formula =
          "grade where from <= h < to, the last to included; h = highest, or h = mean of the cylinders, then one "
          "grade further when highest - h > exceed; undecided when h - U and h + U give different grades",
      .source = "common practice, no source (two points over the pin, mean a cylinder; grade by the highest, or by the "
                "mean with one grade further for a cylinder well above it)",
      .example = {R"({"readings":{"values":[[0.612,0.628],[0.625,0.641],[0.650,0.664],[0.603,0.616]],"unit":"mm"},)"
                  R"("grades":[{"name":"1 notch","from":"0.55 mm","to":"0.60 mm"},)"
                  R"({"name":"2 notches","from":"0.60 mm","to":"0.65 mm"},)"
                  R"({"name":"3 notches","from":"0.65 mm","to":"0.70 mm"}]})",
                  R"({"calculation":"protrusion","results":{"per_cylinder":[{"value":0.62,"unit":"mm"},)"
                  R"({"value":0.633,"unit":"mm"},{"value":0.657,"unit":"mm"},{"value":0.6095,"unit":"mm"}],)"
                  R"("highest":{"value":0.657,"unit":"mm"},"governs":3,"spread":{"value":0.0475,"unit":"mm"},)"
                  R"("grade":"3 notches"},"notes":[]})"},
      .work = protrusion,
  }};
}

} // namespace calc

#include "calc/combine.h"
#include "calc/groups.h"
#include "calc/zone.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

namespace calc {

namespace {

bool is_diagonal(const std::string& name) {
  std::string lower;
  for (const char c : name) lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return lower.find("diagonal") != std::string::npos;
}

// The largest gap for its length of any line, set against the one allowed.
Quantity against_allowed(const std::vector<Given>& lines, const Given& allowed) {
  const Quantity gap = allowed.quantity("gap");
  const Quantity length = allowed.quantity("length");
  std::optional<Quantity> most;
  for (const Given& line : lines) {
    const Quantity refuses = line.quantity("refuses");
    const Quantity along = line.quantity("length");
    const Exact per_gap = length.value / (along.value * gap.value);
    const Exact ratio = refuses.value * per_gap;
    const auto u = combined({{per_gap, refuses.u},
                             {ratio / along.value, along.u},
                             {ratio / gap.value, gap.u},
                             {ratio / length.value, length.u}});
    if (!most || ratio > most->value) most = Quantity{ratio, quantity::find_unit("1"), u};
  }
  return *most;
}

Result<Answer> straightedge(const Given& given) {
  const std::vector<Given>& lines = given.records("lines");
  const Given* worst = &lines.front();
  for (const Given& line : lines) {
    if (line.quantity("enters").value >= line.quantity("refuses").value)
      return bad_input("lines", fmt::format("{}: the blade that enters must be thinner than the one that does not",
                                            line.text("name")));
    if (line.quantity("refuses").value > worst->quantity("refuses").value) worst = &line;
  }
  Answer answer;
  answer.results = {{"worst", worst->quantity("refuses")}, {"where", worst->text("name")}};
  answer.results.push_back({"ratio", given.has("per_length")
                                         ? Outcome(against_allowed(lines, given.records("per_length").front()))
                                         : Outcome()});
  if (std::ranges::none_of(lines, [](const Given& line) { return is_diagonal(line.text("name")); }))
    answer.notes.push_back("no line is named a diagonal: a twist does not show on the edges");
  return answer;
}

constexpr std::size_t most_points = 10'000; // 2 000 take some 20 ms, reading included

std::vector<Spot> spots_of(const Readings& points) {
  std::vector<Spot> spots;
  for (const auto& row : points.rows) {
    Spot& spot = spots.emplace_back();
    for (std::size_t k = 0; k + 1 < row.size(); ++k) spot.place.push_back(*row[k]);
    spot.height = *row.back();
  }
  return spots;
}

struct Form {
  Quantity minimum_zone;
  Quantity least_squares;
  Extremes extremes; // of the least squares
};

// No height moves either range by more than its own share of the highest or of the lowest place, so that U of a
// difference of two heights is never too small, whichever points come to govern.
std::optional<Form> form_of(const Readings& points) {
  const std::vector<Spot> spots = spots_of(points);
  const auto fitted = least_squares(spots);
  if (!fitted) return std::nullopt;
  const Extremes found = extremes(spots, fitted->slopes);
  const auto u = points.u_difference();
  return Form{{minimum_zone(spots).range, points.unit, u}, {found.range, points.unit, u}, found};
}

Result<Answer> flatness(const Given& given) {
  const auto form = form_of(given.readings("points"));
  if (!form) return bad_input("points", "lie all in one line: a face wants at least three that do not");
  return Answer{{{"minimum_zone", form->minimum_zone},
                 {"least_squares", form->least_squares},
                 {"high", whole(form->extremes.high)},
                 {"low", whole(form->extremes.low)}},
                {}};
}

Result<Answer> straightness(const Given& given) {
  const auto form = form_of(given.readings("points"));
  if (!form) return bad_input("points", "lie all at one place along the line: it wants at least two");
  return Answer{{{"least_squares", form->least_squares}, {"minimum_zone", form->minimum_zone}}, {}};
}

Field points(std::size_t least, std::size_t columns, std::string_view meaning) {
  return {.name = "points",
          .shape = Shape::points,
          .dimension = Dimension::length,
          .meaning = meaning,
          .sign = Sign::any,
          .least = least,
          .most = most_points,
          .columns = columns,
          .beside = true};
}

Computation flatness_of_a_face() {
  return {
      .name = "flatness",
      .group = "flatness",
      .purpose = "Flatness of a face from heights taken at points spread over it.",
      .inputs = {points(4, 3,
                        "[x, y, z] each: the place and the height there, 4 to 10000, not all in one line; u is "
                        "that of a height")},
      .results = {{"minimum_zone", ResultKind::quantity, Dimension::length,
                   "between the two nearest parallel planes that hold every point: judge this one; its U is that "
                   "of a difference of two heights, an upper bound"},
                  {"least_squares", ResultKind::quantity, Dimension::length,
                   "range of what the least-squares plane leaves, never below minimum_zone; U as there"},
                  {"high", ResultKind::number, {}, "point highest above the least-squares plane, from 0"},
                  {"low", ResultKind::number, {}, "point lowest below it, from 0"}},
      .formula = "minimum_zone = smallest over all a, b of max(z - a x - b y) - min(z - a x - b y), found exactly; "
                 "least_squares = that range at the a, b of the least-squares plane; of equals the first point",
      .source = "ISO 1101 (flatness: two parallel planes) and ISO 12781-1:2011 (reference planes), from memory",
      .example = {R"({"points":[[0,0,0],[0.1,0,-18],[0.2,0,-22],[0.3,0,3],[0,0.06,5],[0.1,0.06,-25],)"
                  R"([0.2,0.06,-31],[0.3,0.06,8],[0,0.12,12],[0.1,0.12,-9],[0.2,0.12,-14],[0.3,0.12,20]],)"
                  R"("unit":"um","u":2})",
                  R"({"calculation":"flatness","results":{"minimum_zone":{"value":41.5,"unit":"um","u":2.82842712475},)"
                  R"("least_squares":{"value":44.35,"unit":"um","u":2.82842712475},"high":11,"low":6},"notes":[]})"},
      .work = flatness};
}

Computation straightness_of_a_line() {
  return {
      .name = "straightness",
      .group = "flatness",
      .purpose = "Straightness of a line on a face or along a shaft from heights taken along it.",
      .inputs = {points(3, 2,
                        "[s, z] each: the place along the line and the height there, 3 to 10000, not all at one "
                        "place; u is that of a height")},
      .results = {{"least_squares", ResultKind::quantity, Dimension::length,
                   "range of what the least-squares line leaves, never below minimum_zone; U as there"},
                  {"minimum_zone", ResultKind::quantity, Dimension::length,
                   "between the two nearest parallel lines that hold every point: judge this one; its U is that of "
                   "a difference of two heights, an upper bound"}},
      .formula = "minimum_zone = smallest over all b of max(z - b s) - min(z - b s), found exactly; least_squares = "
                 "that range at the b of the least-squares line",
      .source = "ISO 1101 (straightness: two parallel lines) and ISO 12780-1:2011 (reference lines), from memory",
      .example = {R"({"points":[[0,0],[50,0.007],[100,0.009],[150,0.014],[200,0.006],[250,0.012],[300,0.002]],)"
                  R"("unit":"mm"})",
                  R"({"calculation":"straightness","results":{"least_squares":{"value":0.0133928571429,"unit":"mm"},)"
                  R"("minimum_zone":{"value":0.013,"unit":"mm"}},"notes":[]})"},
      .work = straightness};
}

Computation by_straightedge() {
  using enum Dimension;
  return {
      .name = "straightedge",
      .group = "flatness",
      .purpose = "Flatness of a face by a straightedge and feeler blades, line by line.",
      .inputs = {{.name = "lines",
                  .shape = Shape::records,
                  .meaning = "lines checked; one with \"diagonal\" in its name counts as a diagonal",
                  .members = {{.name = "name", .shape = Shape::text, .meaning = "which line"},
                              {.name = "enters",
                               .dimension = length,
                               .meaning = "thickest blade that enters, 0 when none does",
                               .sign = Sign::not_negative},
                              {.name = "refuses", .dimension = length, .meaning = "thinnest blade that does not enter"},
                              {.name = "length", .dimension = length, .meaning = "length of the line"}}},
                 {.name = "per_length",
                  .shape = Shape::records,
                  .meaning = "gap allowed on a length",
                  .required = false,
                  .most = 1,
                  .members = {{.name = "gap", .dimension = length, .meaning = "gap allowed"},
                              {.name = "length", .dimension = length, .meaning = "on this length"}}}},
      .results = {{"worst", ResultKind::quantity, length, "largest of the blades that did not enter"},
                  {"where", ResultKind::text, {}, "name of that line"},
                  {"ratio", ResultKind::quantity, number,
                   "largest gap for its length over the one allowed; null without per_length"}},
      .formula =
          "worst = largest refuses; ratio = largest over lines of (refuses / length) / (per_length gap / length)",
      .source = "TM 5-4320-300-14 p. 6-36 and 6-45 (limits along and across a head and a block)",
      .example = {R"({"lines":[{"name":"left edge","enters":"0.03 mm","refuses":"0.04 mm","length":"420 mm"},)"
                  R"({"name":"front edge","enters":"0 mm","refuses":"0.03 mm","length":"160 mm"},)"
                  R"({"name":"diagonal","enters":"0.04 mm","refuses":"0.05 mm","length":"450 mm"}],)"
                  R"("per_length":{"gap":"0.03 mm","length":"150 mm"}})",
                  R"({"calculation":"straightedge","results":{"worst":{"value":0.05,"unit":"mm"},"where":"diagonal",)"
                  R"("ratio":{"value":0.9375,"unit":"1"}},"notes":[]})"},
      .work = straightedge,
  };
}

} // namespace

std::vector<Computation> flatness_computations() {
  return {by_straightedge(), flatness_of_a_face(), straightness_of_a_line()};
}

} // namespace calc

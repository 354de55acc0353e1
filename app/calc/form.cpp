#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

namespace calc {

namespace {

using Rows = std::vector<std::vector<std::optional<Exact>>>;

// Rows become columns.
Rows turned(const Rows& rows) {
  Rows columns(rows.front().size());
  for (const auto& row : rows)
    for (std::size_t i = 0; i < row.size(); ++i) columns[i].push_back(row[i]);
  return columns;
}

// The largest range within one row; null when no row holds two readings.
std::optional<Exact> largest_range(const Rows& rows) {
  std::optional<Exact> worst;
  for (const auto& row : rows) {
    std::vector<Exact> there;
    for (const auto& cell : row)
      if (cell) there.push_back(*cell);
    if (there.size() < 2) continue;
    if (!worst || range(there) > *worst) worst = range(there);
  }
  return worst;
}

Result<Outcome> wear(const Given& given, const Exact& smallest_reading, const Exact& largest_reading) {
  if (!given.has("nominal")) return Outcome();
  if (!given.has("kind")) return bad_input("kind", "missing; with a nominal it says whether wear makes it larger");
  const Quantity nominal = given.quantity("nominal");
  const bool bore = given.text("kind") == "bore";
  const Exact worn = bore ? largest_reading - nominal.value : nominal.value - smallest_reading;
  return Outcome(Quantity{worn, nominal.unit, combined({{1, given.readings("readings").u_single()}, {1, nominal.u}})});
}

Result<Answer> form(const Given& given) {
  const Readings& readings = given.readings("readings");
  const std::vector<Exact> all = readings.flat();
  const auto single = readings.u_single();
  const auto difference = readings.u_difference();
  const Result<Outcome> worn = wear(given, smallest(all), largest(all));
  if (!worn) return worn.error();

  Answer answer;
  const auto form_of = [&](const char* name, const std::optional<Exact>& value) {
    if (!value) return Outcome();
    if (difference && *value < *difference)
      answer.notes.push_back(fmt::format("{}: not distinguishable from round, being below the U of a difference ({})",
                                         name, quantity::text({*difference, readings.unit, {}})));
    return Outcome(Quantity{*value, readings.unit, difference});
  };
  const auto out_of_round = largest_range(readings.rows);
  if (out_of_round) answer.notes.push_back("out_of_round: a two-point reading cannot see three lobes");
  answer.results = {{"max", Quantity{largest(all), readings.unit, single}},
                    {"min", Quantity{smallest(all), readings.unit, single}},
                    {"mean", Quantity{mean(all), readings.unit, readings.u_mean(all.size())}},
                    {"out_of_round", form_of("out_of_round", out_of_round)},
                    {"taper", form_of("taper", largest_range(turned(readings.rows)))},
                    {"wear", *worn}};
  return answer;
}

} // namespace

std::vector<Computation> form_computations() {
  using enum Dimension;
  return {{
      .name = "form",
      .group = "form",
      .purpose =
          "Size, roundness, taper and wear of a bore or a journal from diameters taken in planes and directions.",
      .inputs = {{.name = "readings",
                  .shape = Shape::grid,
                  .dimension = length,
                  .meaning = "diameters, one row a plane, one column a direction; null where an oil hole is skipped"},
                 {.name = "nominal", .dimension = length, .meaning = "the size when new", .required = false},
                 {.name = "kind",
                  .shape = Shape::text,
                  .meaning = "which way wear goes; needed with a nominal",
                  .required = false,
                  .words = {"bore", "journal"}}},
      .results = {{"max", ResultKind::quantity, length, "largest reading"},
                  {"min", ResultKind::quantity, length, "smallest reading"},
                  {"mean", ResultKind::quantity, length, "mean of all readings"},
                  {"out_of_round", ResultKind::quantity, length,
                   "largest difference between directions in one plane; null with one direction"},
                  {"taper", ResultKind::quantity, length,
                   "largest difference between planes in one direction; null with one plane"},
                  {"wear", ResultKind::quantity, length, "from the nominal; null without one"}},
      .formula = "out_of_round = largest over planes of (max - min across directions); taper = largest over directions "
                 "of (max - min across planes); wear = max - nominal (bore) or nominal - min (journal)",
      .source = "TM 9-2815-220-24 WP 0135 (levels and two directions at right angles); TM 5-3805-262-34 p. 4-24",
      .example = {R"({"readings":{"values":[[69.931,69.905],[69.927,69.921]],"unit":"mm","u":0.003},)"
                  R"("nominal":{"value":69.94,"unit":"mm"},"kind":"journal"})",
                  R"({"calculation":"form","results":{"max":{"value":69.931,"unit":"mm","u":0.003},)"
                  R"("min":{"value":69.905,"unit":"mm","u":0.003},"mean":{"value":69.921,"unit":"mm","u":0.0015},)"
                  R"("out_of_round":{"value":0.026,"unit":"mm","u":0.00424264068712},"taper":{"value":0.016,)"
                  R"("unit":"mm","u":0.00424264068712},"wear":{"value":0.035,"unit":"mm","u":0.003}},)"
                  R"("notes":["out_of_round: a two-point reading cannot see three lobes"]})"},
      .work = form,
  }};
}

} // namespace calc

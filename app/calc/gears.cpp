#include "calc/combine.h"
#include "calc/groups.h"

#include <fmt/format.h>

#include <cmath>
#include <limits>
#include <numeric>

namespace calc {

namespace {

Result<Answer> backlash(const Given& given) {
  const Readings& indicator = given.readings("indicator");
  const Quantity at = given.quantity("indicator_radius");
  const Quantity pitch = given.quantity("pitch_radius");
  const std::vector<Exact> values = indicator.flat();
  const Exact lever = pitch.value / at.value;
  const Exact mean_indicator = mean(values);
  const auto mean_u = indicator.u_mean(values.size());
  const auto at_pitch = [&](const Exact& reading, const std::optional<Exact>& reading_u) {
    const Exact lash = reading * lever;
    return Quantity{lash, indicator.unit,
                    combined({{lever, reading_u}, {reading / at.value, pitch.u}, {lash / at.value, at.u}})};
  };
  const Exact arc = mean_indicator / at.value;
  const Exact per_radian = degrees(1);
  const Quantity angle{degrees(arc.to_double()), quantity::find_unit("deg"),
                       combined({{per_radian / at.value, mean_u}, {per_radian * arc / at.value, at.u}})};
  Answer answer;
  answer.results = {{"min", at_pitch(smallest(values), indicator.u_single())},
                    {"max", at_pitch(largest(values), indicator.u_single())},
                    {"mean", at_pitch(mean_indicator, mean_u)},
                    {"angle", angle}};
  if (smallest(values).sign() <= 0) answer.notes.push_back("no backlash at one place at least: the gears bind there");
  return answer;
}

Result<Answer> centre_distance(const Given& given) {
  const Quantity change = given.quantity("change");
  const Unit& degree = *quantity::find_unit("deg");
  const Quantity pressure_angle = quantity::in_unit(given.quantity("pressure_angle"), degree).value();
  if (pressure_angle.value >= Exact(90)) return bad_input("pressure_angle", "must be less than 90 deg");
  const double radian_per_degree = 1 / degrees(1).to_double();
  const double angle = pressure_angle.value.to_double() * radian_per_degree;
  const double apart = change.value.to_double();
  const double slope = 2 * std::tan(angle);
  const double slope_change = 2 / (std::cos(angle) * std::cos(angle)) * radian_per_degree;

  Answer answer;
  answer.results = {
      {"backlash_change", Quantity{Exact::rounded(apart * slope), change.unit,
                                   combined({{Exact::rounded(slope), change.u},
                                             {Exact::rounded(apart * slope_change), pressure_angle.u}})}}};
  return answer;
}

constexpr long long most_teeth = 100'000;

// The teeth that have passed when all gears stand as they did; none when there is no number for it.
std::optional<long long> teeth_until_alike(const std::vector<long long>& teeth) {
  long long passed = 1;
  for (const long long count : teeth) {
    const long long times = count / std::gcd(passed, count);
    if (passed > std::numeric_limits<long long>::max() / times) return {};
    passed *= times;
  }
  return passed;
}

Result<Answer> mark_recurrence(const Given& given) {
  std::vector<long long> teeth;
  for (const Exact& count : given.numbers("teeth")) {
    if (!count.is_whole() || count > Exact(most_teeth))
      return bad_input("teeth", fmt::format("must be whole numbers of teeth, {} at most", most_teeth));
    teeth.push_back(std::llround(count.to_double()));
  }
  const auto passed = teeth_until_alike(teeth);
  if (!passed) return bad_input("teeth", "the marks of these gears would not meet again in a lifetime");
  Outcomes each;
  for (const long long count : teeth) each.emplace_back(Exact(*passed / count));
  const long long turns = *passed / teeth.front();

  Answer answer;
  answer.results = {{"turns", Exact(turns)}, {"each", each}};
  if (turns > 2)
    answer.notes.push_back(fmt::format("the marks meet only once in {} turns of the first gear: finding them apart "
                                       "is no fault in itself",
                                       turns));
  return answer;
}

Result<Answer> tooth_error(const Given& given) {
  const Exact& teeth = given.number("teeth");
  const Exact& off = given.number("teeth_off");
  if (!off.is_whole() || off.abs() >= teeth) return bad_input("teeth_off", "must be a whole number less than teeth");
  Answer answer;
  answer.results = {
      {"crank_angle",
       Quantity{Exact(360) / teeth * off * given.number("crank_per_turn"), quantity::find_unit("deg"), {}}}};
  return answer;
}

} // namespace

std::vector<Computation> gear_computations() {
  using enum Dimension;
  const Computation backlash_at_pitch = {
      .name = "backlash",
      .group = "gears",
      .purpose = "Backlash at the pitch circle from an indicator set at another radius, square to it.",
      .inputs = {{.name = "indicator",
                  .shape = Shape::list,
                  .dimension = length,
                  .meaning = "play read, once or at several places round the gear",
                  .sign = Sign::any},
                 {.name = "indicator_radius",
                  .dimension = length,
                  .meaning = "from the gear's centre to the indicator"},
                 {.name = "pitch_radius", .dimension = length, .meaning = "of the gear that was rocked"}},
      .results = {{"min", ResultKind::quantity, length, "smallest backlash"},
                  {"max", ResultKind::quantity, length, "largest backlash"},
                  {"mean", ResultKind::quantity, length, "mean backlash"},
                  {"angle", ResultKind::quantity, angle, "the mean as a turn of the gear"}},
      .formula = "backlash = indicator * pitch_radius / indicator_radius; angle = mean indicator / indicator_radius * "
                 "180 / pi",
      .source = "geometry; TM 9-2815-254-24 p. 3-151 (adjoining gear held, full swing read)",
      .example = {R"({"indicator":{"values":[0.10,0.12,0.11,0.13],"unit":"mm","u":0.01},"indicator_radius":"42 mm",)"
                  R"("pitch_radius":"35 mm"})",
                  R"({"calculation":"backlash","results":{"min":{"value":0.0833333333333,"unit":"mm",)"
                  R"("u":0.00833333333333},"max":{"value":0.108333333333,"unit":"mm","u":0.00833333333333},)"
                  R"("mean":{"value":0.0958333333333,"unit":"mm","u":0.00416666666667},)"
                  R"("angle":{"value":0.156881301048,"unit":"deg","u":0.00682092613251}},"notes":[]})"},
      .work = backlash,
  };
  const Computation backlash_of_centres = {
      .name = "centre-distance",
      .group = "gears",
      .purpose = "How much the backlash of two spur gears changes when their centres move.",
      .inputs = {{.name = "change",
                  .dimension = length,
                  .meaning = "of the distance between the centres, + apart",
                  .sign = Sign::any},
                 {.name = "pressure_angle", .dimension = angle, .meaning = "of the teeth, less than 90 deg"}},
      .results = {{"backlash_change", ResultKind::quantity, length, "at the pitch circle, + more"}},
      .formula = "backlash_change = 2 * change * tan(pressure_angle); for changes small against the teeth",
      .source = "Elements of Metric Gear Technology, section 14, equation 14-3a",
      .example = {R"({"change":"0.05 mm","pressure_angle":"20 deg"})",
                  R"({"calculation":"centre-distance","results":{"backlash_change":{"value":0.0363970234266,)"
                  R"("unit":"mm"}},"notes":[]})"},
      .work = centre_distance,
  };
  const Computation marks = {
      .name = "mark-recurrence",
      .group = "gears",
      .purpose = "After how many turns the marks of a train of gears all meet again.",
      .inputs = {{.name = "teeth",
                  .shape = Shape::numbers,
                  .meaning = "of the marked gears, the driver first, each meshing with one before it",
                  .least = 2}},
      .results = {{"turns", ResultKind::number, {}, "of the first gear until every mark meets again"},
                  {"each", ResultKind::any, {}, "turns of every gear by then"}},
      .formula = "least common multiple of all teeth, divided by the teeth of each gear",
      .source = "number theory",
      .example = {R"({"teeth":[28,35,56]})",
                  R"({"calculation":"mark-recurrence","results":{"turns":10,"each":[10,8,5]},)"
                  R"("notes":["the marks meet only once in 10 turns of the first gear: finding them apart is no )"
                  R"(fault in itself"]})"},
      .work = mark_recurrence,
  };
  const Computation teeth_off = {
      .name = "tooth-error",
      .group = "gears",
      .purpose = "How far a gear meshed some teeth wrong puts its timing out, in crank angle.",
      .inputs = {{.name = "teeth", .shape = Shape::count, .meaning = "of the gear that is off"},
                 {.name = "teeth_off",
                  .shape = Shape::number,
                  .meaning = "how many teeth off, less than a turn; the sign is kept",
                  .sign = Sign::any},
                 {.name = "crank_per_turn",
                  .shape = Shape::number,
                  .meaning = "turns of the crank for one of the gear: 2 for a four-stroke camshaft"}},
      .results = {{"crank_angle", ResultKind::quantity, angle, "by which the timing is out, in deg"}},
      .formula = "crank_angle = 360 / teeth * teeth_off * crank_per_turn",
      .source = "geometry; common practice, no source",
      .example = {R"({"teeth":56,"teeth_off":1,"crank_per_turn":2})",
                  R"({"calculation":"tooth-error","results":{"crank_angle":{"value":12.8571428571,"unit":"deg"}},)"
                  R"("notes":[]})"},
      .work = tooth_error,
  };
  return {backlash_at_pitch, backlash_of_centres, marks, teeth_off};
}

} // namespace calc

#include "calc/combine.h"
#include "calc/groups.h"

#include <numbers>

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

} // namespace

std::vector<Computation> gear_computations() {
  using enum Dimension;
  return {{
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
  }};
}

} // namespace calc

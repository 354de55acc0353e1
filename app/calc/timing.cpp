// Where the crank stands.
#include "calc/combine.h"
#include "calc/groups.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace calc {

namespace {

const Unit& degree() {
  return *quantity::find_unit("deg");
}

Quantity in_degrees(const Given& given, std::string_view name) {
  return quantity::in_unit(given.quantity(name), degree()).value();
}

Exact within_turn(const Exact& angle) { // 0 <= it < 360
  return angle - (angle / Exact(360)).floor() * Exact(360);
}

Exact either_way(const Exact& angle) { // -180 < it <= 180
  const Exact turned = within_turn(angle);
  return turned > Exact(180) ? turned - Exact(360) : turned;
}

double radians(const Exact& angle) {
  return angle.to_double() * std::numbers::pi / 180;
}

// The two stops lie on both sides of the dead centre nearer to them; half a turn apart they are as near to the other.
Result<Answer> dead_centre(const Given& given) {
  const Quantity before = in_degrees(given, "stop_before");
  const Quantity after = in_degrees(given, "stop_after");
  const Exact apart = either_way(after.value - before.value);
  const auto apart_u = combined({{1, before.u}, {1, after.u}});
  if (apart.abs() + apart_u.value_or(0) >= Exact(180))
    return bad_input("stop_after", "stands half a turn from stop_before, or within U of it: either dead centre may lie "
                                   "between them; set the stop nearer the one looked for");
  const Exact half = Exact::ratio(1, 2);
  const Exact centre = before.value + apart * half;
  const auto u = combined({{half, before.u}, {half, after.u}});

  Answer answer;
  answer.results = {{"centre", Quantity{within_turn(centre), &degree(), u}},
                    {"offset", Quantity{either_way(centre), &degree(), u}}};
  if (apart.sign() == 0)
    answer.notes.push_back("both readings are the same: turn the crank back to the stop from the other side");
  return answer;
}

struct Crank {
  Exact stroke;
  Exact rod;
};

// Piston below its top at `angle`, 0 to 180 deg, without taking near things from each other.
double drop_at(const Crank& crank, const Exact& angle) {
  const double radius = crank.stroke.to_double() / 2;
  const double rod = std::max(crank.rod.to_double(), radius);
  const double half = std::sin(radians(angle) / 2);
  const double lean = radius / rod * std::sin(radians(angle)); // sine of the rod's angle
  return 2 * radius * half * half + rod * lean * lean / (1 + std::sqrt(std::max(0.0, 1 - lean * lean)));
}

// Crank angle at `drop`, deg, 0 to 180: half-angle formula of the triangle of crank, rod and the line between their
// outer ends.
double angle_at(const Crank& crank, const Exact& drop) {
  if (drop.sign() <= 0) return 0;
  if (drop >= crank.stroke) return 180;
  const Exact half = drop / Exact(2);
  const Exact radius = crank.stroke / Exact(2);
  const Exact rod = quantity::max(crank.rod, radius);
  const double across = std::sqrt((rod - half).to_double()) * std::sqrt(half.to_double());
  const double along = std::sqrt((radius + rod - half).to_double()) * std::sqrt((radius - half).to_double());
  return 2 * std::atan2(across, along) * 180 / std::numbers::pi;
}

// How far a result moves at most when one input moves by its U either way, inside `low`..`high`. At dead centre a slope
// would say 0, or no number at all.
template <typename Formula>
Part moved(const Formula& formula, const Exact& value, const std::optional<Exact>& u, const Exact& low,
           const std::optional<Exact>& high = {}) {
  if (!u) return {1, {}};
  const Exact up = high ? quantity::min(value + *u, *high) : value + *u;
  const double here = formula(value);
  const double most = std::max(std::abs(formula(up) - here), std::abs(formula(quantity::max(value - *u, low)) - here));
  return {1, Exact::rounded(most)};
}

Result<Answer> crank_position(const Given& given) {
  const Quantity stroke = given.quantity("stroke");
  const Quantity rod = given.quantity("rod_length");
  const Crank crank{stroke.value, rod.value};
  const bool from_angle = given.has("angle");
  if (from_angle == given.has("drop")) return bad_input("angle", "give the angle or the drop, one of them");
  if (rod.value + rod.value <= stroke.value)
    return bad_input("rod_length", "is no longer than the crank's radius, half the stroke: the crank could not turn");

  Answer answer;
  if (from_angle) {
    const Quantity angle = in_degrees(given, "angle");
    const Exact folded = either_way(angle.value).abs(); // the piston stands the same before and after its top
    const auto u =
        combined({moved([&](const Exact& value) { return drop_at(crank, value); }, folded, angle.u, 0, Exact(180)),
                  moved(
                      [&](const Exact& value) {
                        return drop_at({value, rod.value}, folded);
                      },
                      stroke.value, stroke.u, 0),
                  moved(
                      [&](const Exact& value) {
                        return drop_at({stroke.value, value}, folded);
                      },
                      rod.value, rod.u, 0)});
    answer.results = {{"drop", Quantity{Exact::rounded(drop_at(crank, folded)), stroke.unit, u}}, {"angle", Outcome()}};
    return answer;
  }
  const Quantity drop = given.quantity("drop");
  if (drop.value > stroke.value) return bad_input("drop", "is more than the stroke");
  const auto u = combined({moved([&](const Exact& value) { return angle_at(crank, value); }, drop.value, drop.u, 0),
                           moved(
                               [&](const Exact& value) {
                                 return angle_at({value, rod.value}, drop.value);
                               },
                               stroke.value, stroke.u, 0),
                           moved(
                               [&](const Exact& value) {
                                 return angle_at({stroke.value, value}, drop.value);
                               },
                               rod.value, rod.u, 0)});
  answer.results = {{"drop", Outcome()},
                    {"angle", Quantity{Exact::rounded(angle_at(crank, drop.value)), &degree(), u}}};
  return answer;
}

Result<Answer> rim(const Given& given) {
  const Quantity diameter = given.quantity("diameter");
  if (given.has("angle") == given.has("arc")) return bad_input("angle", "give the angle or the arc, one of them");
  Answer answer;
  if (given.has("angle")) {
    const Quantity angle = in_degrees(given, "angle");
    const Exact turn = angle.value / Exact(360);
    const auto u = combined({{times_pi(turn), diameter.u}, {times_pi(diameter.value / Exact(360)), angle.u}});
    answer.results = {{"arc", Quantity{times_pi(diameter.value * turn), diameter.unit, u}}, {"angle", Outcome()}};
    return answer;
  }
  const Quantity arc = given.quantity("arc");
  const Exact per_length = degrees((Exact(2) / diameter.value).to_double());
  const Exact angle = degrees((Exact(2) * arc.value / diameter.value).to_double());
  const auto u = combined({{per_length, arc.u}, {angle / diameter.value, diameter.u}});
  answer.results = {{"arc", Outcome()}, {"angle", Quantity{angle, &degree(), u}}};
  return answer;
}

} // namespace

std::vector<Computation> timing_computations() {
  using enum Dimension;
  const Computation centre = {
      .name = "dead-centre",
      .group = "timing",
      .purpose = "Dead centre on a degree scale, from the piston brought to one stop from both sides.",
      .inputs = {{.name = "stop_before",
                  .dimension = angle,
                  .meaning = "read with the piston against the stop on one side",
                  .sign = Sign::any},
                 {.name = "stop_after",
                  .dimension = angle,
                  .meaning = "read against the same stop on the other side, on the same scale",
                  .sign = Sign::any}},
      .results = {{"centre", ResultKind::quantity, angle, "what the scale reads at dead centre, 0 to under 360 deg"},
                  {"offset", ResultKind::quantity, angle,
                   "of the pointer: what it reads at dead centre instead of 0, over -180 to 180 deg"}},
      .formula = "the middle of the shorter way from stop_before to stop_after, across 0/360 if need be",
      .source = "geometry; common practice, no source",
      .example = {R"({"stop_before":"338.5 deg","stop_after":"24.5 deg"})",
                  R"({"calculation":"dead-centre","results":{"centre":{"value":1.5,"unit":"deg"},)"
                  R"("offset":{"value":1.5,"unit":"deg"}},"notes":[]})"},
      .work = dead_centre,
  };
  const Computation position = {
      .name = "crank-position",
      .group = "timing",
      .purpose = "How far the piston stands below its top at a crank angle, or the crank angle from that.",
      .inputs = {{.name = "stroke", .dimension = length, .meaning = "of the piston: twice the crank's radius"},
                 {.name = "rod_length",
                  .dimension = length,
                  .meaning = "between the rod's centres, more than half the stroke"},
                 {.name = "angle",
                  .dimension = angle,
                  .meaning = "of the crank from top dead centre, either way; or",
                  .required = false,
                  .sign = Sign::any},
                 {.name = "drop",
                  .dimension = length,
                  .meaning = "of the piston below its top, the stroke at most",
                  .required = false,
                  .sign = Sign::not_negative}},
      .results = {{"drop", ResultKind::quantity, length, "below the top; null when it was given"},
                  {"angle", ResultKind::quantity, angle,
                   "0 to 180 deg, before or after top dead centre; null when it was given"}},
      .formula = "drop = r (1 - cos a) + l (1 - sqrt(1 - (r / l sin a)^2)), r = stroke / 2, l = rod_length; cylinder "
                 "axis through the crank's",
      .source = "geometry; TM 5-6115-593-34 (drop and angle of one piston)",
      .example = {R"({"stroke":"92 mm","rod_length":"158 mm","angle":"341 deg"})",
                  R"({"calculation":"crank-position","results":{"drop":{"value":3.21750836985,"unit":"mm"},)"
                  R"("angle":null},"notes":[]})"},
      .work = crank_position,
  };
  const Computation along_rim = {
      .name = "rim",
      .group = "timing",
      .purpose = "How far along the rim of a flywheel or pulley an angle is, or the angle of a distance along it.",
      .inputs = {{.name = "diameter", .dimension = length, .meaning = "of the rim"},
                 {.name = "angle", .dimension = angle, .meaning = "to mark; or", .required = false, .sign = Sign::any},
                 {.name = "arc",
                  .dimension = length,
                  .meaning = "measured along the rim",
                  .required = false,
                  .sign = Sign::any}},
      .results = {{"arc", ResultKind::quantity, length, "along the rim; null when it was given"},
                  {"angle", ResultKind::quantity, angle, "in deg; null when it was given"}},
      .formula = "arc = pi * diameter * angle / 360",
      .source = "geometry",
      .example = {R"({"diameter":"300 mm","angle":"19 deg"})",
                  R"({"calculation":"rim","results":{"arc":{"value":49.7418836818,"unit":"mm"},"angle":null},)"
                  R"("notes":[]})"},
      .work = rim,
  };
  return {centre, position, along_rim};
}

} // namespace calc

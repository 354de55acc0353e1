#include "calc/combine.h"
#include "calc/groups.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace calc {

namespace {

// The first harmonic of equally spaced depths: mean + a cos(angle) + b sin(angle), angle 0 at the first.
struct Harmonic {
  double a = 0;
  double b = 0;
  double left = 0; // range of what it leaves
};

// What the rounding of doubles leaves of a zero, next to numbers of this size.
double cleaned(double value, double size) {
  return std::abs(value) < 1e-12 * size ? 0 : value;
}

Harmonic first_harmonic(const std::vector<Exact>& depths, const Exact& mean_depth) {
  const auto count = static_cast<double>(depths.size());
  const double size = range(depths).to_double();
  std::vector<double> above;
  for (const Exact& depth : depths) above.push_back((depth - mean_depth).to_double());
  const auto angle = [&](std::size_t i) { return 2 * std::numbers::pi * static_cast<double>(i) / count; };
  Harmonic found;
  for (std::size_t i = 0; i < above.size(); ++i) {
    found.a += above[i] * std::cos(angle(i)) * 2 / count;
    found.b += above[i] * std::sin(angle(i)) * 2 / count;
  }
  found.a = cleaned(found.a, size);
  found.b = cleaned(found.b, size);
  for (std::size_t i = 0; i < above.size(); ++i)
    above[i] -= found.a * std::cos(angle(i)) + found.b * std::sin(angle(i));
  const auto [low, high] = std::ranges::minmax(above);
  found.left = cleaned(high - low, size);
  return found;
}

Result<Answer> seal_squareness(const Given& given) {
  const Readings& depths = given.readings("depths");
  const Quantity diameter = given.quantity("diameter");
  const std::vector<Exact> values = depths.flat();
  const Exact mean_depth = mean(values);
  const Harmonic tilt = first_harmonic(values, mean_depth);
  const double runout = 2 * std::hypot(tilt.a, tilt.b);
  const double across = diameter.value.to_double();

  // Each of a and b rests on the readings with U sqrt(2/n); what they share moves the mean only.
  const Exact spread = Exact::rounded(2 * std::numbers::sqrt2);
  const auto runout_u = combined({{spread, depths.u, values.size()}, {0, depths.u_shared}});
  const double steep = across * across + runout * runout;
  const auto tilt_u = combined({{degrees(across / steep), runout_u}, {degrees(runout / steep), diameter.u}});

  Answer answer;
  Outcome deepest_at;
  if (runout > 0) {
    const double at = std::atan2(tilt.b, tilt.a);
    const auto u = combined({{degrees(1 / runout), runout_u}});
    deepest_at = Quantity{degrees(at < 0 ? at + 2 * std::numbers::pi : at), quantity::find_unit("deg"),
                          u ? std::optional(quantity::min(*u, 180)) : u};
  }
  Outcome residual;
  if (values.size() > 3) residual = Quantity{Exact::rounded(tilt.left), depths.unit, depths.u_difference()};
  answer.results = {{"runout", Quantity{Exact::rounded(runout), depths.unit, runout_u}},
                    {"tilt", Quantity{degrees(std::atan(runout / across)), quantity::find_unit("deg"), tilt_u}},
                    {"deepest_at", deepest_at},
                    {"mean", Quantity{mean_depth, depths.unit, depths.u_mean(values.size())}},
                    {"residual", residual}};
  if (values.size() > 3 && tilt.left > runout)
    answer.notes.push_back("the tilt leaves more unexplained than it explains: warped, not tilted");
  return answer;
}

Result<Answer> lip_place(const Given& given) {
  const Quantity depth = given.quantity("depth");
  const Quantity lip = given.quantity("lip");
  const Quantity from = given.quantity("groove_from");
  const Quantity to = given.quantity("groove_to");
  if (from.value > to.value) return bad_input("groove_from", "is deeper than groove_to");
  const Exact place = depth.value + lip.value;
  const Exact before = from.value - place;
  const Exact beyond = place - to.value;
  const bool nearer_from = before >= beyond;
  const Exact distance = nearer_from ? before : beyond;
  Answer answer;
  answer.results = {{"distance", Quantity{distance, depth.unit,
                                          combined({{1, depth.u}, {1, lip.u}, {1, nearer_from ? from.u : to.u}})}}};
  if (distance.sign() < 0)
    answer.notes.push_back("the lip runs in the old groove: set the seal to another depth, or sleeve the shaft");
  return answer;
}

Result<Answer> surface_speed(const Given& given) {
  const Quantity diameter = given.quantity("diameter");
  const Quantity speed = given.quantity("speed");
  // mm and turns a minute to m/s
  const Exact per_turn = quantity::convert(1, *diameter.unit, *quantity::find_unit("m")) / Exact(60);
  const Exact factor = times_pi(per_turn);
  return Answer{{{"surface_speed",
                  Quantity{Exact::rounded((diameter.value * speed.value * per_turn).to_double() * std::numbers::pi),
                           quantity::find_unit("m/s"),
                           combined({{factor * speed.value, diameter.u}, {factor * diameter.value, speed.u}})}}},
                {}};
}

Computation place_of_a_lip() {
  using enum Dimension;
  return {.name = "lip-place",
          .group = "seals",
          .purpose = "Whether the lip of a new seal runs clear of the groove the old one wore into the shaft.",
          .inputs = {{.name = "depth",
                      .dimension = length,
                      .meaning = "from the housing's face to the seal's face, + deeper",
                      .sign = Sign::any},
                     {.name = "lip",
                      .dimension = length,
                      .meaning = "from the seal's face to its lip, + deeper",
                      .sign = Sign::any},
                     {.name = "groove_from",
                      .dimension = length,
                      .meaning = "from the housing's face to the near edge of the groove",
                      .sign = Sign::any},
                     {.name = "groove_to",
                      .dimension = length,
                      .meaning = "from the housing's face to the far edge of the groove",
                      .sign = Sign::any}},
          .results = {{"distance", ResultKind::quantity, length,
                       "of the lip from the nearer edge of the groove; negative inside it"}},
          .formula = "place = depth + lip; distance = larger of groove_from - place and place - groove_to",
          .source = "TM 5-3895-382-24 p. 6-92 (three depths for a seal whose shaft is grooved)",
          .example = {R"({"depth":"2.3 mm","lip":"4.5 mm","groove_from":"4.1 mm","groove_to":"4.9 mm"})",
                      R"({"calculation":"lip-place","results":{"distance":{"value":1.9,"unit":"mm"}},"notes":[]})"},
          .work = lip_place};
}

Computation speed_of_a_surface() {
  using enum Dimension;
  return {
      .name = "surface-speed",
      .group = "seals",
      .purpose = "Speed of a shaft's surface under a seal's lip.",
      .inputs = {{.name = "diameter", .dimension = length, .meaning = "of the shaft where the lip runs"},
                 {.name = "speed",
                  .dimension = rotation,
                  .meaning = "turns of the shaft, 0 at rest",
                  .sign = Sign::not_negative}},
      .results = {{"surface_speed", ResultKind::quantity, Dimension::speed, "of the surface past the lip"}},
      .formula = "surface_speed = pi diameter speed",
      .source = "geometry",
      .example = {R"({"diameter":"70 mm","speed":"3000 rpm"})",
                  R"({"calculation":"surface-speed","results":{"surface_speed":{"value":10.9955742876,"unit":"m/s"}},)"
                  R"("notes":[]})"},
      .work = surface_speed};
}

Computation squareness_of_a_seal() {
  using enum Dimension;
  return {
      .name = "seal-squareness",
      .group = "seals",
      .purpose = "How square a pressed seal stands, from depths taken round it.",
      .inputs = {{.name = "depths",
                  .shape = Shape::list,
                  .dimension = length,
                  .meaning = "depths at equal steps round the seal, + deeper",
                  .sign = Sign::any,
                  .least = 3},
                 {.name = "diameter", .dimension = length, .meaning = "circle the depths were taken on"}},
      .results = {{"runout", ResultKind::quantity, length,
                   "deepest - highest of the tilted plane, across the diameter"},
                  {"tilt", ResultKind::quantity, angle, "of the seal from square"},
                  {"deepest_at", ResultKind::quantity, angle, "from the first depth on; null without tilt"},
                  {"mean", ResultKind::quantity, length, "mean depth"},
                  {"residual", ResultKind::quantity, length, "range the tilt does not explain; null with 3 depths"}},
      .formula = "depth = c + a cos + b sin by least squares; runout = 2 sqrt(a^2 + b^2); tilt = atan(runout / "
                 "diameter); deepest_at = atan2(b, a); residual = range left",
      .source = "geometry; TM 5-3895-359-14&P p. 0208 (run-out of a seal bore)",
      .example = {R"({"depths":{"values":[4.02,4.10,4.12,4.04],"unit":"mm"},"diameter":"70 mm"})",
                  R"({"calculation":"seal-squareness","results":{"runout":{"value":0.116619037897,"unit":"mm"},)"
                  R"("tilt":{"value":0.0954538928657,"unit":"deg"},"deepest_at":{"value":149.036243468,"unit":"deg"},)"
                  R"("mean":{"value":4.07,"unit":"mm"},"residual":{"value":0,"unit":"mm"}},"notes":[]})"},
      .work = seal_squareness,
  };
}

} // namespace

std::vector<Computation> seal_computations() {
  return {squareness_of_a_seal(), place_of_a_lip(), speed_of_a_surface()};
}

} // namespace calc

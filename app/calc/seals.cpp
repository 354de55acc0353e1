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

} // namespace

std::vector<Computation> seal_computations() {
  using enum Dimension;
  return {{
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
  }};
}

} // namespace calc

#include "calc/bolt.h"

#include "calc/combine.h"

#include <fmt/format.h>

#include <cmath>
#include <numbers>

namespace calc {

namespace {

// In parts of the pitch: three quarters and seventeen twelfths of the height of the 60 degree triangle.
const Exact& pitch_depth() {
  static const Exact depth = Exact::ratio(649'519'053, 1'000'000'000);
  return depth;
}
const Exact& root_depth() {
  static const Exact depth = Exact::ratio(1'226'869'322, 1'000'000'000);
  return depth;
}
const Exact& stress_depth() {
  static const Exact depth = (pitch_depth() + root_depth()) / Exact(2);
  return depth;
}

struct ProofStress {
  std::string_view strength_class;
  int above, up_to; // nominal diameter; the smallest of the document is M1.6
  int stress;
};

// ISO 898-1:2013, table 3, "stress under proof load, nominal".
constexpr ProofStress proof_stresses[] = {
    {"8.8", 0, 16, 580}, {"8.8", 16, 39, 600}, {"10.9", 0, 39, 830}, {"12.9", 0, 39, 970}};

} // namespace

Exact pitch_diameter(const Exact& diameter, const Exact& pitch) {
  return diameter - pitch_depth() * pitch;
}
Exact root_diameter(const Exact& diameter, const Exact& pitch) {
  return diameter - root_depth() * pitch;
}
Exact stress_diameter(const Exact& diameter, const Exact& pitch) {
  return diameter - stress_depth() * pitch;
}

std::optional<Error> not_a_bolt(const Exact& diameter, const std::optional<Exact>& pitch) {
  if (diameter < Exact::ratio(1, 10) || diameter > Exact(1000))
    return bad_input("diameter", fmt::format("{} mm is no bolt's; 0.1 mm to 1 m can be reckoned", diameter.text()));
  if (pitch && root_diameter(diameter, *pitch).sign() <= 0)
    return bad_input("pitch", "is too coarse for the diameter: the thread would leave no bolt");
  return {};
}

StressArea stress_area(const Exact& diameter, const Exact& pitch) {
  const Exact across = stress_diameter(diameter, pitch);
  const Exact slope = times_pi(across / Exact(2));
  return {times_pi(across * across / Exact(4)), {slope, -slope * stress_depth(), 0}};
}

Quantity given_in(const Given& given, std::string_view field, std::string_view unit) {
  return quantity::in_unit(given.quantity(field), *quantity::find_unit(unit)).value();
}

Result<Joint> joint_of(const Given& given) {
  Joint joint;
  joint.diameter = given_in(given, "diameter", "mm");
  if (given.has("pitch")) joint.pitch = given_in(given, "pitch", "mm");
  if (const auto error =
          not_a_bolt(joint.diameter.value, joint.pitch ? std::optional(joint.pitch->value) : std::nullopt))
    return *error;
  if (given.has("nut_factor")) {
    for (const char* other : {"mu_thread", "mu_head", "head_diameter"})
      if (given.has(other)) return bad_input(other, "stands beside nut_factor: give one way or the other");
    joint.nut_factor = given.number("nut_factor");
    return joint;
  }
  for (const char* needed : {"pitch", "mu_thread", "mu_head", "head_diameter"})
    if (!given.has(needed)) return bad_input(needed, "missing; or give nut_factor for all of the friction");
  joint.mu_thread = given.number("mu_thread");
  joint.mu_head = given.number("mu_head");
  joint.head = given_in(given, "head_diameter", "mm");
  return joint;
}

std::vector<Field> joint_fields() {
  const auto friction = [](std::string_view name, std::string_view meaning) {
    return Field{
        .name = name, .shape = Shape::number, .meaning = meaning, .required = false, .sign = Sign::not_negative};
  };
  return {{.name = "diameter", .dimension = Dimension::length, .meaning = "nominal diameter of the thread"},
          {.name = "pitch",
           .dimension = Dimension::length,
           .meaning = "of the thread; may be absent with nut_factor",
           .required = false},
          friction("mu_thread", "friction of the thread"),
          friction("mu_head", "friction under the turned head or nut"),
          {.name = "head_diameter",
           .dimension = Dimension::length,
           .meaning = "mean bearing diameter under the turned head or nut",
           .required = false},
          {.name = "nut_factor",
           .shape = Shape::number,
           .meaning = "torque / (diameter * preload), in place of the frictions and head_diameter",
           .required = false}};
}

Lever lever(const Joint& joint, const Exact& part) {
  Lever found;
  const Exact& diameter = joint.diameter.value;
  if (joint.nut_factor) {
    found.slope.diameter = *joint.nut_factor * part;
    found.length = found.slope.diameter * diameter;
    return found;
  }
  const double flank = (joint.mu_thread * part).to_double() / std::numbers::sqrt3; // mu / (2 cos 30)
  found.slope.diameter = Exact::rounded(flank);
  found.slope.pitch = Exact::rounded(1 / (2 * std::numbers::pi) - pitch_depth().to_double() * flank);
  found.slope.head = joint.mu_head * part / Exact(2);
  found.length = Exact::rounded(joint.pitch->value.to_double() / (2 * std::numbers::pi) +
                                pitch_diameter(diameter, joint.pitch->value).to_double() * flank +
                                (found.slope.head * joint.head->value).to_double());
  return found;
}

Result<Exact> proof_stress(std::string_view strength_class, const Exact& diameter) {
  for (const ProofStress& row : proof_stresses)
    if (row.strength_class == strength_class && diameter > Exact(row.above) && diameter <= Exact(row.up_to) &&
        diameter >= Exact::ratio(8, 5))
      return Exact(row.stress);
  return bad_input("class", fmt::format("covers M1.6 to M39 only, and this bolt measures {} mm", diameter.text()));
}

Field class_field() {
  return {.name = "class",
          .shape = Shape::text,
          .meaning = "strength class of the bolt, for its proof stress",
          .required = false,
          .words = {"8.8", "10.9", "12.9"}};
}

} // namespace calc

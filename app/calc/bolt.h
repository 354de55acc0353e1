// A metric bolt: its thread, the lever between its torque and its preload, and the stress its class stands.
// Lengths in mm, areas in mm2, stresses in MPa.
// Sources: ISO 68-1 (profile), ISO 898-1 (stress area, proof stress), linearised screw formula as in VDI 2230-1.
#pragma once

#include "calc/inputs.h"

namespace calc {

Exact pitch_diameter(const Exact& diameter, const Exact& pitch);  // d2 = d - 0.649519053 p
Exact root_diameter(const Exact& diameter, const Exact& pitch);   // d3 = d - 1.226869322 p
Exact stress_diameter(const Exact& diameter, const Exact& pitch); // (d2 + d3)/2

// Code "bad-input" for a diameter no bolt has (below 0.1 mm, above 1 m) or a pitch so coarse that no root is left.
std::optional<Error> not_a_bolt(const Exact& diameter, const std::optional<Exact>& pitch);

// By how much a result rises for each mm of a size.
struct PerMillimetre {
  Exact diameter;
  Exact pitch;
  Exact head;
};

struct StressArea {
  Exact area; // pi/4 (stress diameter)^2, > 0
  PerMillimetre slope;
};
StressArea stress_area(const Exact& diameter, const Exact& pitch); // not_a_bolt() was asked

// What stands between torque and preload: the sizes in mm with their U, and either coefficients of friction and a mean
// bearing diameter or a nut factor.
struct Joint {
  Quantity diameter;
  std::optional<Quantity> pitch;
  std::optional<Quantity> head;
  Exact mu_thread;
  Exact mu_head;
  std::optional<Exact> nut_factor;
};

// From the fields of joint_fields(). Code "bad-input" when they say neither way or both.
Result<Joint> joint_of(const Given& given);
std::vector<Field> joint_fields();

// torque = preload * lever, > 0. `part` stretches all friction: 1.2 is a fifth more than stated.
struct Lever {
  Exact length;
  PerMillimetre slope;
};
Lever lever(const Joint& joint, const Exact& part);

// Of the classes 8.8, 10.9 and 12.9 (those of class_field) for M1.6 to M39. Code "bad-input" outside these.
Result<Exact> proof_stress(std::string_view strength_class, const Exact& diameter);
Field class_field();

// A quantity of the call in another unit of its dimension.
Quantity given_in(const Given& given, std::string_view field, std::string_view unit);

} // namespace calc

// The units of the program and exact conversion between them.
// Sources of the factors: NIST SP 811 (2008), appendix B.8 and B.9; SI Brochure (9th edition).
#pragma once

#include "quantity/exact.h"

#include <string_view>
#include <vector>

namespace quantity {

enum class Dimension {
  number,
  length,
  area,
  volume,
  torque,
  force,
  pressure,
  mass,
  angle,
  stiffness,
  speed,
  rotation,
  temperature,
  expansion,
  time
};

std::string_view name_of(Dimension dimension); // as a person says it: "a length"

struct Unit {
  std::string_view name; // as the program writes it: "N.m"
  Dimension dimension;
  Exact factor; // to the dimension's base unit (mm, mm2, mm3, N.m, N, MPa, g, deg, N/mm, m/s, rpm, K, 1/K, s, 1)
  Exact offset; // base = factor * value + offset; zero but for degC and degF
  bool through_pi = false; // its factor is not rational: a conversion is rounded to 12 significant digits
};

const std::vector<Unit>& all_units();

// By the program's name or a typed alias (ft-lb, lb-ft, in-lb, cc, kg/cm2, ...); null when unknown.
const Unit* find_unit(std::string_view name);

// Units are compared by address: there is one of each.
bool same_dimension(const Unit& a, const Unit& b);

// A value and a difference (which knows no offset: 1 K of play is 1.8 degF of play). Same dimension required.
Exact convert(const Exact& value, const Unit& from, const Unit& to);
Exact convert_difference(const Exact& value, const Unit& from, const Unit& to);

} // namespace quantity

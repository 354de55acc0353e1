// A value with its unit and, when known, its expanded uncertainty U (k = 2, same unit).
#pragma once

#include "quantity/unit.h"

#include <optional>
#include <string>
#include <string_view>

namespace quantity {

struct Quantity {
  Exact value;
  const Unit* unit = nullptr; // never null in a finished quantity
  std::optional<Exact> u;     // expanded uncertainty, >= 0

  bool operator==(const Quantity&) const = default;
};

// The same quantity in another unit of its dimension; code "bad-unit" when it measures something else.
Result<Quantity> in_unit(const Quantity& quantity, const Unit& unit);

// Why a unit does not fit: "mm measures a length; here a torque in N.m is wanted". `typed` names the unit as it was
// given.
Error wrong_dimension(std::string_view typed, const Unit& unit, const Unit& wanted);

std::string text(const Quantity& quantity); // "61.962 mm"; a plain number stands alone

} // namespace quantity

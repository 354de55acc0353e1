// What a person types into a field, read strictly: "61.962", "2.4395 in", "1.5 thou", "-0.05". Nothing is repaired:
// a comma, two dots or trailing words are refused with the reason, so a wrong digit is caught where it is typed.
#pragma once

#include "quantity/quantity.h"

#include <string_view>

namespace quantity {

// A number alone is in `expected`; a number with a unit must be of its dimension and keeps the unit typed.
// Errors: "bad-value" (not a number), "bad-unit" (unknown, or measures something else).
Result<Quantity> parse_typed(std::string_view text, const Unit& expected);

// A number with its unit, where no unit is known beforehand.
Result<Quantity> parse_with_unit(std::string_view text);

} // namespace quantity

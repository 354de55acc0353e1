#include "quantity/quantity.h"

#include <fmt/format.h>

namespace quantity {

namespace {

// Where the trade's way of speaking leads to the wrong unit: the unit that was meant.
std::string hint(const Unit& unit, const Unit& wanted) {
  if (wanted.dimension == Dimension::force && unit.name == "kg") return " (a force is written kgf)";
  if (wanted.dimension == Dimension::force && unit.name == "lb") return " (a force is written lbf)";
  if (wanted.dimension == Dimension::temperature && unit.name == "deg") {
    return " (a temperature is written degC or degF)";
  }
  return "";
}

} // namespace

Error wrong_dimension(std::string_view typed, const Unit& unit, const Unit& wanted) {
  const std::string in = wanted.dimension == Dimension::number ? "" : fmt::format(" in {}", wanted.name);
  return {"bad-unit", fmt::format("{} measures {}; here {}{} is wanted{}", typed, name_of(unit.dimension),
                                  name_of(wanted.dimension), in, hint(unit, wanted))};
}

Result<Quantity> in_unit(const Quantity& quantity, const Unit& unit) {
  if (!same_dimension(*quantity.unit, unit)) return wrong_dimension(quantity.unit->name, *quantity.unit, unit);
  Quantity converted{convert(quantity.value, *quantity.unit, unit), &unit, std::nullopt};
  if (quantity.u) converted.u = convert_difference(*quantity.u, *quantity.unit, unit);
  return converted;
}

std::string text(const Quantity& quantity) {
  if (quantity.unit->dimension == Dimension::number) return quantity.value.text();
  return fmt::format("{} {}", quantity.value.text(), quantity.unit->name);
}

} // namespace quantity

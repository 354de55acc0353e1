// Lengths on the screen: as the procedure has them, or what it has in mm in inches. A switch of the display: nothing
// that is recorded, judged or computed knows of it. What is shown in inches is rounded to five places, a half away from
// zero, and carries its unit: a place there is 0.00025 mm, so two sizes 0.001 mm apart stay apart. A number typed while
// inches are shown counts as inches and goes to the gate with that unit.
#pragma once

#include "calc/judging.h"
#include "quantity/quantity.h"

#include <string>

namespace bench {

void show_inches(bool on);

// Lengths in this unit are shown in inches now.
bool in_inches(const quantity::Unit& unit);

const quantity::Unit& shown_unit(const quantity::Unit& unit); // the inch, or the unit itself
std::string unit_words(const quantity::Unit& unit);           // that, to stand behind "in": "inches", "mm"

// A value in its unit: "61.962 mm", "2.43945 in".
std::string shown_length(const quantity::Exact& value, const quantity::Unit& unit);
// The same without its unit, to stand beside one; `places` for what is not shown in inches.
std::string shown_number(const quantity::Exact& value, const quantity::Unit& unit);
std::string shown_number(const quantity::Exact& value, const quantity::Unit& unit, int places);
// "0.020 to 0.062 mm", "0.00079 to 0.00244 in".
std::string shown_bounds(const calc::Bounds& bounds, const quantity::Unit& unit);

// What was typed where `unit` is asked for, as it goes to the gate: "2.4395" becomes "2.4395 in" while inches are
// shown.
std::string as_meant(const std::string& typed, const quantity::Unit& unit);

} // namespace bench

// Results as large figures: rounded to what means something, with unit and U. Pure: no screen.
#pragma once

#include "calc/registry.h"

#include <string>

namespace bench {

// "0.0500 mm ± 0.0042": U to two digits and the value to the same place; without U six digits. `whole`: every digit
// there is. Nothing, true and false, and lists are said in words.
std::string figure_of(const calc::Outcome& outcome, bool whole);
bool has_u(const calc::Outcome& outcome);

} // namespace bench

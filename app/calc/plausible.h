// Whether printed figures can belong together: a doubt to raise before a page is believed, never a repair. Figures are
// taken as printed, with their unit ("0.015 in"), as their last digit says how far rounding may have gone.
// Errors: "bad-value" and "bad-unit" (cannot be read, or measures something else), "implausible" (do not fit).
#pragma once

#include "quantity/result.h"

#include <string_view>

namespace calc {

// One quantity printed in two units: as far apart as half the last printed digit of the coarser one, no further. Either
// may have been worked out from the other and rounded.
quantity::Result<void> one_quantity(std::string_view printed, std::string_view beside);

// A thread's stress area: pi/4 (diameter - 0.938194187 pitch)^2 (ISO 898-1, 9.1.6.1, from memory) within 0.6 %, as
// areas are printed with three digits.
quantity::Result<void> stress_area_follows(std::string_view diameter, std::string_view pitch, std::string_view area);

// How much a ring's end gap grows with the diameter of the bore it stands in: pi times as much (geometry; TM
// 5-6115-593-34 table 1-2 prints 0.003 in for 0.001 in), within half the last printed digit of the coarser one.
quantity::Result<void> gap_change_follows(std::string_view bore_change, std::string_view gap_change);

// A lower limit at most as large as the upper one.
quantity::Result<void> low_to_high(std::string_view low, std::string_view high);

} // namespace calc

// Limits of size by ISO 286-1:2010, kept as its tables (1 to 5) give them: the formulae behind the tables do not lead
// to every rounded cell. Standard tolerances IT5 to IT11; deviations d e f g h js k m n p r s of shafts, D to S of
// holes. Sizes from 1 mm to 500 mm; a step is "over its lower end, up to and including its upper": 50.000 mm is of 30
// to 50.
#pragma once

#include "quantity/exact.h"
#include "quantity/result.h"

#include <string_view>

namespace calc {

enum class FitPart { hole, shaft };

struct LimitDeviations { // mm from the nominal size
  quantity::Exact lower;
  quantity::Exact upper;
};

bool has_limits(const quantity::Exact& size); // 1 mm to 500 mm, both included

// `tolerance_class` as on a drawing: "H7" of a hole, "js6" of a shaft. `size` in mm; without limits: std::logic_error.
// Code "bad-class": not one of these classes, or one the standard does not define at this size (K above grade 8 over
// 3 mm, N above grade 8 at 1 mm); the message is a clause without a subject.
quantity::Result<LimitDeviations> limit_deviations(FitPart part, std::string_view tolerance_class,
                                                   const quantity::Exact& size);

} // namespace calc

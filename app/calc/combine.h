// Small arithmetic over readings, and the expanded uncertainty U of a result from the U of what it rests on: the root
// sum of squares of sensitivity times U (JCGM 100:2008, 5.1.2, for independent readings).
#pragma once

#include "quantity/exact.h"

#include <cstddef>
#include <optional>
#include <vector>

namespace calc {

using quantity::Exact;

struct Part {
  Exact sensitivity;
  std::optional<Exact> u;
  std::size_t mean_of = 1; // this many independent readings, each with `u`, went into a mean
};

// Nullopt when no part has a U. Exact when only one part counts, else rounded to 12 significant digits.
std::optional<Exact> combined(const std::vector<Part>& parts);

// None of these takes an empty list: std::logic_error.
Exact mean(const std::vector<Exact>& values);
Exact smallest(const std::vector<Exact>& values);
Exact largest(const std::vector<Exact>& values);
Exact range(const std::vector<Exact>& values);

Exact whole(std::size_t count);

// Rounded to 12 significant digits.
Exact times_pi(const Exact& value);
Exact degrees(double radians);

} // namespace calc

// The verdict on one value: inside its limits, outside them, or undecided because the gauge cannot tell.
// Rules: "simple" (within when low <= value <= high) and "guarded" (ISO 14253-1: a guard band of U on each side;
// limits belong to `within` for low+U <= value <= high-U, outside needs value < low-U or value > high+U).
#pragma once

#include "quantity/exact.h"

#include <optional>
#include <string_view>

namespace calc {

using quantity::Exact;

enum class Rule { simple, guarded };
enum class Verdict { within, undecided, outside }; // in rising order of trouble

std::string_view name_of(Verdict verdict); // "within", "undecided", "outside"
std::string_view name_of(Rule rule);
std::optional<Rule> rule_named(std::string_view name);

struct Bounds {
  std::optional<Exact> low;
  std::optional<Exact> high;
};

// All in one unit. `u` is the expanded uncertainty (k = 2), >= 0; the rule `simple` does not look at it.
Verdict judge(const Exact& value, const Exact& u, const Bounds& bounds, Rule rule);

// A gauge with 2U > high - low can never prove a value within: refused before the first reading.
bool too_coarse(const Exact& u, const Bounds& bounds);

// Probability that the true value lies inside the bounds, the reading being normal with standard uncertainty u/2
// (JCGM 106:2012, 7). u > 0.
double conformance_probability(const Exact& value, const Exact& u, const Bounds& bounds);

} // namespace calc

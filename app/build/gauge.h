// Whether a gauge or wrench may be used for an entry, and how much its readings can be trusted.
#pragma once

#include "build/limits.h"
#include "build/shop.h"

namespace build {

// Codes: "gauge-unknown", "gauge-overdue", "gauge-unfit". `entry` may ask for kinds of gauge and names the dimension.
Result<void> may_measure(const Shop& shop, const Gauge& gauge, const procedure::Entry& entry, const Moment& now);
Result<void> may_tighten(const Shop& shop, const Gauge& gauge, const Unit& unit, const Moment& now);
// Any measuring gauge of the unit's dimension.
Result<void> may_gauge(const Shop& shop, const Gauge& gauge, const Unit& unit, const Moment& now);

// Expanded uncertainty of one reading of this size, in `unit`; where none is stated, a cautious one by kind and
// division (common practice, no source).
struct Trust {
  Exact u;
  Exact repeat;
  bool assumed = false;
};
Trust trust(const Gauge& gauge, const Exact& value, const Unit& unit);

// Inside the range it was calibrated for; code "gauge-unfit".
Result<void> in_range(const Gauge& gauge, const Exact& value, const Unit& unit);

// The facts an event copies: id, kind, unit, resolution, u as used, assumed, calibrated, due.
json::Value facts(const Gauge& gauge, const Trust& trust, const Unit& unit);

// What the trade calls the kinds; anything else is refused when a gauge is added.
const std::vector<std::string_view>& gauge_kinds();

} // namespace build

// Readings in doubt: taken with a gauge or wrench between its last good calibration and the day it was found out. They
// are left by measuring again, by correcting the gauge that was named, or by a signed acceptance with its reason; of a
// released engine by an addendum.
#pragma once

#include "build/shop.h"
#include "build/state.h"

namespace build {

// The newest doubt about what an entry rests on, and where; null when there is none.
struct InDoubt {
  const Doubt* doubt = nullptr;
  std::vector<std::size_t> places; // cells, or fasteners
};
InDoubt in_doubt(const Shop& shop, const Build& build, EntryAt at);

// Whether this try is in doubt, settled or not.
bool doubted(const Shop& shop, const Try& one);

// "Journals: measured with mic-25, found out on 2026-03-02".
std::string what_is_doubted(const Build& build, EntryAt at, const Doubt& doubt);

// As an event names it: {gauge, found, seq}.
json::Value to_json(const Doubt& doubt);

} // namespace build

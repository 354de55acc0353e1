// Where a part of an engine goes in, and which entries tell of it. A position "" means all of the part, or that there
// is only one.
#pragma once

#include "build/limits.h"

#include <set>

namespace build {

// The step fits the part there. A step whose positions are all of the part's fits each its own.
bool fits_there(const Build& build, std::size_t step, std::string_view part, std::string_view position);

// The positions of its step (0 when it has none) at which the entry tells of the part there; none: it does not.
std::set<std::size_t> tells_of(const Build& build, EntryAt at, std::string_view part, std::string_view position);

// "Cylinder 2", "Crankshaft".
std::string part_text(const Build& build, std::string_view part, std::string_view position);

} // namespace build

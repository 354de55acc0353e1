// Readings of one set that lie far from the others: a digit misread or typed wrong shows there, also where no limit
// judges. Advice only, never part of an event.
#pragma once

#include "build/state.h"

namespace build {

// Of the cells named, those farther from the median of all filled cells than 8 times the median distance from it, or 8
// times their own U, whichever is more; nothing below 4 cells (common practice, no source).
std::vector<std::size_t> far_from_neighbours(const std::vector<Cell>& cells, const std::vector<std::size_t>& named);

} // namespace build

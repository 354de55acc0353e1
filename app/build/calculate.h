// Calculated entries: the inputs gathered from readings, limits and options, the computation called, its results
// judged.
#pragma once

#include "build/limits.h"

namespace build {

struct Computed {
  json::Value results; // as in an event; null when an input is still missing or the computation refuses
  std::vector<std::string> notes;
  Standing standing = Standing::empty;
  std::string refusal; // why the computation refuses the readings, or ""
};

// As the computation reads them; null while one is missing. `position` as below.
json::Value inputs_of(const Build& build, EntryAt at, std::size_t position);

// `position`: index of the step's position, 0 when the entry is calculated once.
Computed calculate(const Build& build, EntryAt at, std::size_t position);

} // namespace build

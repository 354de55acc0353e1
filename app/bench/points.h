// The points of a reading or a set of readings as they are held, a line a position; beside them, in words, what they
// were before the engine was taken apart.
#pragma once

#include "build/state.h"

#include <optional>

namespace bench {

bool needs_word(build::Standing standing); // its verdict stands beside the value

// "3   front 47.970 47.971   rear 47.971 47.972"; with `found` "3   82.062 as found, now 82.504", and where a position
// has several points a line "as found" above the line "now". `found` may be empty; `cursor`: the point at work.
void points_held(const build::Build& build, build::EntryAt at, const std::vector<build::Cell>& now,
                 const std::vector<build::Cell>& found, std::optional<std::size_t> cursor);

} // namespace bench

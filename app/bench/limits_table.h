// Every limit of the procedure as it stands for the engine of a build: numbers, column in force, rule, source, where it
// is used, and how what was read so far stands against it.
#pragma once

#include "bench/shop_state.h"
#include "build/limits.h"

namespace bench {

std::vector<LimitLine> limits_of(const build::Build& build); // in the procedure's order

} // namespace bench

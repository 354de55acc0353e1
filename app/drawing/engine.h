// The engine as it grows: an upright outline cut into one band a section, the first at the bottom. A closed section's
// band is solid and carries the painted stripe, the one at work has a heavy edge, the others are faint.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

namespace drawing {

enum class Band { not_yet, at_work, closed, not_on_this_engine };

// How a section stands: closed when every step on this engine is signed, at work when something in it is recorded or
// signed, or it is the first that is open.
std::vector<Band> bands(const build::Build& build);

// 100 units wide, 200 high.
Figure engine(const std::vector<Band>& bands);

} // namespace drawing

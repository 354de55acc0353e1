// A torque wrench with an adapter between its square drive and the fastener, and how the two lengths and the angle are
// measured.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

namespace drawing {

// The adapter to its measures, in mm and degrees. `measured`: with the numbers; else only L, E and the angle.
Figure lever(const build::Lever& lever, Room room, bool measured = true);

} // namespace drawing

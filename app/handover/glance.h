// Every clearance at a glance: each value as a mark between its limits, its uncertainty as a bar, so that a reader sees
// where this engine is tight and where it is loose. One line a limit, in two columns; the limits of all lines of a
// column stand below one another.
#pragma once

#include "handover/flow.h"

namespace handover {

void glance(Flow& flow, const Content& content);

// Where a value stands on a line that runs from 0 at the low limit to 1 at the high one. With one limit only: what is
// up to a limit runs from 0 (or the lowest value), what is from a limit on to twice its distance to the largest value.
double place_on(const Scale& scale, double value);

} // namespace handover

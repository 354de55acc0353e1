// The figure that belongs to an entry: where to measure while points are missing, then what the points say; torques as
// a series, a face with its lines or heights, a seal by its depths, a crown with its ring gaps, a stack of shims.
#pragma once

#include "build/limits.h"
#include "drawing/between.h"

#include <optional>

namespace bench {

struct Pictured {
  drawing::Figure figure;
  float share = 0; // of the width, beside the points
};

// `cell`: the point asked for, when the work is here. Nothing for an entry without a figure.
struct FigureRoom {
  double width = 0, height = 0, text = 0; // of the whole entry
};
std::optional<Pictured> pictured(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell,
                                 const FigureRoom& room);

// Of an entry without points of its own: the ring gaps to set, the shims worked out at a position.
std::optional<drawing::Figure> pictured_alone(const build::Build& build, build::EntryAt at, std::size_t position,
                                              const FigureRoom& room);

// A value (in the entry's unit) for a point against the limits that judge it, beside what it was as found; nothing
// without limits.
std::optional<drawing::Between> between(const build::Build& build, build::EntryAt at, std::size_t cell,
                                        const build::Applied& by, const quantity::Exact& value,
                                        const quantity::Exact& u, build::Standing standing);

} // namespace bench

// Where the diameters of a bore or a journal are taken: its planes along the axis, its directions in the end view, and
// the one that is asked for now.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct Direction {
  std::string name;
  double angle = 0; // degrees, anticlockwise from across the page
};

struct Diameters {
  bool hole = false;               // a bore; else a journal
  std::vector<std::string> planes; // along the axis; at least one
  std::vector<Direction> directions;
  std::optional<std::size_t> plane, direction; // asked for now
};

// Of readings that some computation takes as diameters; nothing for any other entry. `cell`: the one asked for now.
std::optional<Diameters> diameters(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell);

// A direction's angle from its name: "30 degrees left" of square, "across" and "square to ..." 90, else spread evenly.
std::vector<Direction> directions_of(const std::vector<std::string>& names);

Figure places(const Diameters& diameters, Room room);

} // namespace drawing

// A joint face and the lines along which a straightedge is laid on it, each with its gap once measured, and the one
// asked for now.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct FaceLine {
  std::string name;
  Point from, to;      // on a face 1 wide and 1 high, y downwards: left and front are low
  std::string text;    // the gap as it is written; "" not measured yet
  std::string trouble; // "outside", ...; "" nothing
};

struct Face {
  std::vector<FaceLine> lines;
  std::optional<std::size_t> asked;
  std::optional<std::size_t> worst; // the largest gap, once two are measured
};

// Of readings whose rows name edges and diagonals of a face; nothing for any other entry. `position` counts from 0.
std::optional<Face> face(const build::Build& build, build::EntryAt at, std::size_t position,
                         std::optional<std::size_t> cell);

Figure lines_on(const Face& face, Room room);

} // namespace drawing

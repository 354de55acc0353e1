// Heights taken at points of a face: where each point lies, then how far each stands above the lower of the two nearest
// parallel planes that hold all of them (the minimum zone), hatched the denser the higher. Only the points are
// measured; the hatching between them is drawn in.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct HeightAt {
  std::string name;
  Point at;          // mm, y upwards
  bool read = false; // measured
  double above = 0;  // the lower plane; of a whole map
  std::string text;  // the same as it is written
};

struct Heights {
  std::vector<HeightAt> points;
  std::string unit;
  std::optional<std::size_t> asked;
  // once all are measured
  double zone = 0;                      // from plane to plane
  std::string words;                    // "Flat within 0.042 mm"
  std::optional<std::size_t> high, low; // of the first that touch the planes
};

// Of readings with places from which `flatness` is worked out; nothing for any other entry. `position` counts from 0.
std::optional<Heights> heights(const build::Build& build, build::EntryAt at, std::size_t position,
                               std::optional<std::size_t> cell);

// The points made a whole map: `heights`, one a point, in the unit; written with so many decimal places. False when
// they lie in one line.
bool map_of(Heights& heights, const std::vector<quantity::Exact>& measured, int places);

// As high as the face needs, the room at most.
Figure map(const Heights& heights, Room room);

} // namespace drawing

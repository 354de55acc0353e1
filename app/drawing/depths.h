// Depths taken round a bore into which a seal is pressed: each where it was taken, and the way the seal leans.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct Depth {
  std::string name;
  std::string text; // as it is written; "" not measured yet
  double value = 0;
};

struct Depths {
  std::vector<Depth> places; // equally spaced, the first at the top, clockwise
  std::string unit;
  std::optional<std::size_t> asked;
  std::optional<double> deepest; // degrees clockwise from the first place; only when all are measured and it leans
  std::string lean;              // "leans by 0.12 mm" (deepest - shallowest of the plane through them)
};

// Of readings from which `seal-squareness` is worked out; nothing for any other entry.
std::optional<Depths> depths(const build::Build& build, build::EntryAt at, std::optional<std::size_t> cell);

Figure depths_round(const Depths& depths, Room room);

} // namespace drawing

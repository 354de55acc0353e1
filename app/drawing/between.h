// A value between its limits: the band that is good, the value as an upright mark with its uncertainty as a bar across
// it, what it was as found as an open mark, and the ends written as the trade does.
#pragma once

#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct Between {
  std::optional<double> low, high; // one of them at least
  std::string low_text, high_text;
  std::optional<double> value;
  double u = 0; // expanded uncertainty
  std::optional<double> as_found;
  bool good = true; // what the gate said; a value that is not is drawn heavy
};

// Where a value stands along the figure, from 0 (left edge) to 1; past the ends it stays at the edge. With both limits
// the band takes the middle half; with one it reaches to the edge.
double along(const Between& between, double value);

Figure band(const Between& between, Room room);

} // namespace drawing

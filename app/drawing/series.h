// Torque to turn the crank, read after each cap went on: one bar a cap in the order they were tightened, the limit as a
// line across, and the cap after which it suddenly turned harder named in words.
#pragma once

#include "build/tightening.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct Bar {
  std::string name;
  std::string text; // the value as it is written
  double value = 0;
  std::string trouble; // "outside", ...; "" nothing
};

struct Series {
  std::string unit;
  std::vector<Bar> bars;
  std::optional<double> low, high; // what is good
  std::string limit;               // the same in words
  std::optional<std::size_t> jump; // the bar that is too much higher than the one before
  std::string jump_words;
};

// Of readings of a torque at several places that are recorded as far as two at least; nothing for any other entry. The
// order is that in which the fasteners of the step come to the positions, else that of the positions.
std::optional<Series> series(const build::Build& build, build::EntryAt at);

Figure bars(const Series& series, Room room);

} // namespace drawing

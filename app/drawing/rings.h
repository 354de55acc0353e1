// The crown of a piston from above with the gap of each ring: the mark on the crown at the top, the gudgeon pin as a
// dashed line, the thrust side as a heavy edge, the rings one inside the other, the first outermost. Where the gaps are
// read as well, what was found stands beside what is wanted, and what is wrong in words.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct Ring {
  std::string number; // of the groove; the parts of one oil ring with a letter: "3a"
  std::string title;
  int groove = 1;
  double angle = 0; // wanted: degrees clockwise from the mark
  std::optional<double> found;
  std::string found_text; // as it was typed
};

struct Crown {
  std::string mark;
  double pin = 0;
  double thrust = 0;
  std::string thrust_side;
  std::vector<Ring> rings;
  std::optional<std::size_t> asked; // the ring whose gap is read now
};

// Of an entry that tells where the gaps go; nothing for any other. `position` counts from 0.
std::optional<Crown> crown(const build::Build& build, build::EntryAt at, std::size_t position,
                           std::optional<std::size_t> cell);

// What is wrong with the gaps as found: "Top ring is 70 degrees off its place.", "Top ring and Second ring stand in
// line."; empty when nothing is, or nothing was read.
std::vector<std::string> troubles(const Crown& crown);

Figure gaps_on(const Crown& crown, Room room);

} // namespace drawing

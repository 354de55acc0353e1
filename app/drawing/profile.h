// The profile of a bore or journal: every diameter, direction by direction, plane under plane, with the limits as
// upright lines, so that taper, a ridge and out-of-round are seen at a glance. The width is magnified, the height is
// not to scale.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct Profile {
  std::vector<std::string> planes; // from the top
  struct Side {
    std::string name;
    std::vector<std::optional<double>> values; // one a plane
    std::vector<std::string> texts;
  };
  std::vector<Side> sides; // directions; at least one
  std::optional<double> low, high;
  std::string limit;  // in words
  std::string spread; // "0.003 mm from smallest to largest", as the width is magnified
};

// Of readings that some computation takes as diameters, in two planes at least and measured in two of them; nothing for
// any other entry. `position` counts from 0.
std::optional<Profile> profile(const build::Build& build, build::EntryAt at, std::size_t position);

Figure profile_of(const Profile& profile, Room room);

} // namespace drawing

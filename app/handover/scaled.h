// Photographs made small enough to travel inside a handover, or to be shown. gdk-pixbuf reads and writes them.
#pragma once

#include "quantity/result.h"

#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace handover {

using quantity::Error;
using quantity::Result;

constexpr int longest_side = 1600; // pixels

// A JPEG of the picture, upright, its longer side at most `longest_side`; never larger than it was. Of one that is cut
// off, what is there. Code "no-photograph" when it is no picture.
Result<std::string> scaled_down(std::string_view photograph);

struct Pixels {
  int width = 0;
  int height = 0;
  std::vector<std::uint8_t> bytes; // red, green, blue, opacity; rows from the top
};

// The picture to look at, upright, its longer side at most `longest` pixels. Errors as above.
Result<Pixels> pixels_of(std::string_view photograph, int longest);

} // namespace handover

// Photographs made small enough to travel inside a handover. gdk-pixbuf reads and writes them.
#pragma once

#include "quantity/result.h"

#include <string>
#include <string_view>

namespace handover {

using quantity::Error;
using quantity::Result;

constexpr int longest_side = 1600; // pixels

// A JPEG of the picture, upright, its longer side at most `longest_side`; never larger than it was. Of one that is cut
// off, what is there. Code "no-photograph" when it is no picture.
Result<std::string> scaled_down(std::string_view photograph);

} // namespace handover

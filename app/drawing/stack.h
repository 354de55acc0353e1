// A stack that a shim brings to its height: what lies in it from the bottom up with each thickness, the sum, the height
// wanted with what it gives, and what is missing or too much. Not to scale: a shim of 0.05 mm under a flange of 10 mm
// would not be seen.
#pragma once

#include "build/state.h"
#include "drawing/figure.h"

#include <optional>

namespace drawing {

struct Layer {
  std::string name;
  std::string text; // thickness as it is written, with its unit
};

struct Stack {
  std::vector<Layer> layers; // from the bottom
  std::string sum;           // "together 1.35 mm: 108 bar"
  std::string wanted;        // "wanted 1.42 mm: 115 bar"
  std::string limits;        // "good: 112 to 120 bar"; ""
  double lack = 0;           // of the wanted height; below 0 it is too high
  std::string lack_words;    // "0.07 mm missing", "0.04 mm too much", "as wanted"
  std::string then;          // "Take 1.40 mm: 113 bar", "None of the sizes there are fits"; ""
};

// Of an entry that `shim-selection`, `lash-shim`, `thrust-selection`, `installed-height` or `liner-height` (of one
// liner) works out, once it is; nothing for any other.
std::optional<Stack> stack(const build::Build& build, build::EntryAt at, std::size_t position);

Figure layers(const Stack& stack, Room room);

} // namespace drawing

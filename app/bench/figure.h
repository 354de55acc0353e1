// Figures on the screen.
#pragma once

#include "drawing/figure.h"

#include <imgui.h>

namespace bench {

// Its upper left corner at `at`, one unit so many pixels.
void draw(const drawing::Figure& figure, ImVec2 at, float scale);

// Where the next widget would stand, a unit a pixel; takes up its room.
void show(const drawing::Figure& figure);

} // namespace bench

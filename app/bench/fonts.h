// The fonts of the screens: DejaVu Sans from Debian's package, found by fontconfig, in the few sizes that are used.
#pragma once

#include <string>

struct ImFont;

namespace bench {

struct Fonts {
  ImFont* text = nullptr;   // what is read at arm's length
  ImFont* strong = nullptr; // the same, bold
  ImFont* large = nullptr;  // numbers and titles, read at two metres
  ImFont* huge = nullptr;   // engine and serial
  ImFont* giant = nullptr;  // what a wrench is set to; ASCII only
  float scale = 1;          // they were loaded at
};

// Loads into the current ImGui context; `scale` 1 is 20 pixels for text. Empty when the font is there, else what is
// missing, in a sentence, and those there are stay. Between frames; the context owns the fonts, and whoever holds a
// texture of their letters makes it again.
std::string load_fonts(float scale);
const Fonts& fonts();

// Every code point the screens can show has a glyph in this font.
bool has_glyph(unsigned code_point);

} // namespace bench

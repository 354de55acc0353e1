// The fonts of the screens: DejaVu Sans from Debian's package, in the few sizes that are used. Letters take long to be
// drawn into their texture: the usual ones are there from the beginning, another once a text had it.
#pragma once

#include <string>
#include <string_view>

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

// Each text that is drawn goes through here. Where it has letters that are not loaded, they are lacking: the frame that
// shows it is no use, and is drawn anew with the fonts loaded again.
void ask_for_letters(std::string_view text);
bool letters_lacking();

// One that the screens' own words have.
bool is_usual(unsigned code_point);
// Is it loaded, in all sizes but the giant one?
bool has_glyph(unsigned code_point);

} // namespace bench

// How the window looks to the person at the bench: theme, size of the text, lengths in mm or inches. Theirs alone: it
// is kept beside their other settings, not in the shop file, and changes nothing that is recorded.
#pragma once

#include "bench/theme.h"
#include "quantity/result.h"

#include <array>
#include <functional>
#include <string>

namespace bench {

constexpr std::array text_sizes = {100, 125, 150, 200}; // per cent of what the display asks for

struct Look {
  std::string_view theme = themes().front().name;
  int text = text_sizes.front();
  bool inches = false;

  bool operator==(const Look&) const = default;
};

// {"text":125,"theme":"dark","units":"inch"}; a member left out is as in Look(), one that is not known is passed over.
// Code "bad-look".
quantity::Result<Look> read_look(std::string_view json);
std::string written(const Look& look); // one line

// What the fonts are loaded at: the display's scale times the size of the text, as far as the window (pixels) has room
// for it and OpenGL for the letters; 1 at the least.
float scale_for(const Look& look, float display, float width, float height);

// Puts it on, between frames. True when the fonts were loaded anew: the texture of their letters must be made again.
bool put_on(const Look& look, float scale);

// What the screen "look" works on.
struct Mirror {
  Look now;            // on the screen
  Look kept;           // what is written down; a session may have begun with something else
  float display = 1;   // scale that the display asks for
  std::string trouble; // why it is not kept, or what was wrong with what was
  std::string place;   // where it is kept, "" nowhere
  std::string back;    // the screen it was called from
  std::function<quantity::Result<void>(const Look&)> keep; // none: it is not kept
};

} // namespace bench

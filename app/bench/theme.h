// The look of the sheet: paper, ink and one paint, in three themes. Nothing is told by colour alone: every state has
// its words. Screens and figures take every colour from here. Each theme keeps to the contrasts of WCAG 2.1 (W3C),
// success criteria 1.4.3, 1.4.6 and 1.4.11: text 4.5 to 1 on what it stands on, in high contrast 7 to 1; the paint and
// what frames something 3 to 1.
#pragma once

#include <imgui.h>

#include "drawing/figure.h"

#include <span>
#include <string_view>

namespace bench {

struct Theme {
  std::string_view name;  // as it is kept and given on the command line
  std::string_view title; // as a person reads it
  ImU32 bench;            // the table the sheet lies on
  ImU32 on_bench;         // what is written on the table itself
  ImU32 paper;
  ImU32 ink;
  ImU32 soft_ink; // what is secondary
  ImU32 faint;    // rules, what is not there yet; never text
  ImU32 metal;
  ImU32 paint; // the witness mark
  ImU32 field; // where something is typed
  ImU32 shout; // what blocks: always with words
  float line;  // how thick rules and frames are; 1 is usual
};

std::span<const Theme> themes(); // the first is the usual one
const Theme* find_theme(std::string_view name);
void use_theme(const Theme& one); // one of themes(); apply_style() goes after it
const Theme& theme();             // in use
ImU32 colour(drawing::Tone tone);
void apply_style(float scale); // to the current context, between frames

} // namespace bench

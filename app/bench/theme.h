// The look of the sheet: paper, ink and one paint. Nothing is told by colour alone: every state has its words.
#pragma once

#include <imgui.h>

#include "drawing/figure.h"

namespace bench {

struct Theme {
  ImU32 bench; // the table the sheet lies on
  ImU32 paper;
  ImU32 ink;
  ImU32 soft_ink; // what is secondary
  ImU32 faint;    // rules, what is not there yet
  ImU32 metal;
  ImU32 paint; // the witness mark
  ImU32 field; // where something is typed
  ImU32 shout; // what blocks: always with words
};

const Theme& theme();
ImU32 colour(drawing::Tone tone);
void apply_style(float scale); // once a context

} // namespace bench

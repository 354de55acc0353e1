#include "bench/gear_train.h"

#include "bench/figure.h"
#include "drawing/train.h"

#include <imgui.h>

#include <algorithm>

namespace bench {

bool has_gear_train(const build::Build& build, std::size_t step) {
  return build.plan->step(step).figure == "gear-train" && !build.plan->procedure().gear_train.empty();
}

void gear_train(Ui& ui, const build::Build& build) {
  auto train = drawing::train_of(build.plan->procedure());
  auto& hand = ui.sheet.hand_turned;
  const std::size_t gears = train.gears.size();
  const bool shift = pressed_with_shift(key::right) || pressed_with_shift(key::left);
  if (pressed_with_shift(key::right)) hand.out = (hand.out + 1) % gears;
  if (pressed_with_shift(key::left)) hand.out = (hand.out + gears - 1) % gears;
  if (!shift && pressed(key::right)) ++hand.teeth;
  if (!shift && pressed(key::left)) --hand.teeth;
  if (hand.out > 0) train.gears[hand.out].off = 1;
  const double wide = std::min(ImGui::GetContentRegionAvail().x - px(30), px(560));
  const double tall = std::min(px(300), ImGui::GetWindowHeight() * 0.5f);
  show(drawing::gears(train, hand.teeth, {wide, tall, px(17)}));
  say(fonts().strong, theme().ink, drawing::words_of(train, hand.teeth));
  if (key_button("turn-back", "Turn back", "Left")) --hand.teeth;
  ImGui::SameLine();
  if (key_button("turn-on", "Turn on", "Right")) ++hand.teeth;
  ImGui::SameLine();
  if (key_button("tooth-out", "A tooth out", "Shift Right")) hand.out = (hand.out + 1) % gears;
}

} // namespace bench

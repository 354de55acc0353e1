#include "bench/ui.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

// The engines of the shop, one line each; Up and Down choose, Enter opens.
void builds_screen(Ui& ui) {
  const SheetScope sheet("##builds");
  const auto& shop = ui.desk.shop();
  say(fonts().huge, theme().ink, shop.name.empty() ? "Engines in this shop" : shop.name);
  if (shop.practice) say(fonts().strong, theme().shout, "PRACTICE, NOT A RECORD");
  if (ui.refused && !ui.message.empty()) say(fonts().strong, theme().shout, ui.message);
  const auto builds = ui.desk.builds();
  if (builds.empty()) {
    say("No engine has been opened in this shop yet. Open one from the command line:");
    say(fonts().strong, theme().ink, "witnessmark drive --shop FILE    {\"do\":\"open-build\", ...}");
    say("or look round the demo: demo/run.sh");
  }
  if (pressed(key::down)) ui.row = std::min(ui.row + 1, builds.empty() ? 0 : builds.size() - 1);
  if (pressed(key::up) && ui.row > 0) --ui.row;
  bool open = enter_pressed() && !builds.empty();
  for (std::size_t b = 0; b < builds.size(); ++b) {
    const IdScope scope(builds[b]);
    const auto& opened = shop.builds.at(builds[b]);
    rule();
    say(fonts().large, theme().ink, fmt::format("{}  {}", opened.model, opened.serial));
    say(fonts().text, theme().soft_ink,
        fmt::format("{}; {}", opened.customer, opened.released ? "released" : "being put together"));
    if (key_button("open", b == ui.row ? "Go on with this one" : "Go to this one", b == ui.row ? "Enter" : "")) {
      ui.row = b;
      open = true;
    }
  }
  if (!open || ui.row >= builds.size()) return;
  ui.desk.open(builds[ui.row]);
  ui.screen = "sheet";
  ui.sheet.focus = true;
  ui.again = true;
}

} // namespace bench

// The screen on which the person at the bench sets how the window looks: one key a choice, and it is so at once.
#include "bench/asking.h"

#include <imgui.h>

#include <fmt/format.h>

#include <cmath>

namespace bench {

namespace {

void choose(Ui& ui, const std::function<void(Look&)>& change) {
  Mirror& mirror = ui.look;
  change(mirror.now);
  change(mirror.kept); // what a session was begun with otherwise is not kept along with it
  ui.again = true;
  if (!mirror.keep) return;
  const auto kept = mirror.keep(mirror.kept);
  mirror.trouble = kept ? "" : kept.error().message;
}

struct Choice {
  KeyLabel label;
  bool holds = false;
  std::function<void(Look&)> change;
};

// The choices are numbered on from `first`.
int choices(Ui& ui, std::string_view title, int first, std::vector<Choice> list) {
  say(fonts().large, theme().ink, title);
  std::vector<KeyLabel> row;
  for (auto& one : list) {
    one.label.key = std::to_string(first++);
    if (one.holds) one.label.label += ": now";
    row.push_back(one.label);
  }
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const auto* clicked = key_row(row, room, fit_of(row, room));
  for (const auto& one : list)
    if (digit(one.label.key.front() - '0') || (clicked && clicked->id == one.label.id)) choose(ui, one.change);
  return first;
}

int theme_choices(Ui& ui, int first) {
  std::vector<Choice> list;
  for (const Theme& one : themes())
    list.push_back({{std::string(one.name), std::string(one.title), ""},
                    ui.look.now.theme == one.name,
                    [&one](Look& look) { look.theme = one.name; }});
  return choices(ui, "Paper and ink", first, std::move(list));
}

int size_choices(Ui& ui, int first) {
  std::vector<Choice> list;
  for (const int size : text_sizes)
    list.push_back({{fmt::format("text-{}", size), fmt::format("{} %", size), ""},
                    ui.look.now.text == size,
                    [size](Look& look) { look.text = size; }});
  const int next = choices(ui, "Size of the text", first, std::move(list));
  const ImVec2 window = ImGui::GetIO().DisplaySize;
  const float has = 100 * scale_for(ui.look.now, ui.look.display, window.x, window.y) / ui.look.display;
  if (std::lround(has) < ui.look.now.text)
    say(fonts().strong, theme().ink,
        fmt::format("There is no room for more than {} % here; a larger window shows more.", std::lround(has)));
  return next;
}

void unit_choices(Ui& ui, int first) {
  choices(ui, "Lengths", first,
          {{{"mm", "mm, as the procedure has them", ""}, !ui.look.now.inches, [](Look& look) { look.inches = false; }},
           {{"inch", "inches", ""}, ui.look.now.inches, [](Look& look) { look.inches = true; }}});
  say(fonts().text, theme().soft_ink,
      "In inches: what is in mm is shown in inches, rounded to 0.00001 in, and a number typed without its unit counts "
      "as "
      "inches. It is recorded as typed, and judged unrounded in the procedure's unit. Torques stay in the wrench's own "
      "unit. The log, the handover and what is said about a reading keep the unit of the record, and name it.");
}

// What two metres away must still tell apart.
void sample() {
  rule();
  say(fonts().large, theme().ink, "within: 48.012 mm");
  say(fonts().text, theme().ink, "what is read at arm's length");
  say(fonts().text, theme().soft_ink, "what is secondary");
  say(fonts().strong, theme().shout, "what is in the way, always in words");
  closed_line("signed", Mark::stripe);
  closed_line("away at the machine shop", Mark::hatching);
}

void where_kept(const Mirror& mirror) {
  if (!mirror.trouble.empty()) return say(fonts().strong, theme().shout, mirror.trouble);
  say(fonts().text, theme().soft_ink,
      mirror.place.empty() ? "It holds until the window is closed." : "Kept for you in " + mirror.place);
}

} // namespace

void look_screen(Ui& ui) {
  const SheetScope sheet("##look");
  scroll_by_keys();
  say(fonts().huge, theme().ink, "Look");
  say("How this window looks to you. Nothing that is recorded changes.");
  where_kept(ui.look);
  const int sizes = theme_choices(ui, 1);
  const int units = size_choices(ui, sizes);
  unit_choices(ui, units);
  if (key_button("back", "Back", "Escape") || pressed(key::escape)) ui.screen = ui.look.back;
  sample();
}

} // namespace bench

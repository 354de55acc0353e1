// "Work it out": every computation of the registry, to be found by typing a few letters. Needs no build and nobody
// signed in, changes nothing, and leads back to where one was.
#include "bench/ui.h"
#include "bench/work_words.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

constexpr std::size_t page = 6; // lines of the list

std::string_view name_of_screen(const std::string& screen) {
  struct Name {
    std::string_view screen, name;
  };
  constexpr Name names[] = {{"builds", "the builds"},     {"sheet", "the sheet"},
                            {"findings", "the findings"}, {"strip-down", "the strip-down"},
                            {"parts", "the parts"},       {"sizes", "the sizes"},
                            {"log", "the log"},           {"shop", "the shop"},
                            {"keys", "the keys"},         {"limits", "the limits"},
                            {"people", "the people"},     {"gauges", "the gauges"}};
  const auto found = std::ranges::find(names, screen, &Name::screen);
  return found == std::end(names) ? "where you were" : found->name;
}

// What was being typed there is still being typed.
void go_back(Ui& ui) {
  ui.screen = ui.work.back;
  ui.row = ui.work.back_row;
  ui.returned = true;
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.sign_in_focus = true;
  ui.again = true;
}

// One line of the list: title and purpose. True when clicked.
bool offer(const calc::Computation& computation, bool here) {
  const IdScope scope(computation.name);
  auto& shapes = *ImGui::GetWindowDrawList();
  shapes.ChannelsSplit(2);
  shapes.ChannelsSetCurrent(1);
  const ImVec2 low = ImGui::GetCursorScreenPos();
  const float room = ImGui::GetContentRegionAvail().x - px(8);
  ImGui::BeginGroup();
  say(fonts().strong, theme().ink, title_of(computation));
  const float column = px(330);
  if (room > 2 * column) ImGui::SameLine(column);
  say(fonts().text, here ? theme().ink : theme().soft_ink, std::string(computation.purpose));
  ImGui::EndGroup();
  const bool clicked = ImGui::IsItemClicked();
  if (here) {
    const ImVec2 high(low.x + room, ImGui::GetItemRectMax().y + px(4));
    shapes.ChannelsSetCurrent(0);
    shapes.AddRectFilled(ImVec2(low.x - px(8), low.y - px(4)), high, theme().metal);
    shapes.AddRectFilled(ImVec2(low.x - px(16), low.y - px(4)), ImVec2(low.x - px(8), high.y), theme().ink);
  }
  shapes.ChannelsMerge();
  return clicked;
}

void move_row(Ui& ui, std::size_t count) {
  WorkState& work = ui.work;
  const std::size_t before = work.row;
  const std::size_t last = count == 0 ? 0 : count - 1;
  if (pressed(key::down)) ++work.row;
  if (pressed(key::page_down)) work.row += page;
  if (pressed(key::up)) work.row -= std::min<std::size_t>(work.row, 1);
  if (pressed(key::page_up)) work.row -= std::min(work.row, page);
  work.row = std::min(work.row, last);
  if (work.row == before) return;
  work.scroll = true;
  ui.again = true;
}

const calc::Computation* list(Ui& ui, const std::vector<Offered>& offers) {
  const calc::Computation* clicked = nullptr;
  for (std::size_t i = 0; i < offers.size(); ++i) {
    if (!offers[i].heading.empty()) {
      gap(0.3f);
      rule();
      say(fonts().large, theme().ink, offers[i].heading);
    }
    const bool here = i == ui.work.row;
    if (offer(*offers[i].computation, here)) clicked = offers[i].computation;
    if (here && ui.work.scroll) ImGui::SetScrollHereY(0.5f);
  }
  ui.work.scroll = false;
  if (offers.empty())
    say(fmt::format("Nothing is called that. Try fewer letters, or another word for it; there are {} computations.",
                    calc::all_computations().size()));
  return clicked;
}

void work_list(Ui& ui) {
  const SheetScope sheet("##work");
  WorkState& work = ui.work;
  const std::vector<KeyLabel> keys = {{"open-work", "Open", "Enter"},
                                      {"back", fmt::format("Back to {}", name_of_screen(work.back)), "Esc"}};
  say(fonts().large, theme().ink, "What do you want to work out?");
  const std::string before = work.narrowed;
  text_line("narrowed", work.narrowed, fonts().large, std::min(px(460), ImGui::GetContentRegionAvail().x - px(24)),
            work.focus);
  work.focus = false;
  if (work.narrowed != before) {
    work.row = 0;
    work.scroll = true;
  }
  const std::vector<Offered> offers = offered(work.narrowed);
  say(fonts().text, theme().soft_ink,
      fmt::format("{} of {}; a few letters narrow them down, Up and Down choose", offers.size(),
                  calc::all_computations().size()));
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const Fit fit = fit_of(keys, room);
  const float foot = height_of(keys, room, fit) + px(6);
  ImGui::BeginChild("##offers", ImVec2(0, ImGui::GetContentRegionAvail().y - foot), false, ImGuiWindowFlags_NoNav);
  ImGui::Indent(px(18));
  const calc::Computation* opened = list(ui, offers);
  ImGui::EndChild();
  const KeyLabel* clicked = key_row(keys, room, fit);
  move_row(ui, offers.size());
  const bool open = enter_pressed() || (clicked && clicked->id == keys[0].id);
  if (open && !offers.empty()) opened = offers[std::min(work.row, offers.size() - 1)].computation;
  if (opened) return open_work(ui, *opened);
  if (open) work.focus = true; // Enter has taken the keys from the field
  if (pressed(key::escape) || (clicked && clicked->id == keys[1].id)) go_back(ui);
}

} // namespace

void open_work(Ui& ui, const calc::Computation& computation) {
  ui.work.open = computation.name;
  ui.work.focus = true;
  ui.work.scroll = true;
  ui.work.stale = true;
  ui.again = true;
}

void work_screen(Ui& ui) {
  const auto* open = calc::find_computation(ui.work.open);
  if (open)
    work_form(ui, *open);
  else
    work_list(ui);
}

} // namespace bench

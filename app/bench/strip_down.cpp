// The engine as it comes apart: every reading that the procedure asks for as found, in the order in which an engine is
// taken apart, with what is recorded and what is not yet. Nothing here holds anything up; what is found goes in with
// Shift F8, in its place among the readings.
#include "bench/asking.h"
#include "bench/limit_words.h"
#include "bench/photographs.h"
#include "bench/points.h"

#include "build/limits.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f8 = key::f1 + 7;
constexpr int f10 = key::f1 + 9;

using build::EntryAt;

// What goes in last comes out first.
std::vector<EntryAt> in_order(const build::Build& build) {
  std::vector<EntryAt> out;
  for (std::size_t s = build.plan->size(); s-- > 0;)
    for (std::size_t e = build.plan->step(s).entries.size(); e-- > 0;) {
      const EntryAt at{s, e};
      const bool on = build::step_on(build, s) != build::Holds::no && build::entry_on(build, at) != build::Holds::no;
      if (build.plan->entry(at).as_found && on) out.push_back(at);
    }
  return out;
}

std::size_t points_of(const build::Build& build, EntryAt at) {
  return build.entry(at).cells.size();
}

std::size_t taken(const build::Build& build, EntryAt at) {
  return static_cast<std::size_t>(
      std::ranges::count_if(build.entry(at).as_found, [](const auto& cell) { return cell.filled(); }));
}

// A step that is signed, or half signed, takes no more readings.
bool is_shut(const build::Build& build, EntryAt at) {
  return build.released() || !build.step(at.step).signatures.empty();
}

bool lacks_points(const build::Build& build, EntryAt at) {
  return taken(build, at) < points_of(build, at) && !is_shut(build, at);
}

EntryAt at_work(const Ui& ui) {
  return {ui.sheet.step, ui.sheet.entry};
}

void go_to(Ui& ui, EntryAt at) {
  const auto& cells = ui.desk.build()->entry(at).as_found;
  const auto empty = std::ranges::find_if(cells, [](const auto& cell) { return !cell.filled(); });
  ui.sheet.step = at.step;
  ui.sheet.entry = at.entry;
  ui.sheet.cell = empty == cells.end() ? 0 : static_cast<std::size_t>(empty - cells.begin());
  ui.sheet.typed.clear();
  ui.sheet.not_taken.clear();
  ui.sheet.held = false;
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.again = true;
}

// The first from there on that lacks something, round to the beginning; there when none does.
EntryAt first_lacking(const build::Build& build, const std::vector<EntryAt>& order, std::size_t from) {
  for (std::size_t i = 0; i < order.size(); ++i) {
    const EntryAt at = order[(from + i) % order.size()];
    if (lacks_points(build, at)) return at;
  }
  return order[from];
}

void begin(Ui& ui, const build::Build& build, const std::vector<EntryAt>& order) {
  leave(ui);
  if (ui.sheet.build != build.id) ui.sheet = SheetState();
  ui.sheet.build = build.id;
  ui.sheet.as_found = true;
  go_to(ui, first_lacking(build, order, 0));
}

void move(Ui& ui, const std::vector<EntryAt>& order) {
  const auto here = std::ranges::find(order, at_work(ui));
  if (here == order.end()) return go_to(ui, order.front());
  auto to = here;
  if (pressed(key::down) && to + 1 != order.end()) ++to;
  if (pressed(key::up) && to != order.begin()) --to;
  if (pressed(key::page_down)) // to the next step
    to = std::find_if(here, order.end(), [&](const auto& at) { return at.step != here->step; });
  if (pressed(key::page_up)) {
    const auto before = std::find_if(std::make_reverse_iterator(here), order.rend(),
                                     [&](const auto& at) { return at.step != here->step; });
    if (before != order.rend()) to = std::ranges::find(order, before->step, &EntryAt::step);
  }
  if (to == here || to == order.end()) return;
  ui.message.clear();
  go_to(ui, *to);
}

std::string standing_of(const build::Build& build, EntryAt at) {
  const std::size_t has = taken(build, at);
  const std::size_t all = points_of(build, at);
  if (has == all) return "as found: recorded";
  if (is_shut(build, at)) return "as found: not recorded; its step is signed";
  if (has == 0) return "as found: not recorded yet";
  return fmt::format("as found: {} of {} points recorded", has, all);
}

void message(const Ui& ui) {
  if (!ui.message.empty() && (ui.refused || ui.sheet.typed.empty()))
    say(fonts().large, ui.refused ? theme().shout : theme().ink, ui.message);
}

void keys(Ui& ui, EntryAt at) {
  const KeyLabel row[] = {{"found", "Something was found", "Shift F8"}, {"attach", "Photograph", "Shift F5"}};
  const auto* clicked = key_row(row, ImGui::GetContentRegionAvail().x - px(24), Fit::wide);
  photographs_beside(ui, *ui.desk.build(), at, true);
  if (ui.sent) return;
  if (pressed_with_shift(f8) || (clicked && clicked->id == "found")) return ask(ui, Asking::found_part);
  if (pressed_with_shift(f5) || (clicked && clicked->id == "attach")) return ask_photograph(ui, false);
  if (pressed(f10)) ask(ui, Asking::new_gauge);
}

// The field, or what has to be done first.
void input(Ui& ui, const build::Build& build, EntryAt at) {
  if (is_shut(build, at)) return;
  if (!notices_unread(ui, build)) return as_found_input(ui, build, at);
  for (const auto& caution : build.plan->step(at.step).cautions) caution_box(caution);
  if (key_button("read", "I have read these notices", "F5") || pressed(f5)) ui.send(build_action(ui, "acknowledge"));
}

void work(Ui& ui, const build::Build& build, EntryAt at) {
  if (!ui.desk.signed_in()) {
    if (!build.released()) sign_in(ui);
    return message(ui);
  }
  if (ui.sheet.asking != Asking::nothing) return questions(ui, build);
  input(ui, build, at);
  message(ui);
  if (!ui.sent && !build.released()) keys(ui, at);
}

void entry_block(Ui& ui, const build::Build& build, EntryAt at, bool first) {
  const auto& entry = build.plan->entry(at);
  const IdScope scope(fmt::format("{}/{}", at.step, entry.id));
  const bool here = at == at_work(ui);
  gap(0.3f);
  const ImVec2 top = ImGui::GetCursorScreenPos();
  say(here ? fonts().large : fonts().strong, theme().ink, entry.title);
  const auto place = ui.sheet.cell / procedure::cells_of(build.plan->step(at.step), entry).per_position();
  const std::string limit = limit_words(build, at, here ? std::optional(place) : std::nullopt);
  if (!limit.empty()) say_beside(fonts().text, theme().soft_ink, "   " + limit);
  say(fonts().strong, lacks_points(build, at) ? theme().ink : theme().soft_ink, standing_of(build, at));
  if (here && !entry.text.empty()) say(fonts().text, theme().soft_ink, entry.text);
  if (!entry.columns.empty())
    say(fonts().text, theme().soft_ink, fmt::format("at each place: {}", fmt::join(entry.columns, ", ")));
  if (here || taken(build, at) > 0) {
    const auto cells = cells_at_work(ui, build, at);
    points_held(build, at, cells, {}, here ? std::optional(ui.sheet.cell) : std::nullopt);
  }
  if (!here) return;
  work(ui, build, at);
  const ImVec2 end = ImGui::GetCursorScreenPos();
  ImGui::GetWindowDrawList()->AddRectFilled(ImVec2(top.x - px(14), top.y), ImVec2(top.x - px(7), end.y), theme().ink);
  if (!ui.sheet.scroll || ui.sheet.asking != Asking::nothing) return;
  ui.sheet.scroll = false;
  const float window = ImGui::GetWindowPos().y;
  const bool all_in_sight = end.y - window + ImGui::GetScrollY() <= ImGui::GetWindowHeight();
  if (first && all_in_sight)
    ImGui::SetScrollY(0);
  else
    ImGui::SetScrollFromPosY(top.y - window, 0.12f);
}

void heading(const Ui& ui, const build::Build& build, const std::vector<EntryAt>& order) {
  say(fonts().huge, theme().ink, fmt::format("{}  {}", build.model, build.serial));
  const auto lacking =
      std::ranges::count_if(order, [&](const auto& at) { return taken(build, at) < points_of(build, at); });
  say(fonts().strong, theme().ink,
      order.empty() ? "This procedure asks for nothing to be measured before the engine is apart."
                    : fmt::format("As it comes apart: {} of {} readings recorded as found",
                                  order.size() - static_cast<std::size_t>(lacking), order.size()));
  if (build.practice || ui.desk.shop().practice) say(fonts().strong, theme().shout, "PRACTICE, NOT A RECORD");
  say(fonts().text, theme().soft_ink,
      "In the order in which an engine is taken apart. None of it holds anything up; what is typed over a reading "
      "takes "
      "its place, and the log keeps both.");
}

} // namespace

void move_as_found(Ui& ui) {
  const auto& build = *ui.desk.build();
  const auto order = in_order(build);
  const auto here = std::ranges::find(order, at_work(ui));
  if (here == order.end()) return;
  ui.sheet.focus = true;
  ui.again = true;
  if (lacks_points(build, *here)) {
    const auto& cells = build.entry(*here).as_found;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      const std::size_t cell = (ui.sheet.cell + i) % cells.size();
      if (cells[cell].filled()) continue;
      ui.sheet.cell = cell;
      return;
    }
  }
  const EntryAt to = first_lacking(build, order, static_cast<std::size_t>(here - order.begin()));
  if (to != *here) go_to(ui, to);
}

void strip_down_screen(Ui& ui) {
  const SheetScope sheet("##strip-down");
  const auto& build = *ui.desk.build();
  const auto order = in_order(build);
  heading(ui, build, order);
  if (order.empty()) return;
  if (!ui.sheet.as_found || ui.sheet.build != build.id) begin(ui, build, order);
  if (screen_of(ui.sheet.asking) != "sheet") leave(ui);
  if (ui.sheet.asking == Asking::nothing) move(ui, order);
  std::size_t step = build.plan->size();
  for (const auto& at : order) {
    if (at.step != step) {
      rule();
      say(fonts().large, theme().soft_ink, build.plan->step(at.step).title);
      step = at.step;
    }
    entry_block(ui, build, at, &at == &order.front());
  }
  // Room enough beneath the last one to bring it up to where it can be worked on.
  ImGui::Dummy(ImVec2(0, ImGui::GetWindowHeight() * 0.4f));
}

} // namespace bench

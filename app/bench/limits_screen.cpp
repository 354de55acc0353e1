// The table of limits. Letters narrow it down, Up and Down choose a line, Enter goes to where it is used.
#include "bench/limit_form.h"
#include "bench/limits_table.h"
#include "bench/ui.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace bench {

namespace {

void narrow(LimitsState& its) {
  its.shown.clear();
  for (std::size_t i = 0; i < its.all.size(); ++i) {
    const auto& one = its.all[i];
    const auto text =
        fmt::format("{} {} {} {} {}", one.title, one.column, one.rule, one.stands, fmt::join(one.where, " "));
    if (narrows(its.narrowed, text)) its.shown.push_back(i);
  }
}

// Once for each change of the build.
void work_out(Ui& ui, const build::Build& build) {
  LimitsState& its = ui.limits;
  const std::string of =
      fmt::format("{} {} {} {}", ui.desk.shop_file().string(), build.id, build.seq, ui.look.now.inches);
  if (its.of == of) return;
  its.of = of;
  its.all = limits_of(build);
  narrow(its);
}

// What the sheet lacks is what one comes for.
void choose_what_is_lacking(LimitsState& its) {
  if (its.about.empty()) return;
  its.narrowed.clear();
  narrow(its);
  const auto found = std::ranges::find(its.all, std::exchange(its.about, ""), &LimitLine::id);
  if (found != its.all.end()) its.lines.begin_anew(static_cast<std::size_t>(found - its.all.begin()));
}

void one_line(const LimitLine& line, bool here, std::size_t use) {
  say(fonts().large, theme().ink, line.title + "   " + line.values);
  std::string column = line.column;
  if (!line.other.empty()) column += fmt::format("{}{}", column.empty() ? "" : "; ", line.other);
  if (!column.empty()) say(column);
  say(line.outside ? fonts().strong : fonts().text, line.outside ? theme().shout : theme().ink, line.stands);
  say(fonts().text, theme().soft_ink, line.rule);
  for (std::size_t i = 0; here && i < line.where.size(); ++i)
    say(i == use ? fonts().strong : fonts().text, i == use ? theme().ink : theme().soft_ink,
        (i == use ? "> " : "   ") + line.where[i]);
}

void go_to(Ui& ui, const build::Build& build, build::EntryAt at) {
  ui.sheet = SheetState();
  ui.sheet.build = build.id;
  ui.sheet.step = at.step;
  ui.sheet.entry = at.entry;
  ui.message.clear();
  ui.screen = "sheet";
  ui.again = true;
}

void keys(Ui& ui, const build::Build& build, const LimitLine* line, const std::vector<KeyLabel>& row, Fit fit,
          float room) {
  const KeyLabel* clicked = row.empty() ? nullptr : key_row(row, room, fit);
  if (!line) return;
  LimitsState& its = ui.limits;
  const auto struck = [&](const char* id, bool key) { return key || (clicked && clicked->id == id); };
  if (line->is_empty && struck("fill", pressed(key::insert))) return ask_for_limit(ui, *line);
  if (line->uses.empty()) return;
  if (struck("to-sheet", enter_pressed())) return go_to(ui, build, line->uses[its.use]);
  if (line->uses.size() < 2 || !struck("next-use", pressed(key::tab))) return;
  its.use = (its.use + 1) % line->uses.size();
  its.focus = ui.again = true;
}

} // namespace

void limits_entered(Ui& ui, bool from_sheet) {
  ui.limits.fresh = NewLimit();
  ui.limits.about.clear();
  const auto* build = ui.desk.build();
  if (!build || !from_sheet) return;
  for (const auto& limit : build->plan->procedure().limits) {
    if (!build->limit(limit.id)->values.empty() || !limit.cases.empty()) continue;
    const auto uses = build->plan->entries_of_limit(limit.id);
    if (std::ranges::find(uses, build::EntryAt{ui.sheet.step, ui.sheet.entry}) != uses.end())
      ui.limits.about = limit.id;
  }
}

void limits_screen(Ui& ui) {
  const SheetScope sheet("##limits");
  const auto& build = *ui.desk.build();
  LimitsState& its = ui.limits;
  work_out(ui, build);
  choose_what_is_lacking(its);
  screen_head(fmt::format("{}  {}", build.model, build.serial), build.practice || ui.desk.shop().practice);
  if (!its.fresh.limit.empty()) return limit_form(ui);
  message_line(ui);
  if (narrowing_field(
          "limits", its.narrowed, its.focus,
          fmt::format("{} of {} limits; {}", its.shown.size(), its.all.size(), build.plan->procedure().notice))) {
    narrow(its);
    its.lines.begin_anew();
    its.use = 0;
    ui.again = true;
  }
  if (its.shown.empty()) say("No limit is called that; try fewer letters.");
  if (its.lines.move(its.shown.size())) {
    its.use = 0;
    ui.again = true;
  }
  const LimitLine* line =
      its.shown.empty() ? nullptr : &its.all[its.shown[std::min(its.lines.chosen, its.shown.size() - 1)]];
  if (line && its.use >= line->uses.size()) its.use = 0;
  std::vector<KeyLabel> row;
  if (line && !line->uses.empty()) row.push_back({"to-sheet", "To where it is used", "Enter"});
  if (line && line->is_empty) row.insert(row.begin(), {"fill", "Fill it in", "Insert"});
  if (line && line->uses.size() > 1) row.push_back({"next-use", "The next place", "Tab"});
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const Fit fit = fit_of(row, room);
  const auto clicked =
      its.lines.show(its.shown.size(), height_of(row, room, fit) + px(6),
                     [&](std::size_t i, bool here) { one_line(its.all[its.shown[i]], here, its.use); });
  if (clicked) {
    its.use = 0;
    ui.again = true;
  }
  keys(ui, build, line, row, fit, room);
}

} // namespace bench

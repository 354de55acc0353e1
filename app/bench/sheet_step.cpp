// The step at work, unfolded on the sheet: its notices, its entries with what they ask for and what they hold, what is
// missing in a sentence under the entry it concerns, and the keys.
#include "bench/entry_figure.h"
#include "bench/figure.h"
#include "bench/finding_words.h"
#include "bench/gear_train.h"
#include "bench/lengths.h"
#include "bench/limit_words.h"
#include "bench/missing_keys.h"
#include "bench/photographs.h"
#include "bench/points.h"
#include "bench/tightening.h"
#include "bench/ui.h"

#include "build/limits.h"
#include "build/proposal.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using procedure::EntryKind;

void caution_box(const procedure::Caution& caution) {
  const ImVec2 at = ImGui::GetCursorScreenPos();
  auto& list = *ImGui::GetWindowDrawList();
  ImGui::Indent(px(18));
  const bool hurts = caution.word == procedure::SignalWord::danger || caution.word == procedure::SignalWord::warning;
  say(fonts().strong, hurts ? theme().shout : theme().ink,
      fmt::format("{}: {}", procedure::name_of(caution.word), caution.hazard));
  say(fmt::format("{} {}", caution.consequence, caution.avoid));
  ImGui::Unindent(px(18));
  const ImVec2 end = ImGui::GetCursorScreenPos();
  list.AddRectFilled(ImVec2(at.x, at.y), ImVec2(at.x + px(hurts ? 9.0f : 4.0f), end.y - px(6)),
                     hurts ? theme().shout : theme().soft_ink);
}

namespace {

void readings_held(const Ui& ui, const build::Build& build, build::EntryAt at, bool here) {
  const auto cursor = here ? std::optional(ui.sheet.cell) : std::nullopt;
  const bool again = at.step == ui.sheet.step && looks_again(ui, build); // what was read before is hidden
  points_held(build, at, cells_at_work(ui, build, at), again ? std::vector<build::Cell>() : build.entry(at).as_found,
              cursor);
}

std::string result_text(const std::string& name, const json::Value& result) {
  std::string shown = name;
  std::replace(shown.begin(), shown.end(), '_', ' ');
  if (result.is(json::Kind::text)) return fmt::format("{} {}", shown, result.as_text());
  if (!result.is(json::Kind::object)) return "";
  const auto value = quantity::Exact::written(result.at("value").as_text());
  const std::string unit = result.at("unit").as_text();
  const auto* known = quantity::find_unit(unit);
  const std::string number = !value ? "" : known ? shown_number(*value, *known, 3) : value->fixed(3);
  std::string out = fmt::format("{} {} {}", shown, number, known ? shown_unit(*known).name : unit);
  const std::string& verdict = result.text_or_empty("verdict");
  if (!verdict.empty()) out += fmt::format(" {}", verdict);
  return out;
}

void calculated_held(const build::Build& build, build::EntryAt at) {
  const auto& step = build.plan->step(at.step);
  const auto& state = build.entry(at);
  for (std::size_t p = 0; p < state.calculated.size(); ++p) {
    const auto& it = state.calculated[p];
    if (!it.filled()) continue;
    std::string line = state.calculated.size() > 1 ? step.positions[p] + "   " : "";
    for (const auto& member : it.results.members()) {
      const std::string text = result_text(member.key, member.value);
      if (!text.empty()) line += text + "   ";
    }
    if (it.judged.conceded) line += "conceded ";
    if (it.judged.accepted) line += "accepted at the limit ";
    if (it.asked) line += "still true?";
    say(needs_word(it.judged.standing) ? fonts().strong : fonts().text,
        it.judged.blocks() ? theme().shout : theme().ink, line);
  }
}

// The points, and beside them the figure that the entry has.
void with_figure(Ui& ui, const build::Build& build, build::EntryAt at, bool here) {
  const float room = ImGui::GetContentRegionAvail().x - px(30);
  const auto its = looks_again(ui, build) ? std::nullopt
                                          : pictured(build, at, here ? std::optional(ui.sheet.cell) : std::nullopt,
                                                     {room, px(300), px(18)});
  if (!its) return readings_held(ui, build, at, here);
  if (!ImGui::BeginTable("##figure", 2, ImGuiTableFlags_NoSavedSettings, ImVec2(room, 0))) return;
  ImGui::TableSetupColumn("left", ImGuiTableColumnFlags_WidthFixed, room * (0.99f - its->share));
  ImGui::TableSetupColumn("right", ImGuiTableColumnFlags_WidthFixed, room * its->share);
  ImGui::TableNextRow();
  ImGui::TableSetColumnIndex(0);
  readings_held(ui, build, at, here);
  ImGui::TableSetColumnIndex(1);
  show(its->figure);
  ImGui::EndTable();
}

// At the position of the point at work in this step.
void figure_alone(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& step = build.plan->step(at.step);
  const auto each = procedure::cells_of(step, step.entries[ui.sheet.entry]).per_position();
  const std::size_t calculated = build.entry(at).calculated.size();
  const std::size_t position = calculated > 1 ? std::min(ui.sheet.cell / each, calculated - 1) : 0;
  const float room = ImGui::GetContentRegionAvail().x - px(30);
  const auto figure = pictured_alone(build, at, position, {room, px(300), px(18)});
  if (!figure) return;
  if (calculated > 1) say(fonts().strong, theme().ink, step.positions[position]);
  show(*figure);
}

void once_held(const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  if (!state.done) return;
  if (entry.kind == EntryKind::wait)
    say(fmt::format("started {}, until {}{}", calc::local_text(state.from), calc::local_text(state.until),
                    state.latest.utc_ms ? ", at the latest " + calc::local_text(state.latest) : ""));
  else
    say(fonts().strong, state.judged.blocks() ? theme().shout : theme().ink,
        state.text.empty() ? "done" : fmt::format("{}{}", state.text, state.judged.blocks() ? ": outside" : ""));
}

// What is typed, and what it would be, is never below the edge of the sheet; nor is what the gate answered, when it
// has.
void keep_in_sight(Ui& ui) {
  const float bottom = ImGui::GetWindowPos().y + ImGui::GetWindowHeight();
  const bool below = ImGui::GetCursorScreenPos().y > bottom;
  if (below && (!ui.sheet.typed.empty() || ui.sheet.said != ui.message)) ImGui::SetScrollHereY(1.0f);
  ui.sheet.said = ui.message;
}

void entry_block(Ui& ui, const build::Build& build, build::EntryAt at, const std::vector<build::Blocker>& blockers) {
  const auto& entry = build.plan->entry(at);
  if (build::entry_on(build, at) == build::Holds::no) return;
  const IdScope scope(entry.id);
  const bool here = at.entry == ui.sheet.entry;
  gap(0.3f);
  const ImVec2 top = ImGui::GetCursorScreenPos();
  if (here && ui.sheet.scroll && !asks_for_keys(ui.sheet.asking)) {
    const bool at_work = entry.kind == EntryKind::tightening && build::next_fastener(build, at);
    ImGui::SetScrollHereY(place_of_joint(at_work));
    ui.sheet.scroll = false;
  }
  say(here ? fonts().large : fonts().strong, theme().ink, entry.title + (entry.optional ? " (may be left out)" : ""));
  const auto place = ui.sheet.cell / procedure::cells_of(build.plan->step(at.step), entry).per_position();
  const std::string limit = limit_words(build, at, here ? std::optional(place) : std::nullopt);
  if (!limit.empty()) say_beside(fonts().text, theme().soft_ink, "   " + limit);
  if (here && !entry.text.empty()) say(fonts().text, theme().soft_ink, entry.text);
  if (!entry.columns.empty())
    say(fonts().text, theme().soft_ink, fmt::format("at each place: {}", fmt::join(entry.columns, ", ")));
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings: with_figure(ui, build, at, here); break;
  case EntryKind::calculated:
    if (!looks_again(ui, build)) {
      calculated_held(build, at);
      figure_alone(ui, build, at);
    }
    break;
  case EntryKind::tightening:
    if (here && !ui.sheet.held)
      tightening_block(ui, build, at, blockers);
    else
      tightening_at_rest(build, at);
    break;
  case EntryKind::choice:
    if (here && has_gear_train(build, at.step)) gear_train(ui, build);
    if (here) figure_alone(ui, build, at);
    once_held(build, at);
    if (const auto proposal = build::proposed(build, at); proposal && !build.entry(at).done)
      say(fonts().strong, theme().ink, fmt::format("The readings call for {}.", *proposal));
    break;
  default:
    if (here) figure_alone(ui, build, at);
    once_held(build, at);
    break;
  }
  const bool own = here && entry.kind == EntryKind::tightening && !ui.sheet.held; // says all of it itself
  photographs_beside(ui, build, at, here);
  for (const auto& blocker : blockers)
    if (!own && blocker.entry == entry.id) say(fonts().text, theme().shout, with_key(ui, build, blocker));
  if (here) {
    entry_input(ui, build, at);
    if (!own && !ui.message.empty() && (ui.refused || ui.sheet.typed.empty()))
      say(fonts().large, ui.refused ? theme().shout : theme().ink, ui.message);
    keep_in_sight(ui);
    const ImVec2 end = ImGui::GetCursorScreenPos();
    ImGui::GetWindowDrawList()->AddRectFilled(ImVec2(top.x - px(14), top.y), ImVec2(top.x - px(7), end.y), theme().ink);
  }
}

} // namespace

void open_step(Ui& ui, const build::Build& build) {
  const auto& step = build.plan->step(ui.sheet.step);
  const IdScope scope(step.id);
  gap(0.3f);
  const auto blockers = build::blockers(ui.desk.shop(), build, ui.sheet.step, ui.desk.now(),
                                        ui.desk.signed_in() ? ui.desk.signed_in()->person : std::string());
  say(fonts().large, theme().ink, step.title);
  const auto standing = build::standing_of(build, ui.sheet.step);
  if (standing == build::StepStanding::away) {
    const ImVec2 at = ImGui::GetCursorScreenPos();
    hatch(at, ImVec2(at.x + px(22), at.y + ImGui::GetTextLineHeight()));
    ImGui::SetCursorScreenPos(ImVec2(at.x + px(30), at.y));
  }
  say(fonts().strong, theme().soft_ink,
      fmt::format("{}{}", build::name_of(standing), step.hold ? "; hold point, signed by two people" : ""));
  if (!step.text.empty()) say(step.text);
  for (const auto& caution : step.cautions) caution_box(caution);
  if (looks_again(ui, build))
    say(fonts().strong, theme().ink,
        "Your second look: measure each point again; what you read the first time is hidden until you sign.");
  for (const auto& blocker : blockers)
    if (blocker.entry.empty()) say(fonts().strong, theme().shout, with_key(ui, build, blocker));
  if (build.step(ui.sheet.step).signed_off)
    for (const auto& words : open_though_signed(ui.desk.shop(), build, ui.sheet.step, ui.desk.now()))
      say(fonts().strong, theme().shout, words);
  step_keys(ui, build);
  for (std::size_t e = 0; e < step.entries.size(); ++e) entry_block(ui, build, {ui.sheet.step, e}, blockers);
  gap(0.3f);
  rule();
}

} // namespace bench

// The keys of the step as a whole: notices read, moving about, signing, what is done about a reading, a new gauge; and
// what becomes of the sheet when the gate has answered.
#include "bench/builds.h"
#include "bench/first_run.h"
#include "bench/handing_over.h"
#include "bench/limit_form.h"
#include "bench/parts.h"
#include "bench/photographs.h"
#include "bench/setting.h"
#include "bench/shop_screens.h"
#include "bench/typing_gauge.h"
#include "bench/ui.h"

#include "build/comparator.h"
#include "build/gauge.h"
#include "build/limits.h"
#include "build/wrong_part.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using procedure::EntryKind;

bool notices_unread(const Ui& ui, const build::Build& build) {
  return ui.desk.signed_in() && build::cautions_unread(build, ui.sheet.step, ui.desk.signed_in()->person);
}

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f7 = key::f1 + 6;
constexpr int f8 = key::f1 + 7;
constexpr int f10 = key::f1 + 9;

void move_cursor(Ui& ui, const build::Build& build) {
  const auto& entries = build.plan->step(ui.sheet.step).entries;
  const auto on = [&](std::size_t e) { return build::entry_on(build, {ui.sheet.step, e}) != build::Holds::no; };
  std::size_t to = ui.sheet.entry;
  if (pressed(key::down))
    for (std::size_t e = to + 1; e < entries.size(); ++e)
      if (on(e)) {
        to = e;
        break;
      }
  if (pressed(key::up))
    for (std::size_t e = to; e-- > 0;)
      if (on(e)) {
        to = e;
        break;
      }
  if (to == ui.sheet.entry) return;
  ui.sheet.entry = to;
  ui.sheet.cell = 0;
  ui.sheet.typed.clear();
  ui.sheet.held = false;
  ui.sheet.not_taken.clear();
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.message.clear();
  ui.again = true;
}

void reopen_key(Ui& ui) {
  if (!key_button("reopen", "Open this step again", "F8") && !pressed(f8)) return;
  ui.sheet.preview.clear();
  json::Value line = build_action(ui, "reopen");
  line.set("preview", json::Value::boolean(true));
  ask(ui, Asking::reopen);
  ui.send(std::move(line));
}

// Cheap, and all that is wanted while the work goes on: a step that may not be left open is not signed.
bool far_from_release(const Ui& ui, const build::Build& build) {
  const auto& sections = build.plan->procedure().sections;
  for (std::size_t i = 0; i < sections.size(); ++i) {
    const SectionCount& its = ui.overview.sections()[i];
    if (!sections[i].deferrable && its.signed_off < its.on_this_engine) return true;
  }
  return false;
}

// True when the engine can be released now and the key for it was pressed.
bool release_key(Ui& ui, const build::Build& build) {
  if (far_from_release(ui, build)) return false;
  if (!build::release_blockers(ui.desk.shop(), build, left_open(build), ui.desk.now()).empty()) return false;
  const bool some_left = !left_open(build).empty();
  const bool go = key_button("release", some_left ? "Release the engine, not yet run" : "Release the engine", "Home") ||
                  pressed(key::home);
  if (go) ask(ui, Asking::release);
  return go;
}

// The signed PDF of a released engine; whoever signs it says so with their passphrase, so nobody needs to be signed in.
void handover_key(Ui& ui, const build::Build& build) {
  if (ui.sheet.asking != Asking::nothing) return questions(ui, build);
  if (key_button("handover", "Hand over: the signed PDF", "Home") || pressed(key::home)) {
    ui.sheet.file = name_for_handover(ui.desk.shop_file(), build.id);
    return ask(ui, Asking::handover);
  }
  message_line(ui);
}

// What the limits need to know of this engine: parts new or reused, options.
void facts_keys(Ui& ui, const build::Build& build) {
  const auto& entry = build.plan->entry({ui.sheet.step, ui.sheet.entry});
  const auto& options = build.plan->procedure().options;
  const bool unset =
      std::any_of(options.begin(), options.end(), [&](const auto& o) { return build.option(o.id).empty(); });
  if (!entry.parts.empty() && (key_button("part", "New or reused?", "End") || pressed(key::end)))
    return ask(ui, Asking::part_state);
  if (!unset) return;
  if (!entry.parts.empty()) ImGui::SameLine();
  if (key_button("option", "Pick what this engine has", "Insert") || pressed(key::insert)) ask(ui, Asking::option);
}

} // namespace

namespace {

void standing_keys(Ui& ui, const build::Build& build) {
  const auto standing = build::standing_of(build, ui.sheet.step);
  if (release_key(ui, build)) return;
  if (standing == build::StepStanding::not_on_this_engine) return move_cursor(ui, build);
  if (standing == build::StepStanding::signed_off) {
    move_cursor(ui, build);
    reopen_key(ui);
    return;
  }
  if (standing == build::StepStanding::wants_second) {
    if (looks_again(ui, build)) move_cursor(ui, build);
    if (key_button("second", looks_again(ui, build) ? "Sign a second time" : "The second person signs", "F7") ||
        pressed(f7))
      return ask(ui, Asking::second_person);
    ImGui::SameLine();
    reopen_key(ui);
    return;
  }
  if (notices_unread(ui, build)) {
    if (key_button("read", "I have read these notices", "F5") || pressed(f5)) ui.send(build_action(ui, "acknowledge"));
    return;
  }
  move_cursor(ui, build);
  if (key_button("sign", "Sign this step", "F7") || pressed(f7)) ui.send(build_action(ui, "sign"));
  const auto& state = build.entry({ui.sheet.step, ui.sheet.entry});
  if (build::has_anything(state)) {
    ImGui::SameLine();
    if (key_button("dispose", "Something must be done about it", "F8") || pressed(f8))
      return ask(ui, Asking::disposition);
  }
  if (build.last_recorded_seq > 0 && build.last_recorded_seq == build.seq &&
      build.last_recorded == build::EntryAt{ui.sheet.step, ui.sheet.entry}) {
    ImGui::SameLine();
    // While something is typed the key edits that.
    const bool typing = !ui.sheet.typed.empty() || !ImGui::GetIO().InputQueueCharacters.empty();
    const bool struck = pressed(key::remove) && !typing;
    if (key_button("take-back", "Take the newest back", "Delete") || struck) ui.send(entry_action(ui, "take-back"));
  }
  if (pressed(f10)) return ask(ui, Asking::new_gauge);
  facts_keys(ui, build);
}

// Behind the key drawn last, if there is one and room, else below.
bool key_behind(bool behind, float right, const KeyLabel& one) {
  if (behind && ImGui::GetItemRectMax().x + width_of({&one, 1}, Fit::wide) + px(12) < right) ImGui::SameLine();
  return key_button(one.id.c_str(), one.label, one.key);
}

} // namespace

void step_keys(Ui& ui, const build::Build& build) {
  if (build.released()) return handover_key(ui, build);
  if (!ui.desk.signed_in()) {
    if (ui.sheet.scroll && ImGui::GetWindowHeight() < px(420)) { // low: nothing else is to be done yet
      ImGui::SetScrollHereY(0);
      ui.sheet.scroll = false;
    }
    sign_in(ui);
    message_line(ui);
    return;
  }
  if (ui.sheet.asking != Asking::nothing) return questions(ui, build);
  if (pressed_with_shift(f8)) return ask(ui, Asking::found_part);
  if (setting_keys(ui, build)) return;
  if (pressed_with_shift(f5)) return ask_photograph(ui, false);
  const ImVec2 top = ImGui::GetCursorScreenPos();
  const float right = top.x + ImGui::GetContentRegionAvail().x;
  standing_keys(ui, build);
  const bool behind = ImGui::GetCursorScreenPos().y > top.y;
  if (key_behind(behind, right, {"found", "Something was found", "Shift F8"})) ask(ui, Asking::found_part);
  if (build.plan->entry({ui.sheet.step, ui.sheet.entry}).kind == EntryKind::photograph) return; // has its own
  if (key_behind(true, right, {"attach", "Photograph", "Shift F5"})) ask_photograph(ui, false);
}

namespace {

bool missing(const Ui& ui, const build::Build& build, build::EntryAt at, std::size_t& cell) {
  const auto& state = build.entry(at);
  const auto& entry = build.plan->entry(at);
  const auto cells = cells_at_work(ui, build, at);
  for (std::size_t c = 0; c < cells.size(); ++c)
    if (!cells[c].filled() || cells[c].asked) {
      cell = c;
      return true;
    }
  cell = 0;
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings: return build::open_set(state) != nullptr; // its zero
  case EntryKind::calculated:
    return std::any_of(state.calculated.begin(), state.calculated.end(), [](const auto& it) { return it.asked; });
  case EntryKind::tightening: return build::next_fastener(build, at).has_value();
  default: return !state.done || state.asked;
  }
}

} // namespace

void move_to_next(Ui& ui) {
  const auto& build = *ui.desk.build();
  const auto& step = build.plan->step(ui.sheet.step);
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.again = true;
  for (std::size_t i = 0; i < step.entries.size(); ++i) {
    const std::size_t e = (ui.sheet.entry + i) % step.entries.size();
    const build::EntryAt at{ui.sheet.step, e};
    if (build::entry_on(build, at) != build::Holds::yes || step.entries[e].optional) continue;
    std::size_t cell = 0;
    if (!missing(ui, build, at, cell)) continue;
    ui.sheet.entry = e;
    ui.sheet.cell = cell;
    return;
  }
}

namespace {

// "Rear seal, Valve stem seal 2e".
std::string parts_named(const procedure::Procedure& procedure, const json::Value& list) {
  std::string out;
  for (const auto& item : list.items()) {
    const auto* part = procedure.part(item.at("part").as_text());
    const std::string& position = item.text_or_empty("position");
    out += fmt::format("{}{}{}{}", out.empty() ? "" : ", ", part ? part->title : "", position.empty() ? "" : " ",
                       position);
  }
  return out;
}

void show_preview(Ui& ui, const Answered& answer) {
  if (!answer.ok()) {
    ui.sheet.preview = answer.message();
    return;
  }
  const auto& plan = *ui.desk.build()->plan;
  ui.sheet.preview = "Opens again: ";
  bool first = true;
  for (const auto& id : answer.answer.at("reopened").items()) {
    const auto step = plan.find_step(id.as_text());
    ui.sheet.preview += fmt::format("{}\"{}\"", first ? "" : ", ", step ? plan.step(*step).title : id.as_text());
    first = false;
  }
  const auto lost = answer.answer.at("lost").items().size();
  const auto asks = answer.answer.at("asks").items().size();
  ui.sheet.preview += fmt::format(". {} entries are lost, {} ask whether they are still true.", lost, asks);
  if (const auto* out = answer.answer.find("taken_out"))
    ui.sheet.preview += fmt::format(" Comes out: {}.", parts_named(plan.procedure(), *out));
}

// What a reading just recorded tells beside its verdict: far from its neighbours, or the size of another engine.
std::string advice_on(const build::Build& build, const json::Value& answer) {
  if (const auto* other = answer.find("other")) {
    std::vector<build::OtherChoice> choices;
    for (const auto& item : other->items())
      choices.push_back({item.at("option").as_text(), item.at("choice").as_text()});
    return fmt::format("outside: {}", build::told(build, choices));
  }
  if (const auto* far = answer.find("far"))
    return fmt::format("{} is far from its neighbours: misread? Go back and measure it once more",
                       far->items().front().as_text());
  return "";
}

// What is said once a fault is noted, or something about it.
std::string about_finding(const Answered& answer) {
  const std::string usually = answer.answer.text_or_empty("usually");
  const std::string noted = answer.answer.text_or_empty("finding");
  if (!noted.empty()) return fmt::format("Noted as {}.{}", noted, usually.empty() ? "" : " Usually: " + usually);
  const std::string id = answer.action.text_or_empty("finding");
  return answer.action.find("disposition") ? id + " is cleared." : "The cause of " + id + " is written down.";
}

} // namespace

void answered(Ui& ui, const Answered& answer) {
  if (shop_set_up(ui, answer) || build_opened(ui, answer)) return;
  if (limit_filled(ui, answer)) return;
  if (settings_answered(ui, answer) || people_answered(ui, answer) || gauges_answered(ui, answer)) return;
  const std::string of = answer.action.text_or_empty("build");
  if (!of.empty() && ui.desk.build() && of != ui.desk.build()->id) { // another is open by now
    ui.refused = !answer.ok();
    ui.message = answer.ok() ? "" : fmt::format("{}: {}", of, answer.message());
    return;
  }
  if (answer.action.find("preview")) return show_preview(ui, answer);
  ui.refused = !answer.ok();
  ui.message = answer.message();
  const std::string done = answer.action.text_or_empty("do");
  const bool by_gauge = std::exchange(ui.sheet.by_gauge, false) && !ui.refused;
  const build::EntryAt from{ui.sheet.step, ui.sheet.entry};
  ui.sheet.focus = true;
  if (done == "attach") return attached(ui, answer);
  if (ui.refused) {
    if (const auto* blockers = answer.answer.find("blockers"); blockers && blockers->items().size() > 1)
      ui.message =
          fmt::format("{} things are in the way; they stand in their places on the sheet.", blockers->items().size());
    return;
  }
  if (done == "handover") {
    ui.message = fmt::format("Handed over, signed by {}: {}", answer.answer.text_or_empty("signer"),
                             answer.answer.text_or_empty("file"));
    return;
  }
  ui.sheet.typed.clear();
  ui.sheet.not_taken.clear();
  ui.sheet.held = false;
  ui.sheet.run_on.clear();
  if (!ui.desk.build()) return;
  if (done == "finding" || done == "clear") {
    ui.message = about_finding(answer);
    ui.sheet.scroll = true;
    ui.again = true;
    return;
  }
  if (done == "zero") ui.message = about_zero(*ui.desk.build(), answer);
  if (answer.action.find("as_found")) {
    move_as_found(ui);
    if (by_gauge) hold_where_another_kind(ui, from);
    return;
  }
  if (part_answered(ui, answer)) return;
  const std::string verdict = answer.answer.text_or_empty("verdict");
  if (!verdict.empty() && verdict != "recorded") ui.message = verdict;
  if (verdict == "outside" && (done == "record" || done == "again" || done == "correct"))
    ui.message = by_gauge ? "outside, and the gauge stops here: type the right number if you misread it, or F8 says "
                            "what is done about it"
                          : "outside: type the right number if you misread it, or F8 says what is done about it";
  if (auto advice = advice_on(*ui.desk.build(), answer.answer); !advice.empty()) ui.message = std::move(advice);
  if (answer.answer.find("round_again"))
    ui.message = "the stage was gone through out of order: go round again, in order";
  if (done == "sign") {
    if (const auto* next = answer.answer.find("next"); next && next->is(json::Kind::text)) {
      if (answer.answer.text_or_empty("state") == "signed") {
        ui.sheet.step = ui.desk.build()->plan->find_step(next->as_text()).value_or(ui.sheet.step);
        ui.sheet.entry = 0;
        ui.sheet.cell = 0;
      }
    }
    ui.message = answer.answer.text_or_empty("state");
  }
  const bool stays = verdict == "outside" || verdict == "undecided";
  if (stays) return;
  move_to_next(ui);
  if (by_gauge) hold_where_another_kind(ui, from);
}

} // namespace bench

// The keys of the step as a whole: notices read, moving about, signing, what is done about a reading, a new gauge; and
// what becomes of the sheet when the gate has answered.
#include "bench/ui.h"

#include "build/gauge.h"
#include "build/limits.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;
using procedure::EntryKind;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f7 = key::f1 + 6;
constexpr int f8 = key::f1 + 7;
constexpr int f9 = key::f1 + 8;
constexpr int f10 = key::f1 + 9;

bool notices_unread(const Ui& ui, const build::Build& build) {
  if (!ui.desk.signed_in()) return false;
  const auto blockers = build::blockers(build, ui.sheet.step, ui.desk.now(), ui.desk.signed_in()->person);
  return std::any_of(blockers.begin(), blockers.end(), [](const auto& b) { return b.code == "caution-unread"; });
}

void ask(Ui& ui, Asking what) {
  ui.sheet.asking = what;
  ui.sheet.typed.clear();
  ui.sheet.asked_line = 0;
  ui.sheet.focus = true;
  ui.message.clear();
  ui.again = true;
}

void leave(Ui& ui) {
  ui.sheet.asking = Asking::nothing;
  ui.sheet.typed.clear();
  ui.sheet.passphrase.assign(ui.sheet.passphrase.size(), '\0');
  ui.sheet.passphrase.clear();
  ui.sheet.focus = true;
  ui.again = true;
}

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
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.message.clear();
  ui.again = true;
}

// Fields one under the other; Enter goes on to the next. True when Enter was pressed in the last.
bool fields(Ui& ui, std::initializer_list<std::pair<const char*, std::string*>> list) {
  int line = 0;
  const bool enter = enter_pressed() || pressed(key::tab);
  for (const auto& [label, text] : list) {
    say(fonts().strong, theme().ink, label);
    text_field(label, *text, 24, ui.sheet.focus && ui.sheet.asked_line == line,
               std::string_view(label) == "Passphrase");
    ++line;
  }
  ui.sheet.focus = false;
  if (!enter) return false;
  ui.again = true;
  if (ui.sheet.asked_line + 1 < line) {
    ++ui.sheet.asked_line;
    ui.sheet.focus = true;
    return false;
  }
  return true;
}

void with_person(Ui& ui, Value line) {
  line.set("person", Value::text(ui.sheet.person));
  line.set("passphrase", Value::text(ui.sheet.passphrase));
  leave(ui);
  ui.send(std::move(line));
}

struct Way {
  const char* word;
  const char* means;
};
constexpr Way ways[] = {{"rework", "made to measure again"},   {"repair", "mended, may still be outside"},
                        {"replace", "another part"},           {"scrap", "not to be used again"},
                        {"concession", "an owner lets it go"}, {"accept", "worn within service, used again"}};

void ask_disposition(Ui& ui) {
  say(fonts().strong, theme().ink, "What is done about it?");
  int digit = 1;
  for (const auto& way : ways) {
    const bool chosen = key_button(way.word, fmt::format("{}: {}", way.word, way.means), std::to_string(digit)) ||
                        pressed(key::digit_0 + digit) || pressed(key::keypad_0 + digit);
    ++digit;
    if (!chosen) continue;
    ui.sheet.disposition = way.word;
    ask(ui, Asking::disposition_text);
    return;
  }
}

void ask_disposition_text(Ui& ui) {
  const bool concession = ui.sheet.disposition == "concession";
  say(fonts().strong, theme().ink, fmt::format("{}: what was done, and why", ui.sheet.disposition));
  const bool ready =
      concession
          ? fields(ui,
                   {{"In words", &ui.sheet.typed}, {"Owner", &ui.sheet.person}, {"Passphrase", &ui.sheet.passphrase}})
          : fields(ui, {{"In words", &ui.sheet.typed}});
  if (!ready || ui.sheet.typed.empty()) return;
  Value line = entry_action(ui, "dispose");
  line.set("disposition", Value::text(ui.sheet.disposition));
  line.set("text", Value::text(ui.sheet.typed));
  if (concession) return with_person(ui, std::move(line));
  leave(ui);
  ui.send(std::move(line));
}

void ask_second_person(Ui& ui) {
  say(fonts().strong, theme().ink, "The second person has looked, and signs:");
  if (fields(ui, {{"Person", &ui.sheet.person}, {"Passphrase", &ui.sheet.passphrase}}))
    with_person(ui, build_action(ui, "sign"));
}

// The kinds of gauge that the entry at work can be measured with.
std::vector<std::string> kinds_for(const procedure::Entry& entry) {
  if (entry.kind == EntryKind::tightening) return {"torque wrench"};
  if (!entry.gauges.empty()) return entry.gauges;
  std::vector<std::string> all;
  for (const auto kind : build::gauge_kinds()) all.emplace_back(kind);
  return all;
}

void ask_new_gauge(Ui& ui, const build::Build& build) {
  const build::EntryAt at{ui.sheet.step, ui.sheet.entry};
  const auto& entry = build.plan->entry(at);
  const auto kinds = kinds_for(entry);
  ui.sheet.gauge_kind = std::min(ui.sheet.gauge_kind, kinds.size() - 1);
  if (pressed(key::page_down)) ui.sheet.gauge_kind = (ui.sheet.gauge_kind + 1) % kinds.size();
  const std::string& kind = kinds[ui.sheet.gauge_kind];
  const auto* unit = entry.unit;
  if (!unit && !entry.stages.empty()) unit = build.limit(entry.stages.front().limit)->unit;
  say(fonts().strong, theme().ink,
      fmt::format("A new {} in {}{}", kind, unit ? unit->name : "",
                  kinds.size() > 1 ? "   (Page Down: another kind)" : ""));
  if (!unit) return;
  if (!fields(ui, {{"Its mark, a to z and 0 to 9", &ui.sheet.gauge_id},
                   {"Smallest division", &ui.sheet.gauge_division},
                   {"Uncertainty U from its certificate, or nothing", &ui.sheet.gauge_u}}))
    return;
  Value line = action("add-gauge");
  line.set("gauge", Value::text(ui.sheet.gauge_id));
  line.set("kind", Value::text(kind));
  line.set("unit", Value::text(std::string(unit->name)));
  line.set("resolution", Value::text(ui.sheet.gauge_division));
  if (!ui.sheet.gauge_u.empty()) line.set("u", Value::text(ui.sheet.gauge_u));
  if (kind == "torque wrench") line.set("tool", Value::text("setting"));
  ui.sheet.gauges[at] = ui.sheet.gauge_id;
  leave(ui);
  ui.send(std::move(line));
}

void questions(Ui& ui, const build::Build& build) {
  switch (ui.sheet.asking) {
  case Asking::disposition: ask_disposition(ui); break;
  case Asking::disposition_text: ask_disposition_text(ui); break;
  case Asking::second_person: ask_second_person(ui); break;
  case Asking::new_gauge: ask_new_gauge(ui, build); break;
  case Asking::what_changed: // asked beside its field
  case Asking::nothing: break;
  }
  if (pressed(key::escape)) leave(ui);
}

} // namespace

void step_keys(Ui& ui, const build::Build& build) {
  if (build.released()) return;
  if (!ui.desk.signed_in()) {
    sign_in(ui);
    if (!ui.message.empty()) say(fonts().strong, ui.refused ? theme().shout : theme().ink, ui.message);
    return;
  }
  if (ui.sheet.asking != Asking::nothing) return questions(ui, build);
  const auto standing = build::standing_of(build, ui.sheet.step);
  if (standing == build::StepStanding::signed_off || standing == build::StepStanding::not_on_this_engine) {
    move_cursor(ui, build);
    return;
  }
  if (standing == build::StepStanding::wants_second) {
    if (key_button("second", "The second person signs", "F7") || pressed(f7)) ask(ui, Asking::second_person);
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
    if (key_button("take-back", "Take the newest back", "F9") || pressed(f9)) ui.send(entry_action(ui, "take-back"));
  }
  if (pressed(f10)) ask(ui, Asking::new_gauge);
}

namespace {

bool missing(const build::EntryState& state, const procedure::Entry& entry, const build::Build& build,
             build::EntryAt at, std::size_t& cell) {
  for (std::size_t c = 0; c < state.cells.size(); ++c)
    if (!state.cells[c].filled() || state.cells[c].asked) {
      cell = c;
      return true;
    }
  cell = 0;
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings: return false;
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
    if (!missing(build.entry(at), step.entries[e], build, at, cell)) continue;
    ui.sheet.entry = e;
    ui.sheet.cell = cell;
    return;
  }
}

void answered(Ui& ui, const Answered& answer) {
  ui.refused = !answer.ok();
  ui.message = answer.message();
  const std::string done = answer.action.text_or_empty("do");
  ui.sheet.focus = true;
  if (ui.refused) {
    if (const auto* blockers = answer.answer.find("blockers"); blockers && blockers->items().size() > 1)
      ui.message =
          fmt::format("{} things are in the way; they stand in their places on the sheet.", blockers->items().size());
    return;
  }
  ui.sheet.typed.clear();
  if (!ui.desk.build()) return;
  const std::string verdict = answer.answer.text_or_empty("verdict");
  if (!verdict.empty() && verdict != "recorded") ui.message = verdict;
  if (verdict == "outside" && (done == "record" || done == "again" || done == "correct"))
    ui.message = "outside: type the right number if you misread it, or F8";
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
  if (!stays) move_to_next(ui);
}

} // namespace bench

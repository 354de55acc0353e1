// A tightening on the sheet: left the stage, the value, bolts, wrench and what is to be done; right the joint as it
// stands; beneath them the keys.
#include "bench/tightening.h"

#include "bench/figure.h"
#include "bench/lengths.h"
#include "bench/missing_keys.h"
#include "build/limits.h"
#include "drawing/lever.h"
#include "drawing/pattern.h"
#include "drawing/shapes.h"
#include "quantity/typed.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;
using procedure::StageKind;
using quantity::Exact;

namespace {

constexpr int f5 = key::f1 + 4;
constexpr int f6 = key::f1 + 5;

// A tightening as it is at this moment, for whoever is at work.
struct View {
  const std::optional<Pull> pull;
  std::string gauge; // chosen
  const build::Gauge* tool = nullptr;
  bool may_work = false; // somebody is signed in, the step is open, its notices are read
  bool asks = false;     // whether the last one is sure
  std::int64_t wait = 0; // milliseconds
};

View look(const Ui& ui, const build::Build& build, build::EntryAt at, const std::vector<build::Blocker>& blockers) {
  View out{next_pull(build, at), {}, nullptr, false, false, 0};
  out.gauge = out.pull && out.pull->aim ? chosen_gauge(ui, build, at) : std::string();
  out.tool = ui.desk.shop().gauge(out.gauge);
  const bool unread = std::any_of(blockers.begin(), blockers.end(),
                                  [](const auto& blocker) { return blocker.code == "caution-unread"; });
  out.may_work = ui.desk.signed_in() && !build.released() && build.step(at.step).signatures.empty() && !unread;
  out.wait = std::max<std::int64_t>(0, build.entry(at).until.utc_ms - ui.desk.now().utc_ms);
  out.asks = out.may_work && out.wait == 0 && build::interrupted(build, at, ui.desk.now(), ui.desk.signed_in()->person);
  return out;
}

// What is typed of a value: one that stands in the field, as far as it can be read.
std::optional<Exact> typed_in(const std::string& typed, const quantity::Unit& unit) {
  const auto read = quantity::parse_typed(typed, unit);
  if (!read || !quantity::same_dimension(*read->unit, unit)) return std::nullopt;
  return quantity::convert(read->value, *read->unit, unit);
}

// What a conversion leaves behind the third place is left out.
std::string shown(const Exact& value) {
  const std::string whole = value.text();
  return whole.size() <= 7 ? whole : Exact::written(value.fixed(3))->text();
}

// As large as it fits beside the figure.
void say_large(std::string_view text) {
  const float room = ImGui::GetContentRegionAvail().x;
  const char* end = text.data() + text.size();
  const bool low = ImGui::GetWindowHeight() < px(520);
  for (ImFont* font : {fonts().giant, fonts().huge})
    if ((!low || font != fonts().giant) && font->CalcTextSizeA(font->FontSize, 1e9f, 0, text.data(), end).x <= room)
      return say(font, theme().ink, text);
  say(fonts().large, theme().ink, text);
}

Exact run_on_of(const Ui& ui, const Pull& pull, const quantity::Unit& unit) {
  if (!pull.stage.prevailing) return {};
  const auto typed = typed_in(ui.sheet.run_on, unit);
  return typed ? quantity::convert(*typed, unit, *pull.aim->limit->unit) : Exact();
}

const quantity::Unit& unit_of(const View& view) {
  const auto& limit = *view.pull->aim->limit->unit;
  return shown_unit(view.tool && quantity::same_dimension(*view.tool->unit, limit) ? *view.tool->unit : limit);
}

// The value that Enter would state: what is typed, else what is proposed.
Setting setting_now(const Ui& ui, const View& view) {
  const auto& unit = unit_of(view);
  if (const auto typed = typed_in(ui.sheet.typed, unit)) return setting_of(*view.pull, *typed, unit);
  return setting_for(*view.pull, view.tool, run_on_of(ui, *view.pull, unit));
}

void value_lines(const Ui& ui, const View& view) {
  const Pull& pull = *view.pull;
  if (!pull.aim) {
    if (!pull.lacking.empty()) say(fonts().large, theme().shout, pull.lacking);
    if (pull.lacking.empty()) say(fonts().huge, theme().ink, pull.stage.kind == StageKind::mark ? "Mark" : "Loosen");
    if (!pull.stage.text.empty()) say(fonts().large, theme().ink, pull.stage.text);
    return;
  }
  const auto& wanted = *pull.aim->limit->unit;
  const Setting setting = setting_now(ui, view);
  const bool only_window =
      !stated_unread(pull, view.tool) && ui.sheet.typed.empty() && pull.stage.kind != StageKind::torque;
  say_large(only_window ? text_of(*pull.aim) : fmt::format("{} {}", shown(setting.value), setting.unit->name));
  if (pull.lever && reads_torque(pull.stage))
    say(fonts().strong, theme().ink,
        fmt::format("on the wrench; the bolt gets {} {}", shown(setting.at_fastener), wanted.name));
  else if (setting.unit != &wanted)
    say(fonts().strong, theme().ink, fmt::format("which is {} {}", shown(setting.at_fastener), wanted.name));
  if (!only_window) say(fonts().text, theme().ink, aim_words(pull));
}

void bolt_lines(const build::Build& build, const Pull& pull) {
  if (!pull.entry.bolt) return;
  say(fonts().large, theme().ink, bolt_facts(*pull.entry.bolt));
  if (const std::string load = load_words(pull); !load.empty()) say(fonts().text, theme().soft_ink, load);
  const BoltWords words = bolt_words(build, pull);
  if (!words.known.empty()) say(fonts().strong, theme().ink, words.known);
  if (!words.wanted.empty()) say(fonts().strong, theme().shout, words.wanted);
}

void tool_lines(const Ui& ui, const View& view) {
  if (!view.pull->aim || view.pull->stage.kind == StageKind::angle) return;
  if (view.tool) return say(fonts().text, theme().ink, tool_words(*view.tool));
  say(fonts().strong, theme().shout, "Nothing in the shop will do for this; F10 adds a gauge.");
  const auto reasons = why_not(ui.desk.shop(), *view.pull, ui.desk.now());
  for (std::size_t i = 0; i < reasons.size() && i < 2; ++i) say(fonts().text, theme().shout, reasons[i]);
}

std::string so_far(const build::Build& build, build::EntryAt at, const std::optional<Pull>& pull) {
  const auto worst = build::worst_of(build.entry(at));
  const std::string verdict(worst == build::Standing::empty ? "" : build::name_of(worst));
  const auto count = build.plan->entry(at).fasteners.size();
  if (!pull) return fmt::format("{} through all stages: {}", count == 1 ? "It is" : "All are", verdict);
  const auto done = count - pull->left;
  if (done == 0 && verdict.empty()) return "";
  return fmt::format("so far{}{}", verdict.empty() ? "" : ": " + verdict,
                     done ? fmt::format("; {} of {} have this stage", drawing::in_words(done), drawing::in_words(count))
                          : "");
}

void last_sure_lines(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& state = build.entry(at);
  const auto* person = ui.desk.shop().person(state.sure_by);
  say(fonts().large, theme().ink,
      fmt::format("Left in the middle of this stage. The last sure one is {}, by {}, {} ago.",
                  build::last_sure(build, at)->id, person ? person->name : state.sure_by,
                  minutes_words(ui.desk.now().utc_ms - state.sure_at.utc_ms)));
  say(fonts().large, theme().ink, "Is it sure?");
}

// The field of a value that must be read, or may have come out otherwise; that of the torque to turn the nut before it.
void value_field(Ui& ui, const View& view) {
  const Pull& pull = *view.pull;
  if (!pull.aim) return;
  auto& sheet = ui.sheet;
  if (pull.stage.prevailing) {
    say(fonts().strong, theme().ink, fmt::format("Torque to turn the nut, in {}; it is added", unit_of(view).name));
    text_field("run-on", sheet.run_on, 10, sheet.focus);
    sheet.focus = false;
    return;
  }
  if (pull.stage.kind == StageKind::torque && stated_unread(pull, view.tool)) return;
  say(fonts().strong, theme().ink,
      stated_unread(pull, view.tool) ? fmt::format("Or what {} came to, in {}", pull.fastener(), unit_of(view).name)
                                     : fmt::format("What {} shows, in {}", pull.fastener(), unit_of(view).name));
  text_field("reading", sheet.typed, 10, sheet.focus);
  sheet.focus = false;
}

void left_half(Ui& ui, const build::Build& build, build::EntryAt at, const View& view) {
  if (!ui.message.empty()) say(fonts().large, ui.refused ? theme().shout : theme().ink, ui.message);
  const auto& entry = build.plan->entry(at);
  if (asks_about_joint(ui.sheet.asking)) return joint_question(ui, build, at);
  if (!view.pull) {
    say(fonts().large, theme().ink, so_far(build, at, view.pull));
    if (view.wait > 0)
      say(fonts().large, theme().ink,
          fmt::format("Left to settle until {}: {} yet.", calc::local_text(build.entry(at).until),
                      minutes_words(view.wait + 59'999)));
    if (entry.bolt) say(fonts().strong, theme().ink, bolt_facts(*entry.bolt));
    return;
  }
  say(fonts().strong, theme().ink, stage_words(*view.pull));
  if (view.wait > 0) {
    say(fonts().strong, theme().ink, "Before it the joint is left to settle:");
    say_large(minutes_words(view.wait + 59'999));
    say(fonts().strong, theme().ink, fmt::format("more, until {}", calc::local_text(build.entry(at).until)));
    return;
  }
  if (view.asks) {
    last_sure_lines(ui, build, at);
    return;
  }
  value_lines(ui, view);
  bolt_lines(build, *view.pull);
  if (view.may_work && ui.sheet.asking == Asking::nothing) value_field(ui, view);
  tool_lines(ui, view);
  const std::string words = so_far(build, at, view.pull);
  if (!words.empty()) say(fonts().text, theme().ink, words);
}

// --- the figure ----------------------------------------------------------------------------------------------------

// What is wrong and what to do about it, as the gate says it; what merely comes next is said by the figure.
void trouble_lines(const Ui& ui, const build::Build& build, const std::vector<build::Blocker>& blockers,
                   const procedure::Entry& entry) {
  for (const auto& blocker : blockers) {
    if (blocker.entry != entry.id || blocker.code == "entry-missing" || blocker.code == "waiting") continue;
    const bool titled = blocker.message.rfind(entry.title + ", ", 0) == 0; // which stands above
    say(fonts().strong, theme().shout, with_key(ui, build, blocker).substr(titled ? entry.title.size() + 2 : 0));
  }
}

// As the fields stand, with what is not typed yet as an example.
drawing::Figure adapter_as_typed(const SheetState& sheet, drawing::Room room) {
  const auto& mm = *quantity::find_unit("mm");
  const auto arm = typed_in(sheet.arm, mm);
  const auto reach = typed_in(sheet.reach, mm);
  const auto turn = typed_in(sheet.turn, *quantity::find_unit("deg"));
  const bool measured = arm && arm->sign() > 0 && reach && reach->sign() > 0 && turn;
  if (measured) return drawing::lever({*arm, *reach, *turn, 1}, room);
  return drawing::lever({400, 120, turn.value_or(0), 1}, room, false);
}

void right_half(const Ui& ui, const build::Build& build, build::EntryAt at, const View& view,
                const std::vector<build::Blocker>& blockers) {
  trouble_lines(ui, build, blockers, build.plan->entry(at));
  const float width = ImGui::GetContentRegionAvail().x - px(6);
  const float sheet = ImGui::GetWindowHeight();
  const float height = std::clamp(sheet * (1 - place_of_joint(view.pull.has_value())) - px(150), px(230), px(700));
  const double text = px(width > px(520) ? 19.0f : 16.0f);
  if (ui.sheet.asking == Asking::adapter) return show(adapter_as_typed(ui.sheet, {width, height, px(15)}));
  const auto joint = drawing::joint(build, at, view.asks);
  const auto& lever = build.entry(at).lever;
  const bool with_lever = lever && view.pull && reads_torque(view.pull->stage);
  show(drawing::pattern(joint, {width, with_lever ? std::max(px(230), height - px(210)) : height, text}));
  if (with_lever) show(drawing::lever(*lever, {width, px(200), px(14)}));
}

// --- the keys ------------------------------------------------------------------------------------------------------

Value tighten_action(const Ui& ui, const View& view, const std::string& fastener) {
  const Pull& pull = *view.pull;
  Value line = entry_action(ui, "tighten");
  line.set("fastener", Value::text(fastener));
  line.set("stage", Value::text(pull.stage.id));
  if (!pull.aim) return line;
  const Setting setting = setting_now(ui, view);
  line.set("value", Value::text(ui.sheet.typed.empty() ? setting.value.text() : ui.sheet.typed));
  line.set("unit", Value::text(std::string(unit_of(view).name)));
  if (pull.stage.prevailing) line.set("prevailing", Value::text(ui.sheet.run_on));
  if (!view.gauge.empty()) line.set("gauge", Value::text(view.gauge));
  return line;
}

std::string done_words(const Ui& ui, const View& view) {
  const Pull& pull = *view.pull;
  if (!pull.aim) return pull.stage.kind == StageKind::mark ? "marked" : "loosened";
  if (!stated_unread(pull, view.tool) && ui.sheet.typed.empty()) return "as it is read";
  const Setting setting = setting_now(ui, view);
  return fmt::format("at {} {}", shown(setting.value), setting.unit->name);
}

void next_gauge(Ui& ui, const build::Build& build, build::EntryAt at, const View& view) {
  const auto suitable = suitable_gauges(ui, build, at);
  if (suitable.empty()) return;
  const auto it = std::find_if(suitable.begin(), suitable.end(), [&](const auto* g) { return g->id == view.gauge; });
  const std::size_t now = it == suitable.end() ? 0 : static_cast<std::size_t>(it - suitable.begin()) + 1;
  ui.sheet.gauges[at] = suitable[now % suitable.size()]->id;
  ui.sheet.focus = true;
  ui.again = true;
}

// What the keys can do now; `works`: something can be stated.
std::vector<KeyLabel> keys_of(const Ui& ui, const View& view, bool works, std::size_t gauges) {
  if (works && view.asks) return {{"sure", "It is sure: go on", "F5"}, {"not-sure", "Not sure: loosen", "N"}};
  const KeyLabel more{"joint", "More about this joint", "Tab"};
  if (!works || !view.pull->lacking.empty()) return {more};
  const Pull& pull = *view.pull;
  std::vector<KeyLabel> row;
  const bool together = stated_together(pull, view.tool);
  const std::string done = done_words(ui, view);
  if (together) row.push_back({"all", fmt::format("{}, in this order, {}", which_words(pull), done), "A"});
  row.push_back({"one", together ? "Only " + pull.fastener() : pull.fastener() + " " + done, "Enter"});
  if (pull.aim && gauges > 1)
    row.push_back({"gauge", reads_torque(pull.stage) ? "Another wrench" : "Another gauge", "F6"});
  if (tracks_bolts(pull.entry)) row.push_back({"bolts", "New or reused bolts", "End"});
  row.push_back(more);
  return row;
}

void tighten_next(Ui& ui, const View& view) {
  const Pull& pull = *view.pull;
  ui.sheet.focus = true;
  ui.again = true;
  if (pull.stage.prevailing && ui.sheet.run_on.empty()) return;
  const bool read = pull.aim && !stated_unread(pull, view.tool) && !pull.stage.prevailing;
  if (read && ui.sheet.typed.empty()) return; // a reading is not made up
  ui.sheet.focus = false;                     // until it is answered: a field that has the keys would keep its text
  ui.send(tighten_action(ui, view, pull.fastener()));
}

int key_of(const std::string& id) {
  if (id == "sure") return f5;
  if (id == "not-sure") return key::letter_n;
  if (id == "joint") return key::tab;
  if (id == "gauge") return f6;
  if (id == "bolts") return key::end;
  return id == "all" ? key::letter_a : key::enter;
}

void act(Ui& ui, const build::Build& build, build::EntryAt at, const View& view, const std::string& id) {
  if (id == "sure") return ui.send(entry_action(ui, "confirm"));
  if (id == "not-sure") return ask_about_joint(ui, build, at, Asking::not_sure);
  if (id == "joint") return ask_about_joint(ui, build, at, Asking::joint);
  if (id == "gauge") return next_gauge(ui, build, at, view);
  if (id == "all") return ui.send(tighten_action(ui, view, "all"));
  if (id == "one") return tighten_next(ui, view);
  const bool length = bolt_words(build, *view.pull).wanted.rfind("Measure", 0) == 0;
  ask_about_joint(ui, build, at, length ? Asking::bolt_length : Asking::bolts);
}

} // namespace

float place_of_joint(bool at_work) {
  if (!at_work) return 0.35f;
  return ImGui::GetWindowHeight() < px(700) ? 0.0f : 0.25f;
}

void tightening_block(Ui& ui, const build::Build& build, build::EntryAt at,
                      const std::vector<build::Blocker>& blockers) {
  const View view = look(ui, build, at, blockers);
  const float room = ImGui::GetContentRegionAvail().x - px(30);
  const bool works = view.may_work && view.pull && view.wait == 0;
  std::vector<KeyLabel> row;
  if (view.may_work && ui.sheet.asking == Asking::nothing)
    row = keys_of(ui, view, works, works ? suitable_gauges(ui, build, at).size() : 0);
  const auto* clicked = key_row(row, room, std::min(fit_of(row, room), Fit::tight));
  if (ImGui::BeginTable("##joint", 2, ImGuiTableFlags_NoSavedSettings, ImVec2(room, 0))) {
    ImGui::TableSetupColumn("left", ImGuiTableColumnFlags_WidthFixed, room * 0.45f);
    ImGui::TableSetupColumn("right", ImGuiTableColumnFlags_WidthFixed, room * 0.54f);
    ImGui::TableNextRow();
    ImGui::TableSetColumnIndex(1);
    right_half(ui, build, at, view, blockers);
    ImGui::TableSetColumnIndex(0);
    left_half(ui, build, at, view);
    ImGui::EndTable();
  }
  if (ui.sent) return;
  // Only now: the field has taken in what was typed in this frame.
  for (const KeyLabel& button : row) {
    const bool struck = button.id == "one" ? enter_pressed() : pressed(key_of(button.id));
    if (clicked == &button || struck) return act(ui, build, at, view, button.id);
  }
}

void tightening_at_rest(const build::Build& build, build::EntryAt at) {
  const auto pull = next_pull(build, at);
  const auto& state = build.entry(at);
  if (!build::has_anything(state)) return;
  say(pull ? stage_words(*pull) + "; " + so_far(build, at, pull) : so_far(build, at, pull));
  const float width = ImGui::GetContentRegionAvail().x * 0.4f;
  show(drawing::pattern(drawing::joint(build, at, false), {width, px(190), px(16)}));
}

} // namespace bench

// What the keys do on the sheet, entry by entry: each becomes an action; the gate answers.
#include "bench/asking.h"
#include "bench/earlier.h"
#include "bench/entry_figure.h"
#include "bench/figure.h"
#include "bench/lengths.h"
#include "bench/photographs.h"
#include "bench/setting.h"
#include "bench/tightening.h"
#include "bench/typing_gauge.h"
#include "bench/ui.h"

#include "build/comparator.h"
#include "build/gauge.h"
#include "drawing/between.h"
#include "quantity/typed.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;
using procedure::EntryKind;

namespace {

bool reads(const procedure::Entry& entry) {
  return entry.kind == EntryKind::reading || entry.kind == EntryKind::readings;
}

// The one number of a cell as the action line wants it: nested, null everywhere else.
Value nested(const procedure::Step& step, const procedure::Entry& entry, std::size_t cell, const std::string& typed) {
  const auto shape = procedure::cells_of(step, entry);
  const std::size_t within = cell % shape.per_position();
  std::vector<Value> rows;
  for (std::size_t r = 0; r < shape.rows; ++r) {
    std::vector<Value> columns;
    for (std::size_t c = 0; c < shape.columns; ++c)
      columns.push_back(r * shape.columns + c == within ? Value::text(typed) : Value());
    rows.push_back(entry.columns.empty() ? columns.front() : Value::array(std::move(columns)));
  }
  return entry.rows.empty() ? rows.front() : Value::array(std::move(rows));
}

Value reading_action(const Ui& ui, const build::Build& build, build::EntryAt at, const char* name) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  Value out = entry_action(ui, name);
  if (!step.positions.empty())
    out.set("position", Value::text(step.positions[ui.sheet.cell / procedure::cells_of(step, entry).per_position()]));
  const bool one = entry.rows.empty() && entry.columns.empty();
  out.set(one ? "value" : "values", nested(step, entry, ui.sheet.cell, as_meant(ui.sheet.typed, *entry.unit)));
  if (!entry.by_eye) out.set("gauge", Value::text(chosen_gauge(ui, build, at)));
  add_how(ui, build, at, out);
  if (ui.sheet.as_found)
    out.set("as_found", Value::boolean(true));
  else if (looks_again(ui, build))
    out.set("second_look", Value::boolean(true));
  return out;
}

// What the number would be, before it is recorded: read strictly and judged as the gate will judge it.
void preview(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const bool gauge_types = ui.sheet.typing_gauges.contains(chosen_gauge(ui, build, at));
  const auto typed = quantity::parse_typed(
      as_meant(gauge_types ? as_the_gauge_means(ui.sheet.typed) : ui.sheet.typed, *entry.unit), *entry.unit);
  if (!typed) {
    say(fonts().text, theme().shout, typed.error().message);
    return;
  }
  const auto value = size_of(ui, build, at, quantity::in_unit(*typed, *entry.unit)->value);
  if (!value) return say(fonts().text, theme().shout, value.error().message);
  std::string words = shown_length(*value, *entry.unit);
  if (in_inches(*entry.unit)) words += fmt::format(" ({})", quantity::text({*value, entry.unit, std::nullopt}));
  if (!how_read(ui, build, at).part_at.empty()) // the gate takes it to 20 degC, and judges that
    return say(fonts().large, theme().ink, words + " before it is taken to 20 degC");
  const auto* gauge = ui.desk.shop().gauge(chosen_gauge(ui, build, at));
  const auto u = gauge ? build::trust(*gauge, *value, *entry.unit).u : quantity::Exact();
  if (!entry.limit.empty() && !ui.sheet.as_found) {
    const auto position = ui.sheet.cell / procedure::cells_of(build.plan->step(at.step), entry).per_position();
    const auto by = build::applied(build, at, entry.limit, position);
    const auto& unit = *by.limit->unit;
    const auto standing = build::judge(by, quantity::convert(*value, *entry.unit, unit),
                                       quantity::convert_difference(u, *entry.unit, unit));
    say(fonts().large, theme().ink, fmt::format("{}: {}", build::name_of(standing), words));
    const auto beside = between(build, at, ui.sheet.cell, by, *value, u, standing);
    const float room = std::min(px(420), ImGui::GetContentRegionAvail().x - px(30));
    if (beside) show(drawing::band(*beside, {room, px(46), px(16)}));
    return;
  }
  say(fonts().large, theme().ink, words);
}

void readings_input(Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  auto& sheet = ui.sheet;
  const auto cells = cells_at_work(ui, build, at);
  sheet.cell = std::min(sheet.cell, cells.size() - 1);
  if (sheet.typed.empty()) {
    if (pressed(key::right) && sheet.cell + 1 < cells.size()) ++sheet.cell;
    if (pressed(key::left) && sheet.cell > 0) --sheet.cell;
  }
  const bool stands = cells[sheet.cell].filled() && !cells[sheet.cell].asked;
  const bool asks = stands && !looks_again(ui, build) && !sheet.as_found;
  if (takes_it_up(ui)) { // the field takes it in once it has let the keys go
    if (asks) sheet.asking = Asking::what_changed;
    return;
  }
  const std::string point = procedure::name_of_cell(step, entry, sheet.cell);
  const std::string gauge = chosen_gauge(ui, build, at);
  say(fonts().large, theme().ink,
      fmt::format("{} in {}, with {}", point.empty() ? "The reading" : "At " + point, unit_words(*entry.unit),
                  entry.by_eye    ? "the eye"
                  : gauge.empty() ? "no gauge of the shop: none will do, F10 adds one"
                                  : gauge));
  setting_line(ui, build, at);
  if (const std::string earlier = earlier_words(ui, build, at); !earlier.empty())
    say(fonts().text, theme().soft_ink, earlier);
  const bool enter = enter_pressed();
  text_field("reading", sheet.typed, 14, sheet.focus);
  sheet.focus = false;
  ImGui::SameLine();
  const bool clicked = key_button("record", "Record", "Enter");
  if (!entry.by_eye) {
    ImGui::SameLine();
    const auto suitable = suitable_gauges(ui, build, at);
    if ((key_button("gauge", "Another gauge", "F6") || pressed(key::f1 + 5)) && !suitable.empty()) {
      const auto it = std::find_if(suitable.begin(), suitable.end(), [&](const auto* g) { return g->id == gauge; });
      const std::size_t now = it == suitable.end() ? 0 : static_cast<std::size_t>(it - suitable.begin()) + 1;
      sheet.gauges[at] = suitable[now % suitable.size()]->id;
      sheet.focus = true;
      ui.again = true;
    }
    setting_buttons(ui, build, at);
  }
  if (!sheet.typed.empty()) preview(ui, build, at);
  if (!(enter || clicked)) return;
  sheet.focus = true;
  ui.again = true;
  if (sheet.typed.empty()) return;
  const bool by_gauge = enter && typed_at_once();
  if (by_gauge && stands) return not_taken(ui, build, at);
  if (by_gauge) sheet.typing_gauges.insert(gauge);
  const bool types = sheet.typing_gauges.contains(gauge);
  if (types) sheet.typed = as_the_gauge_means(sheet.typed);
  sheet.not_taken.clear();
  if (asks) {
    sheet.asking = Asking::what_changed;
    return;
  }
  sheet.by_gauge = types;
  sheet.focus = false; // until it is answered: a field that has the keys would keep its text
  ui.send(reading_action(ui, build, at, "record"));
}

void ask_what_changed(Ui& ui, const build::Build& build, build::EntryAt at) {
  say(fonts().strong, theme().ink, fmt::format("There is a reading already. What does {} mean?", ui.sheet.typed));
  const bool misread = key_button("misread", "I misread it", "1") || digit(1);
  ImGui::SameLine();
  const bool again = key_button("again", "measured once more", "2") || digit(2);
  ImGui::SameLine();
  const bool slipped = key_button("slip", "a slip of the keys", "3") || digit(3);
  say(fonts().text, theme().soft_ink, "If the part itself was changed: Escape, then F8.");
  if (!misread && !again && !slipped) return;
  Value line = reading_action(ui, build, at, again ? "again" : "correct");
  if (!again) line.set("reason", Value::text(misread ? "misread" : "typed"));
  ui.sheet.asking = Asking::nothing;
  ui.send(std::move(line));
}

void identity_input(Ui& ui) {
  const bool enter = enter_pressed();
  text_field("mark", ui.sheet.typed, 26, ui.sheet.focus);
  ui.sheet.focus = false;
  ImGui::SameLine();
  const bool clicked = key_button("write", "Write down", "Enter");
  if (!(enter || clicked)) return;
  ui.sheet.focus = ui.again = true; // Enter has taken the keys from the field
  if (ui.sheet.typed.empty()) return;
  Value line = entry_action(ui, "identify");
  line.set("text", Value::text(ui.sheet.typed));
  ui.send(std::move(line));
}

void choice_input(Ui& ui, const procedure::Entry& entry) {
  for (std::size_t c = 0; c < entry.choices.size() && c < 9; ++c) {
    const IdScope scope(static_cast<int>(c));
    const int number = static_cast<int>(c) + 1;
    const bool chosen = key_button("choose", entry.choices[c], std::to_string(number)) || digit(number);
    if (c + 1 < entry.choices.size()) ImGui::SameLine();
    if (!chosen) continue;
    Value line = entry_action(ui, "pick");
    line.set("value", Value::text(entry.choices[c]));
    ui.send(std::move(line));
  }
}

bool asks_still_true(const build::EntryState& state) {
  const auto asks = [](const auto& it) { return it.asked; };
  return state.asked || std::any_of(state.cells.begin(), state.cells.end(), asks) ||
         std::any_of(state.calculated.begin(), state.calculated.end(), asks);
}

} // namespace

void entry_input(Ui& ui, const build::Build& build, build::EntryAt at) {
  const bool again = looks_again(ui, build);
  if (build.released() || (!build.step(at.step).signatures.empty() && !again) || !ui.desk.signed_in()) return;
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  if (again && !reads(entry)) return;
  if (ui.sheet.asking == Asking::what_changed) return ask_what_changed(ui, build, at);
  if (ui.sheet.asking != Asking::nothing || held(ui, build, at)) return;
  if (asks_still_true(state)) {
    if (key_button("still", "Still true", "F5") || pressed(key::f1 + 4)) ui.send(entry_action(ui, "confirm"));
    if (!reads(entry)) return;
  }
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings: readings_input(ui, build, at); break;
  case EntryKind::identity:
    if (!state.done) identity_input(ui);
    break;
  case EntryKind::choice:
    if (!state.done) choice_input(ui, entry);
    break;
  case EntryKind::confirm:
    if (!state.done && (key_button("done", "Done, and seen", "F5") || pressed(key::f1 + 4)))
      ui.send(entry_action(ui, "confirm"));
    break;
  case EntryKind::wait:
    if (!state.done && (key_button("start", "Start the clock", "F5") || pressed(key::f1 + 4)))
      ui.send(entry_action(ui, "wait"));
    break;
  case EntryKind::photograph:
    if (key_button("photograph", "Lay a photograph beside it, or drop the file here", "Shift F5"))
      ask_photograph(ui, false);
    break;
  case EntryKind::tightening: // has its own part of the sheet
  case EntryKind::calculated: break;
  }
}

void as_found_input(Ui& ui, const build::Build& build, build::EntryAt at) {
  if (!held(ui, build, at)) readings_input(ui, build, at);
}

bool looks_again(const Ui& ui, const build::Build& build) {
  const auto& who = ui.desk.signed_in();
  return who && build::may_look_again(ui.desk.shop(), build, ui.sheet.step, who->person) &&
         build::before_second_look(build, ui.sheet.step, ui.desk.now()).empty();
}

std::vector<build::Cell> cells_at_work(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& state = build.entry(at);
  if (ui.sheet.as_found) return state.as_found.empty() ? std::vector<build::Cell>(state.cells.size()) : state.as_found;
  if (at.step != ui.sheet.step || !looks_again(ui, build)) return state.cells;
  return state.second_look.empty() ? std::vector<build::Cell>(state.cells.size()) : state.second_look;
}

std::vector<const build::Gauge*> suitable_gauges(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const auto now = ui.desk.now();
  if (entry.kind == EntryKind::tightening) {
    const auto pull = next_pull(build, at);
    return pull ? suitable_tools(ui.desk.shop(), *pull, now) : std::vector<const build::Gauge*>();
  }
  std::vector<const build::Gauge*> out;
  for (const auto& [id, gauge] : ui.desk.shop().gauges) {
    bool will_do = false;
    if (entry.unit) {
      will_do = build::may_measure(ui.desk.shop(), gauge, entry, now).ok();
      // A range that lies wholly beyond the limits cannot be meant.
      const auto by = entry.limit.empty() ? build::Applied{} : build::applied(build, at, entry.limit, 0);
      if (will_do && by.bounds && by.bounds->high)
        will_do = build::in_range(gauge, *by.bounds->high, *by.limit->unit).ok();
    }
    if (will_do) out.push_back(&gauge);
  }
  return out;
}

std::string chosen_gauge(const Ui& ui, const build::Build& build, build::EntryAt at) {
  if (const auto* set = build::open_set(build.entry(at))) return set->gauge;
  const auto it = ui.sheet.gauges.find(at);
  const bool tightening = build.plan->entry(at).kind == EntryKind::tightening;
  if (it != ui.sheet.gauges.end() && !tightening) return it->second;
  const auto suitable = suitable_gauges(ui, build, at);
  // Another stage may ask for another tool than the one that was chosen.
  for (const auto* gauge : suitable)
    if (it != ui.sheet.gauges.end() && gauge->id == it->second) return gauge->id;
  return suitable.empty() ? std::string() : suitable.front()->id;
}

} // namespace bench

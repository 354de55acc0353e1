#include "bench/typing_gauge.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using procedure::EntryKind;

namespace {

bool at_once = false;

constexpr double a_moment = 0.06; // s, longer than a gauge takes from key to key
constexpr double never = -1;
struct {
  double last = never; // something was typed, since any other key
  int waiting = -1;
  int alone = -1;
  int frames = 0; // still wanted: what it answered may have moved the keys to another field
} digits;
constexpr int frames_after_a_digit = 3;

bool reads(const procedure::Entry& entry) {
  return entry.kind == EntryKind::reading || entry.kind == EntryKind::readings;
}

bool any_key_but_digits() {
  return enter_pressed() || pressed(key::tab) || pressed(key::escape) || pressed(key::backspace);
}

void count_digits(int& how_many, int& which) {
  for (int n = 0; n <= 9; ++n) {
    if (!pressed(key::digit_0 + n) && !pressed(key::keypad_0 + n)) continue;
    ++how_many;
    which = n;
  }
}

std::string what_comes(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const std::string gauge = reads(entry) && !entry.by_eye ? chosen_gauge(ui, build, at) : std::string();
  return gauge.empty() ? entry.title : fmt::format("{}, with {}", entry.title, gauge);
}

} // namespace

bool by_function_key(const procedure::Entry& entry) {
  return entry.kind == EntryKind::confirm || entry.kind == EntryKind::wait || entry.kind == EntryKind::photograph ||
         entry.kind == EntryKind::calculated;
}

void say_typed_at_once(bool on) {
  at_once = on;
}

bool typed_at_once() {
  return at_once;
}

void watch_typing() {
  const double now = ImGui::GetTime();
  int which = -1;
  int struck = 0;
  count_digits(struck, which);
  const int typed = std::max(struck, ImGui::GetIO().InputQueueCharacters.Size);
  digits.alone = -1;
  if (digits.frames > 0) --digits.frames;
  if (typed > 0) {
    const bool goes_on = digits.last >= 0 && now >= digits.last && now - digits.last < a_moment;
    digits.waiting = typed == 1 && !goes_on ? which : -1;
    digits.last = now;
  } else if (digits.waiting >= 0 && now - digits.last >= a_moment) {
    digits.alone = digits.waiting;
    digits.frames = frames_after_a_digit;
    digits.waiting = -1;
  }
  if (any_key_but_digits()) digits.last = never;
}

int digit_alone() {
  return digits.alone;
}

bool digit_waits() {
  return digits.waiting >= 0 || digits.frames > 0;
}

std::string as_the_gauge_means(std::string_view typed) {
  std::string out(typed);
  out.erase(0, std::min(out.find_first_not_of(' '), out.size()));
  out.erase(out.find_last_not_of(' ') + 1);
  const bool one_comma = std::ranges::count(out, ',') == 1 && std::ranges::count(out, '.') == 0;
  if (one_comma) out[out.find(',')] = '.';
  return out;
}

void not_taken(Ui& ui, const build::Build& build, build::EntryAt at) {
  auto& sheet = ui.sheet;
  const auto cells = cells_at_work(ui, build, at);
  const auto& cell = cells[sheet.cell];
  const auto& entry = build.plan->entry(at);
  const std::string point = procedure::name_of_cell(build.plan->step(at.step), entry, sheet.cell);
  const std::string typed = as_the_gauge_means(sheet.typed);
  const std::string what = fmt::format("{} from the gauge is not taken", typed);
  if (cell.judged.blocks())
    ui.message =
        fmt::format("{}: {} stands{}{}, {}. F8 says what is done about it, Tab says what {} means.", what,
                    cell.value.text(), point.empty() ? "" : " at ", point, build::name_of(cell.judged.standing), typed);
  else
    ui.message = fmt::format("{}: no point of {} is left to measure. Tab says what it means.", what, entry.title);
  ui.refused = true;
  sheet.not_taken = typed;
  sheet.typed.clear();
  sheet.focus = true;
  ui.again = true;
}

bool takes_it_up(Ui& ui) {
  if (ui.sheet.not_taken.empty() || !pressed(key::tab)) return false;
  ui.sheet.typed = std::exchange(ui.sheet.not_taken, "");
  ui.sheet.focus = true;
  ui.message.clear();
  ui.again = true;
  return true;
}

void hold_where_another_kind(Ui& ui, build::EntryAt from) {
  const auto& build = *ui.desk.build();
  const build::EntryAt to{ui.sheet.step, ui.sheet.entry};
  if (to == from) return;
  const auto& before = build.plan->entry(from);
  const auto& after = build.plan->entry(to);
  const bool same = reads(after) && before.unit == after.unit && before.by_eye == after.by_eye &&
                    chosen_gauge(ui, build, from) == chosen_gauge(ui, build, to);
  ui.sheet.held = !same;
  if (same) return;
  ui.sheet.held_after = before.title;
}

bool held(Ui& ui, const build::Build& build, build::EntryAt at) {
  auto& sheet = ui.sheet;
  if (!sheet.held) return false;
  const auto& entry = build.plan->entry(at);
  const bool own_keys = by_function_key(entry);
  const bool enter = enter_pressed();
  say(fonts().strong, theme().ink,
      own_keys ? fmt::format("{} is measured; what the gauge types now is not taken.", sheet.held_after)
               : fmt::format("{} is measured. What the gauge types now is not taken; Tab goes on to {}.",
                             sheet.held_after, what_comes(ui, build, at)));
  text_field("held", sheet.typed, 14, sheet.focus);
  sheet.focus = false;
  bool goes_on = false;
  if (!own_keys) {
    ImGui::SameLine();
    goes_on = key_button("go-on", "Go on", "Tab") || pressed(key::tab);
  }
  if (goes_on) {
    sheet.held = false;
    sheet.typed.clear();
    ui.message.clear();
  } else if (enter && !sheet.typed.empty()) {
    ui.message = fmt::format("{} is not taken: {} is measured{}.", sheet.typed, sheet.held_after,
                             own_keys ? "" : "; Tab goes on");
    ui.refused = true;
    sheet.typed.clear();
  }
  if (enter || goes_on) {
    sheet.focus = true;
    ui.again = true;
  }
  return !own_keys || goes_on;
}

} // namespace bench

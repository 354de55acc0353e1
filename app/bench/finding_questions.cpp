// The questions about a fault that was found, asked in the place of the keys one after the other: which part, which
// position, what, where on it. The last one sends it.
#include "bench/asking.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;

std::optional<std::size_t> choose(Ui& ui, const std::vector<std::string>& labels) {
  if (labels.empty()) return std::nullopt;
  std::size_t& row = ui.sheet.found.row;
  if (pressed(key::down)) ++row;
  if (pressed(key::up) && row > 0) --row;
  row = std::min(row, labels.size() - 1);
  std::vector<KeyLabel> keys;
  for (std::size_t i = 0; i < labels.size(); ++i) {
    const std::string number = i < 9 ? std::to_string(i + 1) : "";
    keys.push_back({fmt::format("choose-{}", i), labels[i],
                    i != row         ? number
                    : number.empty() ? "Enter"
                                     : number + " or Enter"});
  }
  const float room = ImGui::GetContentRegionAvail().x - px(24);
  const auto fits = [&](const KeyLabel& one) { return width_of({&one, 1}, Fit::wide) <= room; };
  const bool few = labels.size() <= 9 && std::ranges::all_of(keys, fits);
  const KeyLabel* clicked = key_row(keys, room, few ? Fit::wide : Fit::tight);
  for (std::size_t i = 0; i < labels.size(); ++i)
    if (clicked == &keys[i] || (i < 9 && digit(static_cast<int>(i) + 1)) || (i == row && enter_pressed())) return i;
  return std::nullopt;
}

bool tick(Ui& ui, std::vector<Ticked>& list, const char* on, const char* off) {
  if (list.empty()) return true;
  std::size_t& row = ui.sheet.found.row;
  if (pressed(key::down)) ++row;
  if (pressed(key::up) && row > 0) --row;
  row = std::min(row, list.size() - 1);
  std::vector<KeyLabel> keys;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const std::string number = i < 9 ? std::to_string(i + 1) : "";
    keys.push_back({fmt::format("tick-{}", i), fmt::format("{}: {}", list[i].label, list[i].on ? on : off),
                    i != row         ? number
                    : number.empty() ? "Insert"
                                     : number + " or Insert"});
  }
  keys.push_back({"go-on", "Go on", "Enter"});
  const KeyLabel* clicked = key_row(keys, ImGui::GetContentRegionAvail().x - px(24), Fit::tight);
  for (std::size_t i = 0; i < list.size(); ++i)
    if (clicked == &keys[i] || (i < 9 && digit(static_cast<int>(i) + 1)) || (i == row && pressed(key::insert))) {
      list[i].on = !list[i].on;
      ui.again = true;
    }
  return enter_pressed() || clicked == &keys.back();
}

namespace {

std::string lower(std::string text) {
  for (char& c : text)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return text;
}

bool concerns(const procedure::Step& step, const std::string& part) {
  const auto names = [&](const auto& list) { return std::ranges::find(list, part) != list.end(); };
  return step.part == part || names(step.fits) ||
         std::ranges::any_of(step.entries, [&](const auto& entry) { return names(entry.parts); });
}

// Those of the unfolded step first; only those with the letters in their title.
std::vector<const procedure::Part*> parts_offered(const Ui& ui, const build::Build& build, const std::string& letters) {
  std::vector<const procedure::Part*> out;
  for (const auto& part : build.plan->procedure().parts)
    if (lower(part.title).find(lower(letters)) != std::string::npos) out.push_back(&part);
  const auto& step = build.plan->step(ui.sheet.step);
  std::stable_partition(out.begin(), out.end(), [&](const auto* part) { return concerns(step, part->id); });
  return out;
}

std::vector<const procedure::OfferedFinding*> offered_on(const build::Build& build, const std::string& part) {
  std::vector<const procedure::OfferedFinding*> out;
  for (const auto& offered : build.plan->procedure().findings)
    if (std::ranges::find(offered.parts, part) != offered.parts.end()) out.push_back(&offered);
  return out;
}

std::string named_so_far(const Ui& ui, const build::Build& build) {
  const auto& found = ui.sheet.found;
  const auto& part = *build.plan->procedure().part(found.part);
  return found.position.empty() ? part.title : fmt::format("{} {}", part.title, found.position);
}

void ask_next(Ui& ui, Asking what) {
  ask(ui, what);
  ui.sheet.found.row = 0;
}

void ask_what_or_words(Ui& ui, const build::Build& build) {
  ask_next(ui, offered_on(build, ui.sheet.found.part).empty() ? Asking::found_words : Asking::found_what);
}

} // namespace

void ask_what_was_found(Ui& ui, const build::Build& build, const std::string& part, const std::string& position) {
  ui.sheet.found = Found();
  ui.sheet.found.part = part;
  ui.sheet.found.position = position;
  ask_what_or_words(ui, build);
}

namespace {

void ask_part(Ui& ui, const build::Build& build) {
  say(fonts().strong, theme().ink, "Something was found: on which part?");
  if (build.plan->procedure().parts.empty()) {
    say("This procedure names no parts; write it into a note.");
    return;
  }
  const std::string before = ui.sheet.typed;
  text_field("part", ui.sheet.typed, 22, ui.sheet.focus);
  say(fonts().text, theme().soft_ink,
      "A few letters narrow them down. A number chooses; so do Up, Down and Enter. Escape leaves.");
  ui.sheet.focus = enter_pressed(); // it takes the keys from the field
  bool by_number = false;
  for (int number = 1; number <= 9; ++number) by_number = by_number || digit(number);
  if (!by_number && before != ui.sheet.typed) ui.sheet.found.row = 0;
  const auto parts = parts_offered(ui, build, by_number ? before : ui.sheet.typed);
  std::vector<std::string> titles;
  for (const auto* part : parts) titles.push_back(part->title);
  if (parts.empty()) say("No part is called that; try fewer letters.");
  const auto chosen = choose(ui, titles);
  if (!chosen) return;
  ui.sheet.found = Found();
  ui.sheet.found.part = parts[*chosen]->id;
  if (parts[*chosen]->positions.empty()) return ask_what_or_words(ui, build);
  ask_next(ui, Asking::found_position);
}

void ask_position(Ui& ui, const build::Build& build) {
  const auto& part = *build.plan->procedure().part(ui.sheet.found.part);
  say(fonts().strong, theme().ink, fmt::format("{}: which one?", part.title));
  std::vector<std::string> labels = part.positions;
  labels.emplace_back("all of them, or none in particular");
  const auto chosen = choose(ui, labels);
  if (!chosen) return;
  if (*chosen < part.positions.size()) ui.sheet.found.position = part.positions[*chosen];
  ask_what_or_words(ui, build);
}

void ask_what(Ui& ui, const build::Build& build) {
  const auto offered = offered_on(build, ui.sheet.found.part);
  say(fonts().strong, theme().ink, fmt::format("{}: what was found?", named_so_far(ui, build)));
  std::vector<std::string> labels;
  for (const auto* each : offered) labels.push_back(each->text);
  labels.emplace_back("Something else, in my own words");
  const auto chosen = choose(ui, labels);
  if (!chosen) return;
  if (*chosen < offered.size()) ui.sheet.found.offered = offered[*chosen]->id;
  ask_next(ui, Asking::found_words);
}

void ask_words(Ui& ui, const build::Build& build) {
  Found& found = ui.sheet.found;
  const auto* offered = build.plan->procedure().finding(found.offered);
  say(fonts().strong, theme().ink,
      offered ? fmt::format("{}: {}", named_so_far(ui, build), offered->text) : named_so_far(ui, build) + ":");
  const std::pair<const char*, std::string*> place{"Where on it, or nothing", &found.place};
  const std::pair<const char*, std::string*> value{"A reading with its unit, or nothing", &found.value};
  const bool ready =
      offered ? fields(ui, {place, value}) : fields(ui, {{"What was found, in words", &found.text}, place, value});
  if (!ready || (!offered && found.text.empty())) return;
  Value line = build_action(ui, "finding");
  line.remove("step");
  line.set("part", Value::text(found.part));
  if (!found.position.empty()) line.set("position", Value::text(found.position));
  line.set(offered ? "offered" : "text", Value::text(offered ? found.offered : found.text));
  if (!found.place.empty()) line.set("place", Value::text(found.place));
  if (!found.value.empty()) line.set("value", Value::text(found.value));
  found = Found();
  leave(ui);
  ui.send(std::move(line));
}

} // namespace

void finding_questions(Ui& ui, const build::Build& build) {
  switch (ui.sheet.asking) {
  case Asking::found_part: ask_part(ui, build); break;
  case Asking::found_position: ask_position(ui, build); break;
  case Asking::found_what: ask_what(ui, build); break;
  case Asking::found_words: ask_words(ui, build); break;
  default: break;
  }
}

} // namespace bench

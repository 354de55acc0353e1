#include "bench/setting.h"

#include "bench/asking.h"
#include "bench/lengths.h"
#include "build/comparator.h"
#include "quantity/typed.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;
using procedure::EntryKind;

namespace {

constexpr int f6 = key::f1 + 5;
constexpr int f7 = key::f1 + 6;

build::EntryAt at_work(const Ui& ui) {
  return {ui.sheet.step, ui.sheet.entry};
}

// Lengths read with a gauge; nothing else is set to a size here, or grows with warmth.
bool may_be_set(const procedure::Entry& entry) {
  const bool reads = entry.kind == EntryKind::reading || entry.kind == EntryKind::readings;
  return reads && !entry.by_eye && entry.unit->dimension == quantity::Dimension::length;
}

const build::Try* newest_in_cell(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& state = build.entry(at);
  const auto& cells = looks_again(ui, build) ? state.second_look : state.cells;
  if (ui.sheet.cell >= cells.size() || cells[ui.sheet.cell].tries.empty()) return nullptr;
  return &cells[ui.sheet.cell].tries.back();
}

void take_setting(HowRead& how, const build::ComparatorSet& set) {
  how.set_at = build::size_text(set);
  how.set_with = set.with;
}

// What the gauge at work can be set on: setting standards first.
std::vector<std::string> standards(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const std::string gauge = chosen_gauge(ui, build, at);
  const auto size = quantity::parse_typed(as_meant(ui.sheet.asked_how.set_at, *entry.unit), *entry.unit);
  std::vector<std::string> first, rest;
  for (const auto& [id, one] : ui.desk.shop().gauges) {
    if (id == gauge || one.tool != build::Tool::measuring) continue;
    if (!build::may_gauge(ui.desk.shop(), one, *entry.unit, ui.desk.now())) continue;
    if (size && !build::in_range(one, size->value, *size->unit)) continue;
    (one.kind == "setting standard" ? first : rest).push_back(id);
  }
  first.insert(first.end(), rest.begin(), rest.end());
  return first;
}

// A few letters are enough where only one of them has these.
std::string named_among(const std::vector<std::string>& ids, const std::string& letters) {
  if (letters.empty() || std::ranges::find(ids, letters) != ids.end()) return letters;
  std::string found;
  for (const auto& id : ids) {
    if (id.find(letters) == std::string::npos) continue;
    if (!found.empty()) return letters;
    found = id;
  }
  return found.empty() ? letters : found;
}

std::string setting_words(const build::ComparatorSet& set, const quantity::Unit& unit) {
  if (!in_inches(unit)) return build::setting_text(set, unit);
  return shown_length(set.at, unit) + (set.with.empty() ? "" : " on " + set.with);
}

std::string set_at_words(const HowRead& how, const quantity::Unit& unit) {
  const auto typed = quantity::parse_typed(how.set_at, unit);
  return in_inches(unit) && typed ? shown_length(quantity::convert(typed->value, *typed->unit, unit), unit)
                                  : how.set_at;
}

// What is wrong with what was typed so far; "" when nothing is.
std::string fault_in(const HowRead& how, const quantity::Unit& unit) {
  const auto read = [](const char* what, const std::string& text, const quantity::Unit& in) -> std::string {
    if (text.empty()) return "";
    const auto typed = quantity::parse_typed(text, in);
    return typed ? "" : fmt::format("{}: {}", what, typed.error().message);
  };
  const auto& celsius = *quantity::find_unit("degC");
  for (const auto& fault : {read("Gauge set at", how.set_at, unit), read("The part is at", how.part_at, celsius),
                            read("The gauge is at", how.gauge_at, celsius)})
    if (!fault.empty()) return fault;
  if (how.part_at.empty() && !how.gauge_at.empty()) return "Say how warm the part is too.";
  if (how.set_at.empty() && !how.set_with.empty()) return "Say at which size the gauge is set.";
  return "";
}

void begin(Ui& ui, const build::Build& build) {
  HowRead how = how_read(ui, build, at_work(ui));
  const auto& unit = *build.plan->entry(at_work(ui)).unit;
  if (in_inches(unit) && quantity::Exact::decimal(how.set_at)) how.set_at += fmt::format(" {}", unit.name);
  ask(ui, Asking::setting);
  ui.sheet.asked_how = how;
}

void ask_setting(Ui& ui, const build::Build& build) {
  const build::EntryAt at = at_work(ui);
  const auto& entry = build.plan->entry(at);
  HowRead& how = ui.sheet.asked_how;
  const auto* open = build::open_set(build.entry(at));
  const auto could_be = standards(ui, build, at);
  say(fonts().strong, theme().ink, fmt::format("{}, with {}:", entry.title, chosen_gauge(ui, build, at)));
  if (open)
    say(fmt::format("It stays set at {} until it is put back there.", setting_words(*open, *entry.unit)));
  else
    say(fonts().text, theme().soft_ink,
        could_be.empty() ? "Nothing in the shop is there to set it on."
                         : fmt::format("It could be set on {}; a few letters do.", fmt::join(could_be, ", ")));
  const std::string set_at = fmt::format("Gauge set at, in {}, or nothing: it shows the size", unit_words(*entry.unit));
  const std::pair<const char*, std::string*> part{"The part is at, in degC, or nothing: 20", &how.part_at};
  const std::pair<const char*, std::string*> gauge{"The gauge is at, in degC, or nothing: 20", &how.gauge_at};
  const bool ready = open ? fields(ui, {part, gauge})
                          : fields(ui, {{set_at.c_str(), &how.set_at},
                                        {"Set on which ring or gauge, or nothing", &how.set_with},
                                        part,
                                        gauge});
  const std::string fault = fault_in(how, *entry.unit);
  if (!fault.empty()) say(fonts().text, theme().shout, fault);
  if (!ready || !fault.empty()) return;
  how.set_at = as_meant(how.set_at, *entry.unit);
  how.set_with = named_among(could_be, how.set_with);
  ui.sheet.how[at] = how;
  leave(ui);
}

void ask_zero(Ui& ui, const build::Build& build) {
  const build::EntryAt at = at_work(ui);
  const auto& entry = build.plan->entry(at);
  const auto* set = build::open_set(build.entry(at));
  if (!set) return leave(ui);
  say(fonts().strong, theme().ink,
      fmt::format("{} back on its setting, {}: what does it show?", set->gauge, setting_words(*set, *entry.unit)));
  say(fonts().text, theme().soft_ink,
      fmt::format("More than {} either way, and what was read from it is measured again.",
                  shown_length(set->division, *entry.unit)));
  const std::string shows = fmt::format("It shows, in {}", unit_words(*entry.unit));
  if (!fields(ui, {{shows.c_str(), &ui.sheet.typed}}) || ui.sheet.typed.empty()) return;
  Value line = entry_action(ui, "zero");
  line.set("value", Value::text(as_meant(ui.sheet.typed, *entry.unit)));
  ui.sheet.how[at].set_at.clear();
  ui.sheet.how[at].set_with.clear();
  leave(ui);
  ui.send(std::move(line));
}

} // namespace

HowRead how_read(const Ui& ui, const build::Build& build, build::EntryAt at) {
  HowRead out;
  if (!may_be_set(build.plan->entry(at))) return out;
  if (const auto asked = ui.sheet.how.find(at); asked != ui.sheet.how.end()) out = asked->second;
  const auto& state = build.entry(at);
  const auto* newest = newest_in_cell(ui, build, at);
  if (const auto* open = build::open_set(state))
    take_setting(out, *open);
  else if (out.set_at.empty() && newest && newest->set > 0 && newest->gauge == chosen_gauge(ui, build, at))
    take_setting(out, state.sets.at(static_cast<std::size_t>(newest->set) - 1));
  if (out.part_at.empty() && newest && newest->warmth) {
    out.part_at = newest->warmth->part_at.text();
    out.gauge_at = newest->warmth->gauge_assumed ? "" : newest->warmth->gauge_at.text();
  }
  return out;
}

void add_how(const Ui& ui, const build::Build& build, build::EntryAt at, Value& line) {
  const HowRead how = how_read(ui, build, at);
  for (const auto& [name, text] : {std::pair{"set_at", &how.set_at}, std::pair{"set_with", &how.set_with},
                                   std::pair{"part_at", &how.part_at}, std::pair{"gauge_at", &how.gauge_at}})
    if (!text->empty()) line.set(name, Value::text(*text));
}

quantity::Result<quantity::Exact> size_of(const Ui& ui, const build::Build& build, build::EntryAt at,
                                          const quantity::Exact& typed) {
  const HowRead how = how_read(ui, build, at);
  const auto& unit = *build.plan->entry(at).unit;
  if (how.set_at.empty()) return typed;
  const auto set_at = quantity::parse_typed(how.set_at, unit);
  if (!set_at) return set_at.error();
  const auto size = quantity::convert(set_at->value, *set_at->unit, unit);
  if (build::beyond_a_dial(typed, size))
    return quantity::Error{"implausible", fmt::format("The gauge is set at {}: type what its dial shows, near 0.",
                                                      in_inches(unit) ? shown_length(size, unit)
                                                                      : fmt::format("{} {}", how.set_at, unit.name))};
  return size + typed;
}

void setting_line(const Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  if (!may_be_set(entry)) return;
  const HowRead how = how_read(ui, build, at);
  if (!how.set_at.empty())
    say(fonts().strong, theme().ink,
        fmt::format("set at {}{}: type what the dial shows", set_at_words(how, *entry.unit),
                    how.set_with.empty() ? "" : " on " + how.set_with));
  if (!how.part_at.empty())
    say(fonts().strong, theme().ink,
        fmt::format("the part at {} degC{}: the size is taken to 20 degC", how.part_at,
                    how.gauge_at.empty() ? "" : fmt::format(", the gauge at {}", how.gauge_at)));
}

bool setting_keys(Ui& ui, const build::Build& build) {
  const build::EntryAt at = at_work(ui);
  const bool at_rest = !build.step(at.step).signatures.empty() && !looks_again(ui, build);
  if (at_rest || !may_be_set(build.plan->entry(at))) return false;
  if (pressed_with_shift(f6)) {
    begin(ui, build);
    return true;
  }
  if (!pressed_with_shift(f7)) return false;
  if (build::open_set(build.entry(at))) ask(ui, Asking::zero);
  return true; // F7 alone signs
}

void setting_buttons(Ui& ui, const build::Build& build, build::EntryAt at) {
  if (!may_be_set(build.plan->entry(at))) return;
  const bool open = build::open_set(build.entry(at)) != nullptr;
  if (key_button("setting", open ? "Part warm" : "Gauge set at, part warm", "Shift F6")) begin(ui, build);
  if (!open) return;
  ImGui::SameLine();
  if (key_button("zero", "Gauge back on its setting", "Shift F7")) ask(ui, Asking::zero);
}

void setting_questions(Ui& ui, const build::Build& build) {
  if (!may_be_set(build.plan->entry(at_work(ui)))) return leave(ui);
  if (ui.sheet.asking == Asking::setting)
    ask_setting(ui, build);
  else
    ask_zero(ui, build);
}

std::string about_zero(const build::Build& build, const Answered& answer) {
  const auto step = build.plan->find_step(answer.action.text_or_empty("step"));
  const auto entry = step ? build.plan->find_entry(*step, answer.action.text_or_empty("entry")) : std::nullopt;
  const auto off = quantity::Exact::written(answer.answer.text_or_empty("drift"));
  const std::string drift = entry && off ? shown_length(*off, *build.plan->entry({*step, *entry}).unit) : "";
  return answer.answer.at("kept").as_boolean()
             ? fmt::format("back at zero: {}; its readings stand", drift)
             : fmt::format("the gauge had drifted by {}: measure again what is open now", drift);
}

} // namespace bench

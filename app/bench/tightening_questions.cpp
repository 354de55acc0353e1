// The questions about a joint, asked in the left half of its part of the sheet while its figure stands at the right:
// bolts, adapter, another fastener, loosening. Each ends in an action or with Escape.
#include "bench/asking.h"
#include "bench/lengths.h"

#include "quantity/typed.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;

bool asks_about_joint(Asking asking) {
  switch (asking) {
  case Asking::loosen:
  case Asking::joint:
  case Asking::bolts:
  case Asking::bolts_which:
  case Asking::bolt_length:
  case Asking::adapter:
  case Asking::another_fastener:
  case Asking::not_sure: return true;
  default: return false;
  }
}

Value names_of(const std::string& typed) {
  Value out = Value::array();
  std::string name;
  for (const char c : typed + ",") {
    if (c != ',' && c != ' ' && c != ';') {
      name += c;
      continue;
    }
    if (!name.empty()) out.push(Value::text(name));
    name.clear();
  }
  return out;
}

namespace {

Value which(const std::string& typed) {
  return typed == "all" ? Value::text("all") : names_of(typed);
}

// Fasteners of the joint that a condition holds for, as one would type them.
template <typename Condition>
std::string those_that(const procedure::Entry& entry, const Condition& holds) {
  std::string out;
  for (std::size_t f = 0; f < entry.fasteners.size(); ++f)
    if (holds(f)) out += (out.empty() ? "" : " ") + entry.fasteners[f].id;
  return out;
}

std::string all_or(const procedure::Entry& entry, std::string names) {
  const auto blanks = static_cast<std::size_t>(std::count(names.begin(), names.end(), ' '));
  return names.empty() || blanks + 1 == entry.fasteners.size() ? "all" : names;
}

// Bolts that are not tightened yet and of which nothing is said.
std::string unsaid_bolts(const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const auto loose = [&](std::size_t f) { return build.entry(at).fasteners[f].empty(); };
  const auto unsaid = those_that(entry, [&](std::size_t f) {
    const auto& bolt = build::bolt_at(build, at, f);
    return loose(f) && (bolt.state.empty() || bolt.replace);
  });
  return all_or(entry, unsaid.empty() ? those_that(entry, loose) : unsaid);
}

std::string unmeasured_bolt(const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  for (std::size_t f = 0; f < entry.fasteners.size(); ++f) {
    const auto& bolt = build::bolt_at(build, at, f);
    if (bolt.measure || (bolt.state == "reused" && !bolt.length)) return entry.fasteners[f].id;
  }
  return entry.fasteners.front().id;
}

std::string troubled(const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  return those_that(entry, [&](std::size_t f) {
    const auto& done = build.entry(at).fasteners[f];
    return std::any_of(done.begin(), done.end(), [](const auto& one) { return one.judged.blocks() && !one.below; });
  });
}

// What is offered, by number; what does not fit the joint is left out and keeps its number.
struct Offer {
  Asking what;
  const char* id;
  const char* label;
};
constexpr Offer offers[] = {{Asking::bolts, "bolts", "Bolts: new or reused"},
                            {Asking::bolt_length, "bolt-length", "Length of a bolt"},
                            {Asking::adapter, "adapter", "Adapter on the wrench"},
                            {Asking::nothing, "adapter-off", "Adapter off the wrench"},
                            {Asking::another_fastener, "another", "Another fastener or value"},
                            {Asking::loosen, "loosen-joint", "Loosen: one or all"}};

bool fits(const Offer& offer, const build::Build& build, build::EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  switch (offer.what) {
  case Asking::bolts: return entry.bolt != nullptr;
  case Asking::bolt_length: return entry.bolt && !entry.bolt->length.empty();
  case Asking::adapter: return std::any_of(entry.stages.begin(), entry.stages.end(), reads_torque);
  case Asking::nothing: return state.lever.has_value();
  case Asking::another_fastener: return build::next_fastener(build, at).has_value();
  default: return build::has_anything(state);
  }
}

void ask_which(Ui& ui, const build::Build& build, build::EntryAt at) {
  say(fonts().strong, theme().ink, "This joint:");
  int number = 0;
  for (const auto& offer : offers) {
    ++number;
    if (!fits(offer, build, at)) continue;
    const std::vector<KeyLabel> row = {{offer.id, offer.label, std::to_string(number)}};
    const float room = ImGui::GetContentRegionAvail().x;
    if (!key_row(row, room, std::min(fit_of(row, room), Fit::tight)) && !digit(number)) continue;
    if (offer.what != Asking::nothing) return ask_about_joint(ui, build, at, offer.what);
    Value line = entry_action(ui, "extension");
    line.set("off", Value::boolean(true));
    leave(ui);
    return ui.send(std::move(line));
  }
}

void ask_bolts(Ui& ui, const build::Build& build, build::EntryAt at) {
  say(fonts().strong, theme().ink, "The bolts are");
  int number = 0;
  for (const char* state : {"new", "reused"}) {
    ++number;
    const bool chosen = key_button(state, state, std::to_string(number)) || digit(number);
    if (number == 1) ImGui::SameLine();
    if (!chosen) continue;
    ask_about_joint(ui, build, at, Asking::bolts_which);
    ui.sheet.reason = state;
    return;
  }
}

void ask_bolts_which(Ui& ui) {
  say(fonts().strong, theme().ink, ui.sheet.reason + ":");
  if (!fields(ui, {{"Which: names, or all", &ui.sheet.fasteners},
                   {"Mark of the bolt or the set, or nothing", &ui.sheet.mark}}))
    return;
  Value line = entry_action(ui, "bolt");
  line.set("fasteners", which(ui.sheet.fasteners));
  line.set("state", Value::text(ui.sheet.reason));
  if (!ui.sheet.mark.empty()) line.set("identity", Value::text(ui.sheet.mark));
  leave(ui);
  ui.send(std::move(line));
}

void ask_bolt_length(Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto& limit = *build.limit(build.plan->entry(at).bolt->length);
  say(fonts().strong, theme().ink, fmt::format("{}, in {}", limit.title, unit_words(*limit.unit)));
  if (!fields(ui, {{"Which bolt", &ui.sheet.fasteners}, {"Length", &ui.sheet.typed}, {"Gauge", &ui.sheet.mark}}))
    return;
  Value line = entry_action(ui, "bolt");
  line.set("fasteners", names_of(ui.sheet.fasteners));
  line.set("length", Value::text(as_meant(ui.sheet.typed, *limit.unit)));
  line.set("gauge", Value::text(ui.sheet.mark));
  leave(ui);
  ui.send(std::move(line));
}

void ask_adapter(Ui& ui) {
  if (!fields(ui, {{"L: square drive to middle of grip, mm", &ui.sheet.arm},
                   {"E: square drive to fastener, mm", &ui.sheet.reach},
                   {"Angle: 0 in line, 90 square, deg", &ui.sheet.turn}}))
    return;
  Value line = entry_action(ui, "extension");
  line.set("wrench_length", Value::text(ui.sheet.arm));
  line.set("extension", Value::text(ui.sheet.reach));
  if (!ui.sheet.turn.empty()) line.set("angle", Value::text(ui.sheet.turn));
  leave(ui);
  ui.send(std::move(line));
}

void ask_another_fastener(Ui& ui, const build::Build& build, build::EntryAt at) {
  const auto pull = next_pull(build, at);
  if (!pull) return leave(ui);
  const bool valued = procedure::has_limit(pull->stage.kind);
  const std::string gauge = chosen_gauge(ui, build, at);
  const auto* tool = ui.desk.shop().gauge(gauge);
  const auto* unit = tool ? tool->unit : pull->aim ? pull->aim->limit->unit : nullptr;
  say(fonts().strong, theme().ink,
      fmt::format("Stage {}{}{}", pull->stage.id, unit ? fmt::format(", in {}", unit_words(*unit)) : "",
                  gauge.empty() ? "" : ", with " + gauge));
  const char* name = "Which fastener";
  const bool ready = !valued                  ? fields(ui, {{name, &ui.sheet.fasteners}})
                     : pull->stage.prevailing ? fields(ui, {{name, &ui.sheet.fasteners},
                                                            {"Torque to turn the nut", &ui.sheet.run_on},
                                                            {"Value", &ui.sheet.typed}})
                                              : fields(ui, {{name, &ui.sheet.fasteners}, {"Value", &ui.sheet.typed}});
  if (!ready) return;
  Value line = entry_action(ui, "tighten");
  line.set("fastener", Value::text(ui.sheet.fasteners));
  line.set("stage", Value::text(pull->stage.id));
  if (valued) line.set("value", Value::text(unit ? as_meant(ui.sheet.typed, *unit) : ui.sheet.typed));
  if (valued && unit) line.set("unit", Value::text(std::string(unit->name)));
  if (valued && pull->stage.prevailing) line.set("prevailing", Value::text(ui.sheet.run_on));
  if (!gauge.empty()) line.set("gauge", Value::text(gauge));
  leave(ui);
  ui.send(std::move(line));
}

// From a stage of torque alone it may be gone round again; else the joint starts at its first stage.
void send_loosen(Ui& ui, const build::Build& build, build::EntryAt at, const std::string& names,
                 const std::string& from_stage) {
  const auto& entry = build.plan->entry(at);
  Value line = entry_action(ui, "loosen");
  line.set("fasteners", which(names));
  const auto stage =
      std::find_if(entry.stages.begin(), entry.stages.end(), [&](const auto& s) { return s.id == from_stage; });
  if (names == "all" && stage != entry.stages.begin() && !from_stage.empty())
    line.set("stage", Value::text(from_stage));
  line.set("reason", Value::text(ui.sheet.reason));
  leave(ui);
  ui.send(std::move(line));
}

// The stage at work, when it may be gone round again by itself.
std::string own_stage(const build::Build& build, build::EntryAt at) {
  const auto next = build::next_fastener(build, at);
  const auto& entry = build.plan->entry(at);
  return next && build::only_torque_from(entry, next->stage) ? entry.stages[next->stage].id : std::string();
}

void ask_loosen(Ui& ui, const build::Build& build, build::EntryAt at) {
  const bool by_stage = !own_stage(build, at).empty();
  say(fonts().strong, theme().ink,
      by_stage ? "Loosened, and gone round again from that stage."
               : "Loosened, never turned back a little: it starts again at the first stage.");
  const char* names = "Which: names, or all";
  const bool ready = by_stage ? fields(ui, {{names, &ui.sheet.fasteners},
                                            {"From which stage, when it is all", &ui.sheet.typed},
                                            {"Reason", &ui.sheet.reason}})
                              : fields(ui, {{names, &ui.sheet.fasteners}, {"Reason", &ui.sheet.reason}});
  if (!ready || ui.sheet.reason.empty()) return;
  send_loosen(ui, build, at, ui.sheet.fasteners, ui.sheet.typed);
}

void ask_not_sure(Ui& ui, const build::Build& build, build::EntryAt at) {
  const std::string stage = own_stage(build, at);
  say(fonts().strong, theme().ink,
      stage.empty() ? "All of them are loosened, and the joint starts again at its first stage."
                    : fmt::format("All of them are loosened, and stage {} is gone round again.", stage));
  if (!fields(ui, {{"Reason", &ui.sheet.reason}}) || ui.sheet.reason.empty()) return;
  send_loosen(ui, build, at, "all", stage);
}

} // namespace

void ask_about_joint(Ui& ui, const build::Build& build, build::EntryAt at, Asking what) {
  ask(ui, what);
  auto& sheet = ui.sheet;
  sheet.mark.clear();
  sheet.run_on.clear();
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  switch (what) {
  case Asking::bolts_which: sheet.fasteners = unsaid_bolts(build, at); break;
  case Asking::bolt_length: {
    sheet.fasteners = unmeasured_bolt(build, at);
    const auto gauges = length_gauges(ui.desk.shop(), *build.limit(entry.bolt->length), ui.desk.now());
    if (!gauges.empty()) sheet.mark = gauges.front()->id;
    break;
  }
  case Asking::adapter:
    sheet.arm = state.lever ? state.lever->wrench_length.text() : "";
    sheet.reach = state.lever ? state.lever->extension.text() : "";
    sheet.turn = state.lever ? state.lever->angle.text() : "0";
    break;
  case Asking::another_fastener:
    if (const auto pull = next_pull(build, at)) {
      sheet.fasteners = pull->fastener();
      const auto* gauge = ui.desk.shop().gauge(chosen_gauge(ui, build, at));
      if (pull->aim && stated_unread(*pull, gauge)) sheet.typed = setting_for(*pull, gauge, 0).value.text();
    }
    break;
  case Asking::loosen:
    sheet.fasteners = troubled(build, at);
    if (sheet.fasteners.empty()) sheet.fasteners = "all";
    sheet.typed = own_stage(build, at);
    break;
  case Asking::not_sure:
    if (const auto* last = build::last_sure(build, at)) sheet.reason = "not sure of fastener " + last->id;
    break;
  default: break;
  }
}

void joint_question(Ui& ui, const build::Build& build, build::EntryAt at) {
  switch (ui.sheet.asking) {
  case Asking::joint: ask_which(ui, build, at); break;
  case Asking::bolts: ask_bolts(ui, build, at); break;
  case Asking::bolts_which: ask_bolts_which(ui); break;
  case Asking::bolt_length: ask_bolt_length(ui, build, at); break;
  case Asking::adapter: ask_adapter(ui); break;
  case Asking::another_fastener: ask_another_fastener(ui, build, at); break;
  case Asking::loosen: ask_loosen(ui, build, at); break;
  case Asking::not_sure: ask_not_sure(ui, build, at); break;
  default: break;
  }
  say(fonts().text, theme().soft_ink, "Escape leaves this without an answer.");
}

} // namespace bench

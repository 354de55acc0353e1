// The questions of the sheet, asked in the place of the keys: each ends in an action or with Escape.
#include "bench/asking.h"
#include "bench/parts.h"
#include "bench/photographs.h"
#include "bench/setting.h"
#include "bench/typing_gauge.h"

#include "build/gauge.h"
#include "build/limits.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>
#include <utility>

namespace bench {

using json::Value;
using procedure::EntryKind;

void ask(Ui& ui, Asking what) {
  ui.sheet.asking = what;
  ui.sheet.held = false;
  ui.sheet.typed.clear();
  ui.sheet.asked_line = 0;
  ui.sheet.reason.clear();
  ui.sheet.customer.clear();
  ui.sheet.customer_how.clear();
  ui.sheet.fasteners.clear();
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
  ui.message.clear();
  ui.again = true;
}

bool digit(int number) {
  return digit_alone() == number;
}

void leave(Ui& ui) {
  ui.sheet.asking = Asking::nothing;
  ui.sheet.typed.clear();
  ui.sheet.passphrase.assign(ui.sheet.passphrase.size(), '\0');
  ui.sheet.passphrase.clear();
  ui.sheet.focus = true;
  ui.sheet.scroll = true;
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
  ui.sheet.focus = true; // it took the keys from the field
  if (ui.sheet.asked_line + 1 == line) return true;
  ++ui.sheet.asked_line;
  return false;
}

void with_person(Ui& ui, Value line) {
  line.set("person", Value::text(ui.sheet.person));
  line.set("passphrase", Value::text(ui.sheet.passphrase));
  leave(ui);
  ui.send(std::move(line));
}

void add_customer(const Ui& ui, Value& line) {
  if (ui.sheet.customer.empty()) return;
  line.set("customer", Value::object({{"agreed", Value::boolean(true)},
                                      {"name", Value::text(ui.sheet.customer)},
                                      {"date", Value::text(calc::text(calc::local_date(ui.desk.now())))},
                                      {"how", Value::text(ui.sheet.customer_how)}}));
}

namespace {

struct Way {
  const char* word;
  const char* means;
};
constexpr Way ways[] = {{"rework", "made to measure again"},   {"repair", "mended, may still be outside"},
                        {"replace", "another part"},           {"scrap", "not to be used again"},
                        {"concession", "an owner lets it go"}, {"accept", "worn within service, used again"}};

constexpr const char* stands = "stands";

// Too close to its limit to tell, or of a gauge found out: it may stand as it is, signed and with a reason.
bool may_stand(const Ui& ui, const build::Build& build) {
  const auto& entry = build.plan->entry({ui.sheet.step, ui.sheet.entry});
  const auto blockers = build::blockers(ui.desk.shop(), build, ui.sheet.step, ui.desk.now());
  return std::any_of(blockers.begin(), blockers.end(), [&](const auto& it) {
    return it.entry == entry.id && (it.code == "reading-undecided" || it.code == "gauge-unfit");
  });
}

void ask_disposition(Ui& ui, const build::Build& build, bool tightening) {
  say(fonts().strong, theme().ink, "What is done about it?");
  int number = 1;
  for (const auto& way : ways) {
    const bool chosen =
        key_button(way.word, fmt::format("{}: {}", way.word, way.means), std::to_string(number)) || digit(number);
    ++number;
    if (!chosen) continue;
    ui.sheet.disposition = way.word;
    ask(ui, Asking::disposition_text);
    return;
  }
  if (may_stand(ui, build)) {
    const std::string key = std::to_string(tightening ? number + 1 : number);
    if (key_button(stands, "stands: too close to tell, or its gauge was found out; accepted, signed", key) ||
        digit(tightening ? number + 1 : number)) {
      ui.sheet.disposition = stands;
      return ask(ui, Asking::disposition_text);
    }
  }
  if (!tightening) return;
  if (key_button("loosen", "loosen: one fastener or all start again", std::to_string(number)) || digit(number))
    ask_about_joint(ui, build, {ui.sheet.step, ui.sheet.entry}, Asking::loosen);
}

void ask_disposition_text(Ui& ui, bool tightening) {
  const bool concession = ui.sheet.disposition == "concession";
  const bool accepts = ui.sheet.disposition == stands;
  const bool named = tightening && !concession && !accepts;
  say(fonts().strong, theme().ink, fmt::format("{}: what was done, and why", ui.sheet.disposition));
  const bool ready = concession ? fields(ui, {{"In words", &ui.sheet.typed},
                                              {"The customer who agreed, or nothing: not asked", &ui.sheet.customer},
                                              {"How they said so: by telephone, in writing", &ui.sheet.customer_how},
                                              {"Owner", &ui.sheet.person},
                                              {"Passphrase", &ui.sheet.passphrase}})
                     : named    ? fields(ui, {{"Which fasteners, or nothing: all in trouble", &ui.sheet.fasteners},
                                              {"In words", &ui.sheet.typed}})
                                : fields(ui, {{"In words", &ui.sheet.typed}});
  if (!ready || ui.sheet.typed.empty()) return;
  if (accepts) {
    Value line = entry_action(ui, "accept");
    line.set("reason", Value::text(ui.sheet.typed));
    leave(ui);
    return ui.send(std::move(line));
  }
  Value line = entry_action(ui, "dispose");
  line.set("disposition", Value::text(ui.sheet.disposition));
  line.set("text", Value::text(ui.sheet.typed));
  if (named && !ui.sheet.fasteners.empty()) line.set("fasteners", names_of(ui.sheet.fasteners));
  if (concession) add_customer(ui, line);
  if (concession) return with_person(ui, std::move(line));
  leave(ui);
  ui.send(std::move(line));
}

void ask_second_person(Ui& ui, const build::Build& build) {
  say(fonts().strong, theme().ink,
      looks_again(ui, build) ? "You have looked a second time, and sign; the record says that nobody else has looked:"
                             : "The second person has looked, and signs:");
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
  for (const auto& stage : entry.stages)
    if (!unit && !stage.limit.empty()) unit = build.limit(stage.limit)->unit;
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

void ask_reopen(Ui& ui) {
  say(fonts().strong, theme().ink, ui.sheet.preview);
  if (!fields(ui, {{"Why is it opened again?", &ui.sheet.reason}}) || ui.sheet.reason.empty()) return;
  Value line = build_action(ui, "reopen");
  line.set("reason", Value::text(ui.sheet.reason));
  leave(ui);
  ui.send(std::move(line));
}

// The parts of the entry at work, at the position of the point at work: the first whose state is not said yet, else the
// first.
void ask_part_state(Ui& ui, const build::Build& build) {
  const build::EntryAt at{ui.sheet.step, ui.sheet.entry};
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  const std::size_t place = ui.sheet.cell / procedure::cells_of(step, entry).per_position();
  const auto position_of = [&](const std::string& id) {
    const bool placed = !build.plan->procedure().part(id)->positions.empty() && !step.positions.empty();
    return placed ? step.positions[std::min(place, step.positions.size() - 1)] : std::string();
  };
  const auto unsaid = std::find_if(entry.parts.begin(), entry.parts.end(), [&](const auto& id) {
    return !build.parts.count({id, position_of(id)});
  });
  const std::string& part = unsaid == entry.parts.end() ? entry.parts.front() : *unsaid;
  const std::string position = position_of(part);
  if (build.plan->procedure().part(part)->dated) return name_part(ui, part, position); // with lot and last day
  say(fonts().strong, theme().ink,
      fmt::format("{} {}: new parts are held to the standard limit, reused ones to the service limit.",
                  build.plan->procedure().part(part)->title, position));
  int number = 1;
  for (const char* state : {"new", "reused", "remade"}) {
    const bool chosen = key_button(state, state, std::to_string(number)) || digit(number);
    ImGui::SameLine();
    ++number;
    if (!chosen) continue;
    Value line = build_action(ui, "part");
    line.remove("step");
    line.set("part", Value::text(part));
    if (!position.empty()) line.set("position", Value::text(position));
    line.set("state", Value::text(state));
    leave(ui);
    ui.send(std::move(line));
  }
  ImGui::NewLine();
}

void ask_option(Ui& ui, const build::Build& build) {
  const auto& options = build.plan->procedure().options;
  const auto option =
      std::find_if(options.begin(), options.end(), [&](const auto& o) { return build.option(o.id).empty(); });
  if (option == options.end()) return leave(ui);
  say(fonts().strong, theme().ink, option->title);
  if (!option->text.empty()) say(option->text);
  for (std::size_t c = 0; c < option->choices.size() && c < 9; ++c) {
    const IdScope scope(static_cast<int>(c));
    const int number = static_cast<int>(c) + 1;
    const bool chosen = key_button("choose", option->choices[c], std::to_string(number)) || digit(number);
    if (c + 1 < option->choices.size()) ImGui::SameLine();
    if (!chosen) continue;
    Value line = build_action(ui, "pick");
    line.remove("step");
    line.set("option", Value::text(option->id));
    line.set("value", Value::text(option->choices[c]));
    leave(ui);
    ui.send(std::move(line));
  }
}

void ask_release(Ui& ui, const build::Build& build) {
  const auto left = left_open(build);
  say(fonts().strong, theme().ink,
      left.empty() ? "Your name goes to the whole engine:"
                   : "Your name goes to the whole engine, which has NOT YET RUN:");
  const bool ready = left.empty() ? fields(ui, {{"Person", &ui.sheet.person}, {"Passphrase", &ui.sheet.passphrase}})
                                  : fields(ui, {{"Why it is left open", &ui.sheet.reason},
                                                {"Person", &ui.sheet.person},
                                                {"Passphrase", &ui.sheet.passphrase}});
  if (!ready) return;
  Value line = build_action(ui, "release");
  line.remove("step");
  if (!left.empty()) {
    Value sections = Value::array();
    for (const auto& id : left) sections.push(Value::text(id));
    line.set("deferred", std::move(sections));
    line.set("reason", Value::text(ui.sheet.reason));
  }
  with_person(ui, std::move(line));
}

void ask_handover(Ui& ui) {
  say(fonts().strong, theme().ink,
      "One PDF to go with the engine, pages and record in it, signed over all of it by a builder or an owner:");
  if (!fields(ui, {{"File", &ui.sheet.file}, {"Person", &ui.sheet.person}, {"Passphrase", &ui.sheet.passphrase}}))
    return;
  Value line = build_action(ui, "handover");
  line.remove("step");
  line.set("file", Value::text(ui.sheet.file));
  with_person(ui, std::move(line));
}

} // namespace

std::vector<std::string> left_open(const build::Build& build) {
  std::vector<std::string> out;
  for (const auto& section : build.plan->procedure().sections) {
    if (!section.deferrable) continue;
    const bool open = std::any_of(section.steps.begin(), section.steps.end(), [&](const auto& step) {
      const auto standing = build::standing_of(build, *build.plan->find_step(step.id));
      return standing != build::StepStanding::signed_off && standing != build::StepStanding::not_on_this_engine;
    });
    if (open) out.push_back(section.id);
  }
  return out;
}

std::string_view screen_of(Asking asking) {
  switch (asking) {
  case Asking::clear_way:
  case Asking::clear_words:
  case Asking::clear_cause:
  case Asking::finding_photograph: return "findings";
  case Asking::part_named:
  case Asking::part_facts:
  case Asking::send_work:
  case Asking::send_positions:
  case Asking::send_findings:
  case Asking::send_words:
  case Asking::send_to:
  case Asking::back_as:
  case Asking::back_what:
  case Asking::back_words: return "parts";
  case Asking::size_reason: return "sizes";
  default: return "sheet";
  }
}

bool asks_for_keys(Asking asking) {
  return asking != Asking::nothing && asking != Asking::what_changed && !asks_about_joint(asking);
}

void questions(Ui& ui, const build::Build& build) {
  const bool tightening = build.plan->entry({ui.sheet.step, ui.sheet.entry}).kind == EntryKind::tightening;
  if (asks_about_joint(ui.sheet.asking)) { // asked beside its figure
    if (!tightening || pressed(key::escape)) leave(ui);
    return;
  }
  if ((ui.sheet.scroll || ui.sheet.scroll_again) && ui.sheet.asking != Asking::what_changed) {
    ImGui::SetScrollHereY(ui.sheet.asking == Asking::disposition_text ? 0.05f : 0.15f);
    ui.sheet.scroll_again = std::exchange(ui.sheet.scroll, false);
    ui.again = ui.again || ui.sheet.scroll_again;
  }
  switch (ui.sheet.asking) {
  case Asking::disposition: ask_disposition(ui, build, tightening); break;
  case Asking::disposition_text: ask_disposition_text(ui, tightening); break;
  case Asking::second_person: ask_second_person(ui, build); break;
  case Asking::new_gauge: ask_new_gauge(ui, build); break;
  case Asking::part_state: ask_part_state(ui, build); break;
  case Asking::option: ask_option(ui, build); break;
  case Asking::reopen: ask_reopen(ui); break;
  case Asking::release: ask_release(ui, build); break;
  case Asking::handover: ask_handover(ui); break;
  case Asking::photograph: photograph_question(ui); break;
  case Asking::found_part:
  case Asking::found_position:
  case Asking::found_what:
  case Asking::found_words: finding_questions(ui, build); break;
  case Asking::setting:
  case Asking::zero: setting_questions(ui, build); break;
  default: break; // asked beside its field
  }
  if (pressed(key::escape)) leave(ui);
}

} // namespace bench

// The questions about a part: what it is, what the machine shop is to do to it, how it came back.
#include "bench/asking.h"
#include "bench/parts.h"

#include "build/findings.h"
#include "build/fitting.h"
#include "build/orders.h"

#include <imgui.h>

#include <fmt/format.h>

#include <algorithm>

namespace bench {

using json::Value;

namespace {

const procedure::Part& part_of(const Ui& ui, const build::Build& build) {
  return *build.plan->procedure().part(ui.parts.part);
}

std::string name_of(const Ui& ui, const build::Build& build) {
  return build::part_text(build, ui.parts.part, ui.parts.position);
}

void ask_next(Ui& ui, Asking what) {
  ask(ui, what);
  ui.sheet.found.row = 0;
}

Value action_on(const Ui& ui, std::string_view name) {
  Value out = action(name);
  out.set("build", Value::text(ui.desk.build()->id));
  return out;
}

void go_to_first_field(Ui& ui) { // which must not be empty
  ui.sheet.asked_line = 0;
  ui.sheet.focus = true;
}

void set_if(Value& line, const char* key, const std::string& text) {
  if (!text.empty()) line.set(key, Value::text(text));
}

// --- what it is -----------------------------------------------------------------------------------------------------

void named(Ui& ui, const build::Build& build) {
  if (part_of(ui, build).once) say(fonts().strong, theme().ink, "It is used up by fitting it.");
  say(fonts().strong, theme().ink,
      fmt::format("{}: new parts are held to the standard limit, reused ones to the service limit.",
                  name_of(ui, build)));
  const auto chosen = choose(ui, {"new", "reused", "remade"});
  if (!chosen) return;
  constexpr const char* states[] = {"new", "reused", "remade"};
  PartsState& its = ui.parts;
  its.state = states[*chosen];
  its.size = its.lot = its.from = its.expires = its.text = "";
  ask_next(ui, Asking::part_facts);
}

void facts(Ui& ui, const build::Build& build) {
  PartsState& its = ui.parts;
  say(fonts().strong, theme().ink,
      fmt::format("{}, {}: what else is known of it, or nothing", name_of(ui, build), its.state));
  const std::pair<const char*, std::string*> from{
      its.state == "new" ? "From whom" : "From where: position, engine, shop", &its.from};
  const std::pair<const char*, std::string*> lot{"Lot, mark or part number", &its.lot};
  const std::pair<const char*, std::string*> size{"Size", &its.size};
  const std::pair<const char*, std::string*> text{"In words", &its.text};
  const bool ready = part_of(ui, build).dated
                         ? fields(ui, {lot, {"Last day of use, as 2026-08-31", &its.expires}, from, size, text})
                         : fields(ui, {lot, from, size, text});
  if (!ready) return;
  Value line = action_on(ui, "part");
  line.set("part", Value::text(its.part));
  set_if(line, "position", its.position);
  line.set("state", Value::text(its.state));
  set_if(line, "lot", its.lot);
  set_if(line, "expires", its.expires);
  set_if(line, "from", its.from);
  set_if(line, "size", its.size);
  set_if(line, "text", its.text);
  leave(ui);
  ui.send(std::move(line));
}

// --- to the machine shop --------------------------------------------------------------------------------------------

std::vector<const procedure::OfferedWork*> offered(const Ui& ui, const build::Build& build) {
  std::vector<const procedure::OfferedWork*> out;
  for (const auto& work : build.plan->procedure().machine_work)
    if (std::ranges::find(work.parts, ui.parts.part) != work.parts.end()) out.push_back(&work);
  return out;
}

std::vector<std::string> ticked(const std::vector<Ticked>& list) {
  std::vector<std::string> out;
  for (const auto& one : list)
    if (one.on) out.push_back(one.id);
  return out;
}

void after_positions(Ui& ui, const build::Build& build) {
  PartsState& its = ui.parts;
  its.findings.clear();
  for (const auto& finding : build.findings) {
    const auto going = ticked(its.positions);
    const bool there = finding.part == its.part && (finding.position.empty() || going.empty() ||
                                                    std::ranges::find(going, finding.position) != going.end());
    if (there && build::is_open(ui.desk.shop(), build, finding, ui.desk.now()))
      its.findings.push_back({finding.id, fmt::format("{} {}", finding.id, finding.text), true});
  }
  ask_next(ui, its.findings.empty() ? Asking::send_words : Asking::send_findings);
}

void which_work(Ui& ui, const build::Build& build) {
  say(fonts().strong, theme().ink, fmt::format("{}: what is the machine shop to do?", name_of(ui, build)));
  const auto list = offered(ui, build);
  std::vector<std::string> labels;
  for (const auto* work : list) labels.push_back(work->text);
  labels.emplace_back("Something else, in my own words");
  const auto chosen = choose(ui, labels);
  if (!chosen) return;
  PartsState& its = ui.parts;
  its.work = *chosen < list.size() ? list[*chosen]->id : "";
  its.text = its.finish = "";
  its.positions.clear();
  for (const auto& position : part_of(ui, build).positions)
    if (!build::away_at(build, its.part, position))
      its.positions.push_back({position, position, position == its.position});
  if (its.positions.empty()) return after_positions(ui, build);
  ask_next(ui, Asking::send_positions);
}

void which_positions(Ui& ui, const build::Build& build) {
  say(fonts().strong, theme().ink, fmt::format("{}: which of them go?", part_of(ui, build).title));
  if (!tick(ui, ui.parts.positions, "goes", "stays") || ticked(ui.parts.positions).empty()) return;
  after_positions(ui, build);
}

void which_findings(Ui& ui) {
  say(fonts().strong, theme().ink, "Which findings go on the order, for the machine shop to see?");
  if (tick(ui, ui.parts.findings, "on the order", "not on it")) ask_next(ui, Asking::send_words);
}

Value texts(const std::vector<std::string>& list) {
  Value out = Value::array();
  for (const auto& one : list) out.push(Value::text(one));
  return out;
}

void words_of_work(Ui& ui, const build::Build& build) {
  PartsState& its = ui.parts;
  const auto* work = build.plan->procedure().work(its.work);
  say(fonts().strong, theme().ink, fmt::format("{}: {}", part_of(ui, build).title, work ? work->text : "in words"));
  const bool ready =
      work ? fields(ui, {{"Anything to add, or nothing", &its.text}})
           : fields(ui, {{"What is to be done", &its.text}, {"Finish of the surface, or nothing", &its.finish}});
  if (!ready) return;
  if (!work && its.text.empty()) return go_to_first_field(ui);
  Value line = Value::object({{"part", Value::text(its.part)}});
  if (!its.positions.empty()) line.set("positions", texts(ticked(its.positions)));
  set_if(line, "work", its.work);
  set_if(line, "text", its.text);
  set_if(line, "finish", its.finish);
  if (!its.findings.empty()) line.set("findings", texts(ticked(its.findings)));
  its.lines.push_back(std::move(line));
  leave(ui);
  ui.parts.scroll = true;
  ui.refused = false;
  ui.message = "It is on the order, which is not sent yet: F7 sends it; or choose another part that goes along.";
}

void to_whom(Ui& ui) {
  PartsState& its = ui.parts;
  say(fonts().strong, theme().ink, "The order goes out as it stands above; the parts are away from then on.");
  if (!fields(ui, {{"To which machine shop", &its.to}, {"Anything to add for all of it, or nothing", &its.text}}))
    return;
  if (its.to.empty()) return go_to_first_field(ui);
  Value line = action_on(ui, "send");
  line.set("to", Value::text(its.to));
  set_if(line, "text", its.text);
  line.set("lines", Value::array(its.lines));
  leave(ui);
  ui.send(std::move(line));
}

// --- and back -------------------------------------------------------------------------------------------------------

void came_back_as(Ui& ui, const build::Build& build) {
  say(fonts().strong, theme().ink, fmt::format("{} is back:", name_of(ui, build)));
  const auto chosen = choose(ui, {"remade: worked on, and measured again everywhere",
                                  "as it went: nothing was done to it", "another in its place, new"});
  if (!chosen) return;
  constexpr const char* states[] = {"remade", "reused", "new"};
  ui.parts.state = states[*chosen];
  ui.parts.text.clear();
  const auto away = build::away_at(build, ui.parts.part, ui.parts.position);
  const auto more = away ? std::ranges::count_if(away->order->lines, [](const auto& line) { return line.away(); }) : 0;
  ui.parts.whole_order = false;
  ask_next(ui, more > 1 ? Asking::back_what : Asking::back_words);
}

void what_is_back(Ui& ui, const build::Build& build) {
  const auto away = build::away_at(build, ui.parts.part, ui.parts.position);
  if (!away) return leave(ui);
  say(fonts().strong, theme().ink, fmt::format("Order {}: what of it is back so?", away->order->id));
  const auto chosen =
      choose(ui, {fmt::format("{} alone", name_of(ui, build)), "all: " + still_away(build, *away->order)});
  if (!chosen) return;
  ui.parts.whole_order = *chosen == 1;
  ask_next(ui, Asking::back_words);
}

void words_of_return(Ui& ui, const build::Build& build) {
  PartsState& its = ui.parts;
  const auto away = build::away_at(build, its.part, its.position);
  if (!away) return leave(ui);
  if (!fields(ui, {{"What came with it: their sizes, what they noticed; or nothing", &its.text}})) return;
  Value line = action_on(ui, "back");
  line.set("order", Value::text(away->order->id));
  if (!its.whole_order) {
    line.set("part", Value::text(its.part));
    if (!its.position.empty()) line.set("positions", texts({its.position}));
  }
  line.set("state", Value::text(its.state));
  set_if(line, "text", its.text);
  leave(ui);
  ui.send(std::move(line));
}

} // namespace

std::string state_of_part(const build::Build& build, const std::string& part, const std::string& position) {
  const auto it = build.parts.find({part, position});
  if (it == build.parts.end()) return "new or reused is not said yet";
  const auto& its = it->second;
  std::string out = its.state;
  if (!its.size.empty()) out += ", size " + its.size;
  if (!its.lot.empty()) out += ", lot " + its.lot;
  if (!its.expires.empty()) out += ", use by " + its.expires;
  if (its.used_out_of_date) out += " (named after that day)";
  if (!its.from.empty()) out += ", from " + its.from;
  if (!its.text.empty()) out += ", \"" + its.text + "\"";
  return out;
}

std::string still_away(const build::Build& build, const build::Order& order) {
  std::string out;
  std::string part;
  for (const auto& line : order.lines) {
    if (!line.away()) continue;
    if (line.part != part)
      out += fmt::format("{}{}", out.empty() ? "" : "; ", build::part_text(build, line.part, line.position));
    else if (!line.position.empty())
      out += ", " + line.position;
    part = line.part;
  }
  return out;
}

std::string line_text(const build::Build& build, const Value& line) {
  const auto& procedure = build.plan->procedure();
  const auto* part = procedure.part(line.text_or_empty("part"));
  std::string out = part ? part->title : "";
  if (const auto* positions = line.find("positions")) {
    bool first = true;
    for (const auto& one : positions->items()) {
      out += (first ? " " : ", ") + one.as_text();
      first = false;
    }
  }
  const auto* work = procedure.work(line.text_or_empty("work"));
  out += ": " + (work ? work->text : line.text_or_empty("text"));
  if (work && line.find("text")) out += ", " + line.text_or_empty("text");
  return out;
}

void name_part(Ui& ui, const std::string& part, const std::string& position) {
  ui.screen = "parts";
  ui.parts.narrowed.clear();
  ui.parts.part = part;
  ui.parts.position = position;
  ui.parts.scroll = true;
  ask_next(ui, Asking::part_named);
}

void ask_part_named(Ui& ui) {
  ask_next(ui, Asking::part_named);
}

void ask_to_send(Ui& ui, const build::Build&) {
  ask_next(ui, Asking::send_work);
}

void ask_send_to(Ui& ui) {
  ui.parts.text.clear();
  ask_next(ui, Asking::send_to);
}

void ask_back(Ui& ui) {
  ask_next(ui, Asking::back_as);
}

void part_questions(Ui& ui, const build::Build& build) {
  switch (ui.sheet.asking) {
  case Asking::part_named: named(ui, build); break;
  case Asking::part_facts: facts(ui, build); break;
  case Asking::send_work: which_work(ui, build); break;
  case Asking::send_positions: which_positions(ui, build); break;
  case Asking::send_findings: which_findings(ui); break;
  case Asking::send_words: words_of_work(ui, build); break;
  case Asking::send_to: to_whom(ui); break;
  case Asking::back_as: came_back_as(ui, build); break;
  case Asking::back_what: what_is_back(ui, build); break;
  case Asking::back_words: words_of_return(ui, build); break;
  default: break;
  }
}

bool part_answered(Ui& ui, const Answered& answer) {
  const std::string done = answer.action.text_or_empty("do");
  const bool here = ui.screen == "parts";
  if (done == "print-order") {
    ui.message = "Written, to be printed: " + answer.answer.text_or_empty("file");
    return true;
  }
  if (done != "send" && done != "back" && !(done == "part" && here)) return false;
  ui.parts.scroll = true;
  ui.parts.focus = true;
  ui.again = true;
  if (done == "part") ui.message = "It is written down.";
  if (done == "send") {
    ui.parts.lines.clear();
    ui.message = fmt::format("Order {} is sent; its parts are away.", answer.answer.text_or_empty("order"));
  }
  if (done == "back") {
    const auto& plan = *ui.desk.build()->plan;
    std::string measure;
    for (const auto& item : answer.answer.at("measure").items()) {
      const auto step = plan.find_step(item.text_or_empty("step"));
      const auto entry = step ? plan.find_entry(*step, item.text_or_empty("entry")) : std::nullopt;
      if (entry) measure += (measure.empty() ? "" : "; ") + plan.entry({*step, *entry}).title;
    }
    ui.message = measure.empty() ? "It is back." : fmt::format("It is back. To be measured again: {}.", measure);
  }
  return true;
}

} // namespace bench

#include "build/apply.h"

#include "build/copying.h"
#include "build/follow.h"

#include <algorithm>
#include <fmt/format.h>
#include <functional>
#include <stdexcept>

namespace build {

using json::Value;

namespace {

void open_acknowledged(Build& build, const Event& event) {
  build.change(step_of(build, event.body)).acknowledged.insert(event.person);
}

void confirm(Build& build, const Event& event) {
  const EntryAt at = entry_of(build, event.body);
  EntryState& entry = build.change(at);
  if (event.body.find("sure")) return still_sure(build, event);
  const auto* still = event.body.find("still_true");
  if (!still) {
    entry.last_seq = event.seq;
    entry.done = true;
    entry.asked = false;
    entry.judged.standing = Standing::recorded;
    return;
  }
  for (const auto& item : still->items()) {
    const auto place = item.as_integer().value_or(0);
    if (!entry.cells.empty())
      entry.cells[index(item, entry.cells.size())].asked = false;
    else if (!entry.calculated.empty())
      entry.calculated[index(item, entry.calculated.size())].asked = false;
    else if (place == 0)
      entry.asked = false;
  }
}

void pick(Build& build, const Event& event) {
  if (const auto* option = event.body.find("option"))
    build.options[option->as_text()] = event.body.at("value").as_text();
  if (!event.body.find("entry")) return;
  EntryState& entry = build.change(entry_of(build, event.body));
  entry.done = true;
  entry.asked = false;
  entry.text = event.body.at("value").as_text();
  entry.judged = {};
  entry.judged.standing = standing(event.body.at("verdict"));
  entry.recorded_by = event.person;
  entry.last_seq = event.seq;
}

void identify(Build& build, const Event& event) {
  EntryState& entry = build.change(entry_of(build, event.body));
  entry.done = true;
  entry.asked = false;
  entry.text = event.body.at("text").as_text();
  entry.judged.standing = Standing::recorded;
  entry.last_seq = event.seq;
}

void wait(Build& build, const Event& event) {
  EntryState& entry = build.change(entry_of(build, event.body));
  entry.done = true;
  entry.asked = false;
  entry.judged.standing = Standing::recorded;
  entry.from = moment(event.body.at("from"));
  entry.until = moment(event.body.at("until"));
  const auto* latest = event.body.find("latest");
  entry.latest = latest ? moment(*latest) : Moment{};
}

void ask_again(Build& build, EntryAt at, const Value& places) {
  EntryState& entry = build.change(at);
  for (const auto& place : places.items()) {
    if (!entry.cells.empty())
      entry.cells[index(place, entry.cells.size())].asked = true;
    else if (!entry.calculated.empty())
      entry.calculated[index(place, entry.calculated.size())].asked = true;
    else
      entry.asked = true;
  }
}

void open_again(Build& build, const Value& body) {
  if (const auto* opened = body.find("opened"))
    for (const auto& item : opened->items()) forget(build, entry_of(build, item), item.at("places"));
}

void unsign(StepState& step) {
  step.signatures.clear();
  step.signed_off = false;
  step.reopened = true;
  for (auto& entry : step.entries) entry.second_look.clear();
}

void reopen(Build& build, const Event& event) {
  for (const auto& item : event.body.at("reopened").items()) {
    StepState& step = build.change(step_of(build, item));
    unsign(step);
    step.acknowledged.clear();
    ++step.pass;
    if (const auto* out = item.find("taken_out"))
      for (const auto& one : out->items()) {
        step.fitted.erase(part_place(one));
        build.taken_out.insert(part_place(one));
      }
    for (const auto& one : item.at("entries").items()) {
      const EntryAt at{step_of(build, item), 0};
      const auto entry = build.plan->find_entry(at.step, one.at("entry").as_text());
      if (!entry) throw std::logic_error("no such entry");
      const bool lost = one.at("does").as_text() == "lost";
      (lost ? forget : ask_again)(build, {at.step, *entry}, one.at("places"));
    }
  }
}

void back(Build& build, const Event& event) {
  come_back(build, event);
  open_again(build, event.body);
  if (event.body.find("reopened")) reopen(build, event);
  if (event.body.at("state").as_text() == "reused") return;
  for (const auto& line : event.body.at("lines").items()) build.taken_out.erase(part_place(line));
}

void settle(EntryState& entry, const Value& doubt) {
  entry.sound_seq = doubt.at("seq").as_integer().value();
}

std::vector<Judged*> judged_at(EntryState& entry, const Value& places) {
  std::vector<Judged*> out;
  for (const auto& place : places.items()) {
    if (!entry.cells.empty())
      out.push_back(&entry.cells[index(place, entry.cells.size())].judged);
    else if (!entry.calculated.empty())
      out.push_back(&entry.calculated[index(place, entry.calculated.size())].judged);
    else if (!entry.fasteners.empty())
      for (auto& done : entry.fasteners[index(place, entry.fasteners.size())]) out.push_back(&done.judged);
    else
      out.push_back(&entry.judged);
  }
  return out;
}

void dispose(Build& build, const Event& event) {
  const EntryAt at = entry_of(build, event.body);
  const std::string what = event.body.at("disposition").as_text();
  if (const auto* out = event.body.find("bolts_out")) take_bolts_out(build, *out);
  if (event.body.find("opened")) return open_again(build, event.body);
  for (auto* judged : judged_at(build.change(at), event.body.at("places"))) {
    if (what == "concession" && judged->blocks()) judged->conceded = true;
    if (what == "accept" && judged->standing == Standing::worn) judged->used_again = true;
  }
}

void accept(Build& build, const Event& event) {
  EntryState& entry = build.change(entry_of(build, event.body));
  if (const auto* places = event.body.find("places"))
    for (auto* judged : judged_at(entry, *places))
      if (judged->standing == Standing::undecided) judged->accepted = true;
  if (const auto* doubt = event.body.find("doubt")) settle(entry, *doubt);
}

void addendum(Build& build, const Event& event) {
  if (const auto* entries = event.body.find("entries"))
    for (const auto& item : entries->items())
      if (const auto* doubt = item.find("doubt")) settle(build.change(entry_of(build, item)), *doubt);
}

void sign(Build& build, const Event& event) {
  StepState& step = build.change(step_of(build, event.body));
  step.signatures.push_back({event.person, event.name, event.meaning, event.seq, event.time});
  step.signed_off = event.body.at("state").as_text() == "signed";
  if (step.signed_off) step.reopened = false;
  if (const auto* fitted = event.body.find("fitted"))
    for (const auto& one : fitted->items()) step.fitted.insert(part_place(one));
  if (event.body.find("used"))
    for (auto& entry : step.entries) entry.pulls.clear(); // the shop has noted them
}

void fill_limit(Build& build, const Event& event) {
  const Value& body = event.body;
  const auto* from = build.plan->procedure().limit(body.at("limit").as_text());
  if (!from) throw std::logic_error("no such limit");
  procedure::Limit limit = *from;
  const auto bounds = [](const Value& value) {
    Bounds out;
    if (const auto* low = value.find("low")) out.low = exact(*low);
    if (const auto* high = value.find("high")) out.high = exact(*high);
    return out;
  };
  procedure::LimitValues values;
  if (const auto* standard = body.find("standard")) values.standard = bounds(*standard);
  if (const auto* service = body.find("service")) values.service = bounds(*service);
  if (const auto* target = body.find("target")) values.target = exact(*target);
  values.entered = procedure::Hand{event.name, calc::text(calc::local_date(event.time))};
  limit.values = values;
  limit.cases.clear();
  limit.source = optional_text(body, "source");
  limit.basis = body.at("basis").as_text() == "shop" ? procedure::Basis::shop : procedure::Basis::maker;
  build.filled[limit.id] = std::move(limit);
}

void release(Build& build, const Event& event) {
  build.outcome = event.body.at("outcome").as_text();
  if (const auto* deferred = event.body.find("deferred"))
    for (const auto& section : deferred->items()) build.deferred.push_back(section.as_text());
}

void nothing(Build&, const Event&) {}

using Apply = void (*)(Build&, const Event&);
const std::map<std::string, Apply, std::less<>>& by_kind() {
  static const std::map<std::string, Apply, std::less<>> table = {
      {"record", take_cells},  {"again", take_cells},
      {"correct", take_cells}, {"take-back", take_cells},
      {"zero", zero},          {"acknowledge", open_acknowledged},
      {"confirm", confirm},    {"pick", pick},
      {"identify", identify},  {"wait", wait},
      {"tighten", tighten},    {"loosen", loosen},
      {"bolt", bolt},          {"extension", extension},
      {"part", part},          {"reopen", reopen},
      {"dispose", dispose},    {"accept", accept},
      {"sign", sign},          {"fill-limit", fill_limit},
      {"release", release},    {"note", nothing},
      {"attach", attach},      {"finding", finding},
      {"clear", clear},        {"send", send},
      {"back", back},          {"addendum", addendum}};
  return table;
}

void follow_event(Build& build, const Event& event) {
  if (const auto* calculated = event.body.find("calculated"))
    for (const auto& item : calculated->items()) apply_calculated(build, item);
  if (const auto* rejudged = event.body.find("rejudged"))
    for (const auto& item : rejudged->items()) apply_rejudged(build, item);
  if (const auto* again = event.body.find("sign_again"))
    for (const auto& id : again->items()) {
      const auto step = build.plan->find_step(id.as_text());
      if (!step) throw std::logic_error("no such step");
      unsign(build.change(*step));
    }
}

Error bad_event(const Event& event, const std::string& why) {
  return Error{"bad-event",
               fmt::format("Event {} of {} ({}) does not fit: {}.", event.seq, event.chain, event.kind, why)};
}

void note_place(Build& build, const Event& event) {
  build.seq = event.seq;
  build.head = event.hash;
  build.last = event.time;
}

} // namespace

void forget(Build& build, EntryAt at, const Value& places) {
  EntryState& entry = build.change(at);
  ++entry.pass;
  for (const auto& place : places.items()) {
    if (!entry.cells.empty())
      entry.cells[index(place, entry.cells.size())] = Cell{};
    else if (!entry.fasteners.empty()) {
      entry.fasteners[index(place, entry.fasteners.size())].clear();
      entry.disordered = false;
      entry.until = {};
    } else if (!entry.calculated.empty())
      entry.calculated[index(place, entry.calculated.size())] = Calculated{};
    else {
      entry.done = false;
      entry.asked = false;
      entry.text.clear();
      entry.judged = {};
      entry.from = entry.until = entry.latest = {};
    }
  }
}

void apply_calculated(Build& build, const Value& item) {
  EntryState& entry = build.change(entry_of(build, item));
  Calculated& it = entry.calculated[index(item.at("at"), entry.calculated.size())];
  it = {};
  it.results = item.at("results");
  if (const auto* notes = item.find("notes"))
    for (const auto& note : notes->items()) it.notes.push_back(note.as_text());
  it.refusal = optional_text(item, "refusal");
  it.judged.standing = standing(item.at("verdict"));
}

void apply_rejudged(Build& build, const Value& item) {
  EntryState& entry = build.change(entry_of(build, item));
  for (const auto& one : item.at("cells").items()) {
    Judged& judged = entry.cells[index(one.at("cell"), entry.cells.size())].judged;
    judged = {};
    judged.standing = standing(one.at("verdict"));
  }
}

void apply_body(Build& build, const Event& event) {
  const auto it = by_kind().find(event.kind);
  if (it == by_kind().end()) throw std::logic_error("unknown kind of event");
  it->second(build, event);
  follow_event(build, event);
}

Result<Build> begin(const Event& event, std::shared_ptr<const Plan> plan) {
  if (event.kind != "open-build" || event.seq != 1) return bad_event(event, "a build begins with open-build");
  try {
    Build build;
    build.start(std::move(plan));
    build.id = event.body.at("build").as_text();
    build.procedure_sha256 = event.body.at("procedure").at("sha256").as_text();
    const Value& engine = event.body.at("engine");
    build.model = optional_text(engine, "model");
    build.serial = optional_text(engine, "serial");
    build.hours = optional_text(engine, "hours");
    build.customer = optional_text(event.body, "customer");
    build.practice = event.body.find("practice") != nullptr;
    note_place(build, event);
    return build;
  } catch (const std::logic_error& damage) {
    return bad_event(event, damage.what());
  }
}

Result<void> apply(Build& build, const Event& event) {
  try {
    Build next = build;
    apply_body(next, event);
    note_place(next, event);
    build = std::move(next);
    return {};
  } catch (const std::logic_error& damage) {
    return bad_event(event, damage.what());
  }
}

} // namespace build

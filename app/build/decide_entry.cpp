// Entries that hold no measured numbers, and facts of the engine: acknowledge, confirm, pick, identify, wait, note,
// fill-limit.
#include "build/decision.h"
#include "build/proposal.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using procedure::EntryKind;

namespace {

Decision plain(Value body) {
  Decision out;
  out.body = std::move(body);
  out.answer = Value::object();
  return out;
}

Result<void> is_kind(const Case& it, EntryAt at, EntryKind kind, const char* how) {
  const auto& entry = it.build.plan->entry(at);
  if (entry.kind == kind) return {};
  return wrong_kind(entry, how);
}

// The conditions of an entry that is written now: on this engine, not signed, notices read, its turn.
Result<void> may_fill(const Case& it, EntryAt at) {
  if (const auto may = may_write(it.build, at); !may) return may.error();
  if (const auto read = cautions_read(it.build, at.step, it.context); !read) return read.error();
  std::set<std::size_t> everywhere;
  for (std::size_t p = 0; p < std::max<std::size_t>(1, it.build.plan->step(at.step).positions.size()); ++p)
    everywhere.insert(p);
  if (const auto here = is_here(it.build, at, everywhere); !here) return here.error();
  const auto kind = it.build.plan->entry(at).kind;
  const bool ahead = kind == EntryKind::choice || kind == EntryKind::identity;
  return in_turn(it.build, at, ahead);
}

Result<void> not_yet_done(const Case& it, EntryAt at) {
  const auto& state = it.build.entry(at);
  if (!state.done || state.asked) return {};
  return refusal("already-recorded", fmt::format("{} is done already; reopen the step or dispose of it to do it again.",
                                                 it.build.plan->entry(at).title));
}

// Cells or positions that ask "still true?".
std::vector<std::size_t> asking(const EntryState& state) {
  std::vector<std::size_t> out;
  for (std::size_t c = 0; c < state.cells.size(); ++c)
    if (state.cells[c].asked) out.push_back(c);
  for (std::size_t p = 0; p < state.calculated.size(); ++p)
    if (state.calculated[p].asked) out.push_back(p);
  if (state.asked) out.push_back(0);
  return out;
}

} // namespace

Result<Decision> acknowledge(const Case& it) {
  Asked asked(it.action, {"build", "step"});
  const auto step = named_step(it.build, asked);
  if (!step) return step.error();
  if (const auto may = may_write(it.build, *step); !may) return may.error();
  Value body = begun(it, *step);
  Value shown = Value::array();
  for (const auto& caution : it.build.plan->step(*step).cautions)
    shown.push(Value::object({{"word", Value::text(std::string(procedure::name_of(caution.word)))},
                              {"hazard", Value::text(caution.hazard)},
                              {"consequence", Value::text(caution.consequence)},
                              {"avoid", Value::text(caution.avoid)}}));
  if (shown.items().empty())
    return bad_value(fmt::format("\"{}\" has no notices to read.", it.build.plan->step(*step).title));
  body.set("shown", std::move(shown));
  return plain(std::move(body));
}

Result<Decision> confirm(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry"});
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  if (const auto may = may_fill(it, *at); !may) return may.error();
  Value body = begun(it, *at);
  const auto places = asking(it.build.entry(*at));
  if (!places.empty()) {
    body.set("still_true", place_list(places));
    std::set<std::size_t> positions;
    const auto& entry = it.build.plan->entry(*at);
    const std::size_t per = it.build.entry(*at).cells.empty()
                                ? 1
                                : procedure::cells_of(it.build.plan->step(at->step), entry).per_position();
    for (const auto place : places) positions.insert(place / per);
    Build next = as_it_would_be(it, body);
    if (const auto done = follow(next, body, {{*at, positions}}); !done) return done.error();
    Decision out = plain(std::move(body));
    out.answer.set("calculated", calculated_answer(out.body));
    return out;
  }
  if (interrupted(it.build, *at, it.context.now, it.context.actor->person)) {
    body.set("sure", Value::text(last_sure(it.build, *at)->id));
    return plain(std::move(body));
  }
  if (const auto kind = is_kind(it, *at, EntryKind::confirm, "it does not ask for a confirmation now"); !kind)
    return kind.error();
  if (const auto open = not_yet_done(it, *at); !open) return open.error();
  return plain(std::move(body));
}

namespace {

Result<void> among(const std::vector<std::string>& choices, const std::string& value, const std::string& title) {
  if (std::find(choices.begin(), choices.end(), value) != choices.end()) return {};
  return bad_value(
      fmt::format("\"{}\" is no choice of {}; choose one of: {}.", value, title, fmt::join(choices, ", ")));
}

// The steps the option puts on or off, as they are before and after.
Result<void> signed_steps_stay(const Build& before, const Build& after, const std::string& option) {
  for (const std::size_t s : before.plan->steps_of_option(option)) {
    if (before.step(s).signatures.empty()) continue;
    bool moved = step_on(before, s) != step_on(after, s);
    for (std::size_t e = 0; e < before.plan->step(s).entries.size(); ++e)
      moved = moved || entry_on(before, {s, e}) != entry_on(after, {s, e});
    if (moved)
      return refusal("step-signed",
                     fmt::format("This choice changes what the signed step \"{}\" asks for; reopen it first.",
                                 before.plan->step(s).title));
  }
  return {};
}

Result<void> nothing_tightened_by(const Build& build, const std::vector<EntryAt>& entries) {
  for (const EntryAt at : entries) {
    const auto& state = build.entry(at);
    const bool some =
        std::any_of(state.fasteners.begin(), state.fasteners.end(), [](const auto& f) { return !f.empty(); });
    if (some)
      return refusal("already-recorded", fmt::format("{} is tightened to the value that held before; loosen it first.",
                                                     build.plan->entry(at).title));
  }
  return {};
}

} // namespace

namespace {

Result<void> proposed_or_reasoned(const Build& build, std::optional<EntryAt> at, const std::string& value,
                                  const std::string& reason) {
  const auto proposal = at ? proposed(build, *at) : std::nullopt;
  if (!proposal || *proposal == value || !reason.empty()) return {};
  return refusal("not-proposed", fmt::format("{}: the readings call for {}; pick that, or say in \"text\" why not.",
                                             build.plan->entry(*at).title, *proposal));
}

} // namespace

Result<Decision> pick(const Case& it) {
  Asked asked(it.action, {"build", "option", "step", "entry", "value", "text"});
  const std::string value = asked.text("value");
  const std::string reason = asked.line("text", false);
  std::string option = asked.text("option", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  Value body = begun(it);
  std::vector<Changed> changed;
  if (asked.has("step") || asked.has("entry")) {
    if (!option.empty()) return bad_value("Pick either an option or an entry, not both.");
    const auto at = named_entry(it.build, asked);
    if (!at) return at.error();
    const auto& entry = it.build.plan->entry(*at);
    if (const auto kind = is_kind(it, *at, EntryKind::choice, "nothing is picked there"); !kind) return kind.error();
    if (const auto may = may_fill(it, *at); !may) return may.error();
    if (const auto open = not_yet_done(it, *at); !open) return open.error();
    if (const auto good = among(entry.choices, value, entry.title); !good) return good.error();
    const bool good = entry.good.empty() || std::find(entry.good.begin(), entry.good.end(), value) != entry.good.end();
    body = begun(it, *at);
    body.set("verdict", Value::text(entry.good.empty() ? "recorded" : good ? "within" : "outside"));
    option = entry.option;
    changed.push_back({*at, {}});
  } else {
    const auto* known = it.build.plan->procedure().option(option);
    if (!known) return bad_value(fmt::format("There is no option \"{}\" in this procedure.", option));
    if (const auto good = among(known->choices, value, known->title); !good) return good.error();
  }
  const auto at = changed.empty() ? choice_of_option(it.build, option) : changed.front().at;
  if (const auto as_proposed = proposed_or_reasoned(it.build, at, value, reason); !as_proposed)
    return as_proposed.error();
  body.set("value", Value::text(value));
  if (!reason.empty()) body.set("text", Value::text(reason));
  if (!option.empty()) body.set("option", Value::text(option));
  Build next = as_it_would_be(it, body);
  std::vector<EntryAt> entries;
  if (!option.empty() && it.build.option(option) != value) {
    if (const auto stay = signed_steps_stay(it.build, next, option); !stay) return stay.error();
    entries = it.build.plan->calculated_from_option(option);
    for (const auto& limit : it.build.plan->limits_of_option(option)) {
      const auto& its = it.build.plan->entries_of_limit(limit);
      entries.insert(entries.end(), its.begin(), its.end());
    }
    if (const auto loose = nothing_tightened_by(it.build, entries); !loose) return loose.error();
  }
  if (const auto done = follow_judging(next, body, entries, changed); !done) return done.error();
  Decision out = plain(std::move(body));
  if (const auto* verdict = out.body.find("verdict")) out.answer.set("verdict", *verdict);
  return out;
}

Result<Decision> identify(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "text"});
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  const std::string text = asked.line("text");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto kind = is_kind(it, *at, EntryKind::identity, "no serial or mark is written there"); !kind)
    return kind.error();
  if (const auto may = may_fill(it, *at); !may) return may.error();
  if (const auto open = not_yet_done(it, *at); !open) return open.error();
  Value body = begun(it, *at);
  body.set("text", Value::text(text));
  return plain(std::move(body));
}

Result<Decision> start_wait(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry"});
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  if (const auto kind = is_kind(it, *at, EntryKind::wait, "there is no clock to start"); !kind) return kind.error();
  if (const auto may = may_fill(it, *at); !may) return may.error();
  if (const auto open = not_yet_done(it, *at); !open) return open.error();
  const auto& entry = it.build.plan->entry(*at);
  const auto later = [&](const Exact& seconds) {
    Moment moment = it.context.now;
    moment.utc_ms += static_cast<std::int64_t>((seconds * 1000).to_double());
    return moment;
  };
  Value body = begun(it, *at);
  const auto write = [](const Moment& moment) { return Value::text(calc::offset_text(moment)); };
  body.set("from", write(it.context.now));
  body.set("until", write(later(entry.least.value_or(Exact()))));
  if (entry.most) body.set("latest", write(later(*entry.most)));
  Decision out = plain(std::move(body));
  for (const char* key : {"from", "until", "latest"})
    if (const auto* value = out.body.find(key)) out.answer.set(key, *value);
  return out;
}

Result<Decision> note(const Case& it) {
  Asked asked(it.action, {"build", "step", "text"});
  const auto step = named_step(it.build, asked);
  if (!step) return step.error();
  asked.line("text");
  if (const auto wrong = asked.wrong()) return *wrong;
  return plain(begun(it, *step));
}

namespace {

// {"low": ..., "high": ...} as an author or a builder fills it in.
Result<Value> filled_bounds(Asked& asked, const char* key) {
  const Value* given = asked.any(key, false);
  if (!given) return Value();
  Value out = Value::object();
  if (!given->is(json::Kind::object)) return bad_value(fmt::format("\"{}\" must hold low, high or both.", key));
  Asked inner(*given, {"low", "high"});
  const auto low = inner.decimal("low");
  const auto high = inner.decimal("high");
  if (const auto wrong = inner.wrong()) return *wrong;
  if (!low && !high) return bad_value(fmt::format("\"{}\" holds neither low nor high.", key));
  if (low && high && *high < *low)
    return bad_value(fmt::format("\"{}\": low lies above high; they may be swapped.", key));
  if (low) out.set("low", Value::text(low->text()));
  if (high) out.set("high", Value::text(high->text()));
  return out;
}

} // namespace

Result<Decision> fill_limit(const Case& it) {
  Asked asked(it.action, {"build", "limit", "unit", "standard", "service", "target", "basis", "source"});
  const std::string id = asked.text("limit");
  const std::string basis = asked.text("basis");
  const std::string unit = asked.text("unit");
  asked.line("source", basis == "maker");
  const auto target = asked.decimal("target");
  const auto standard = filled_bounds(asked, "standard");
  if (!standard) return standard.error();
  const auto service = filled_bounds(asked, "service");
  if (!service) return service.error();
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto* limit = it.build.limit(id);
  if (!limit) return bad_value(fmt::format("There is no limit \"{}\" in this procedure.", id));
  if (!limit->values.empty() || !limit->cases.empty())
    return refusal("already-recorded",
                   fmt::format("The limit \"{}\" is filled in already; a new revision of the procedure "
                               "changes it.",
                               limit->title));
  if (unit != limit->unit->name)
    return Error{"bad-unit",
                 fmt::format("The limit \"{}\" is in {}; give it in that unit.", limit->title, limit->unit->name)};
  if (basis != "maker" && basis != "shop") return bad_value("\"basis\" must be maker (with its source) or shop.");
  if (basis == "shop" && !it.context.who()->roles.count(Role::owner))
    return refusal("role-needed", "A limit of the shop's own is signed by an owner.");
  if (standard->is(json::Kind::null) && service->is(json::Kind::null) && !target)
    return bad_value("Give standard, service or target.");
  Value body = begun(it);
  body.set("limit", Value::text(id));
  body.set("basis", Value::text(basis));
  if (const auto* source = it.action.find("source")) body.set("source", *source);
  if (!standard->is(json::Kind::null)) body.set("standard", *standard);
  if (!service->is(json::Kind::null)) body.set("service", *service);
  if (target) body.set("target", Value::text(target->text()));
  Build next = as_it_would_be(it, body);
  if (const auto done = follow_judging(next, body, it.build.plan->entries_of_limit(id)); !done) return done.error();
  Decision out = plain(std::move(body));
  out.meaning = meaning_done;
  return out;
}

} // namespace build

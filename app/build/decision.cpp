#include "build/decision.h"

#include "build/orders.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

Error refusal(std::string_view code, std::string message) {
  return Error{std::string(code), std::move(message)};
}

Result<std::size_t> named_step(const Build& build, Asked& asked) {
  const std::string id = asked.text("step");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto step = build.plan->find_step(id)) return *step;
  return refusal("unknown-step",
                 fmt::format("There is no step \"{}\" in this procedure; see status for their names.", id));
}

Result<EntryAt> named_entry(const Build& build, Asked& asked) {
  const auto step = named_step(build, asked);
  if (!step) return step.error();
  const std::string id = asked.text("entry");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto entry = build.plan->find_entry(*step, id)) return EntryAt{*step, *entry};
  std::vector<std::string> names;
  for (const auto& entry : build.plan->step(*step).entries) names.push_back(entry.id);
  return refusal("unknown-entry", fmt::format("The step \"{}\" has no entry \"{}\"; it has: {}.",
                                              build.plan->step(*step).title, id, fmt::join(names, ", ")));
}

Result<std::size_t> named_position(const procedure::Step& step, const std::string& name) {
  const auto it = std::find(step.positions.begin(), step.positions.end(), name);
  if (it != step.positions.end()) return static_cast<std::size_t>(it - step.positions.begin());
  if (step.positions.empty()) return bad_value(fmt::format("The step \"{}\" has no positions.", step.title));
  return bad_value(fmt::format("There is no position \"{}\" in \"{}\"; it has: {}.", name, step.title,
                               fmt::join(step.positions, ", ")));
}

Result<void> may_write(const Build& build, std::size_t index) {
  const auto& step = build.plan->step(index);
  switch (step_on(build, index)) {
  case Holds::no: return refusal("not-on-this-engine", fmt::format("\"{}\" is not on this engine.", step.title));
  case Holds::unset:
    return refusal(
        "option-unset",
        fmt::format("Whether \"{}\" is on this engine depends on an option that is not picked yet: pick \"{}\".",
                    step.title, step.when.front().option));
  case Holds::yes: break;
  }
  const auto& state = build.step(index);
  if (state.signed_off)
    return refusal("step-signed", fmt::format("\"{}\" is signed; reopen it to change anything in it.", step.title));
  if (!state.signatures.empty())
    return refusal("step-signed",
                   fmt::format("\"{}\" is signed once and waits for the second person; reopen it to change "
                               "anything in it.",
                               step.title));
  return {};
}

Result<void> may_write(const Build& build, EntryAt at) {
  if (const auto may = may_write(build, at.step); !may) return may.error();
  const auto& entry = build.plan->entry(at);
  switch (entry_on(build, at)) {
  case Holds::no:
    return refusal("not-on-this-engine", fmt::format("\"{}\" is not asked for on this engine.", entry.title));
  case Holds::unset:
    return refusal("option-unset",
                   fmt::format("Whether \"{}\" is asked for depends on an option that is not picked yet: "
                               "pick \"{}\".",
                               entry.title, entry.when.front().option));
  case Holds::yes: break;
  }
  return {};
}

Result<void> in_turn(const Build& build, EntryAt at, bool may_be_ahead) {
  const auto* before = waits_for(build, at.step);
  if (!before || (may_be_ahead && build.plan->entry(at).loose)) return {};
  return refusal("out-of-order",
                 fmt::format("\"{}\" must be signed before \"{}\".", before->title, build.plan->step(at.step).title));
}

Result<void> cautions_read(const Build& build, std::size_t index, const Context& context) {
  const auto& step = build.plan->step(index);
  const bool warns = std::any_of(step.cautions.begin(), step.cautions.end(), [](const auto& caution) {
    return caution.word == procedure::SignalWord::danger || caution.word == procedure::SignalWord::warning;
  });
  if (!warns || build.step(index).acknowledged.count(context.who()->person)) return {};
  return refusal("caution-unread",
                 fmt::format("Read and acknowledge the danger and warning notices of \"{}\" first.", step.title));
}

Result<void> is_here(const Build& build, EntryAt at, const std::set<std::size_t>& positions) {
  const auto away = away_of(build, at, positions);
  if (!away) return {};
  return refusal("part-away", fmt::format("{}: enter it as back first.", away_text(build, *away)));
}

Value begun(const Case& it) {
  return Value::object({{"asked", as_recorded(it.action)}});
}

Value begun(const Case& it, std::size_t step) {
  Value body = begun(it);
  body.set("step", Value::text(it.build.plan->step(step).id));
  body.set("pass", Value::integer(it.build.step(step).pass));
  return body;
}

Value begun(const Case& it, EntryAt at) {
  Value body = begun(it, at.step);
  body.set("entry", Value::text(it.build.plan->entry(at).id));
  body.set("pass", Value::integer(it.build.entry(at).pass));
  return body;
}

Build as_it_would_be(const Case& it, const Value& body) {
  Build next = it.build;
  Event event;
  event.kind = it.kind();
  event.body = body;
  event.seq = it.build.seq + 1;
  event.person = it.context.who()->person;
  event.time = it.context.now;
  apply_body(next, event);
  return next;
}

Value calculated_answer(const Value& body) {
  Value out = Value::array();
  const auto* calculated = body.find("calculated");
  if (!calculated) return out;
  for (const auto& item : calculated->items()) {
    Value one = Value::object({{"entry", item.at("entry")}});
    if (item.at("step") != body.at("step")) one.set("step", item.at("step"));
    if (const auto* position = item.find("position")) one.set("position", *position);
    Value results = item.at("results");
    if (results.is(json::Kind::object))
      for (auto& result : results.members())
        if (result.value.is(json::Kind::object)) result.value.remove("by");
    one.set("results", std::move(results));
    if (const auto* refusal_text = item.find("refusal")) one.set("refusal", *refusal_text);
    one.set("verdict", item.at("verdict"));
    out.push(std::move(one));
  }
  return out;
}

Error wrong_kind(const procedure::Entry& entry, std::string_view what_to_do) {
  using procedure::EntryKind;
  const auto called = [&]() -> std::string_view {
    switch (entry.kind) {
    case EntryKind::reading: return "a reading";
    case EntryKind::readings: return "a set of readings";
    case EntryKind::confirm: return "something to confirm";
    case EntryKind::choice: return "a choice";
    case EntryKind::tightening: return "something to tighten";
    case EntryKind::identity: return "a mark to write down";
    case EntryKind::wait: return "a wait";
    case EntryKind::photograph: return "a photograph";
    case EntryKind::calculated: return "worked out from readings";
    }
    return "";
  };
  return bad_value(fmt::format("{} is {}; {}.", entry.title, called(), what_to_do));
}

Value text_list(const std::vector<std::string>& list) {
  Value out = Value::array();
  for (const auto& text : list) out.push(Value::text(text));
  return out;
}

Value place_list(const std::vector<std::size_t>& places) {
  Value out = Value::array();
  for (const auto place : places) out.push(Value::integer(static_cast<std::int64_t>(place)));
  return out;
}

Result<EntryAt> tightening_entry(const Case& it, Asked& asked) {
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  const auto& entry = it.build.plan->entry(*at);
  if (entry.kind == procedure::EntryKind::tightening) return *at;
  return wrong_kind(entry, "nothing is tightened there");
}

Value next_fastener_answer(const Build& build, EntryAt at) {
  const auto next = next_fastener(build, at);
  if (!next) return {};
  const auto& entry = build.plan->entry(at);
  return Value::object({{"fastener", Value::text(entry.fasteners[next->fastener].id)},
                        {"stage", Value::text(entry.stages[next->stage].id)}});
}

} // namespace build

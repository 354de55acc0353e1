// Putting one's name to a step, and taking a joint apart again.
#include "build/consumables.h"
#include "build/decision.h"
#include "build/reopening.h"
#include "build/second_look.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

Value next_step(const Build& build, std::size_t from) {
  const std::size_t count = build.plan->size();
  for (std::size_t i = 1; i <= count; ++i) {
    const std::size_t s = (from + i) % count;
    const StepStanding standing = standing_of(build, s);
    const bool open = standing == StepStanding::open || standing == StepStanding::half_done ||
                      (standing == StepStanding::reopened && !waits_for(build, s));
    if (open) return Value::text(build.plan->step(s).id);
  }
  return {};
}

// What the shop keeps of a step: how often each wrench was pulled, how often each marked bolt has been used.
Value used_in(const Build& build, std::size_t step) {
  std::map<std::string, int> pulls;
  std::map<std::string, Value> bolts;
  for (std::size_t e = 0; e < build.plan->step(step).entries.size(); ++e) {
    const EntryAt at{step, e};
    for (const auto& [gauge, count] : build.entry(at).pulls) pulls[gauge] += count;
    for (std::size_t f = 0; f < build.entry(at).fasteners.size(); ++f) {
      const BoltState& bolt = bolt_at(build, at, f);
      if (bolt.identity.empty()) continue;
      Value item = Value::object({{"bolt", Value::text(bolt.identity)}, {"uses", Value::integer(bolt.uses)}});
      const auto& facts = build.plan->entry(at).bolt; // an entry that takes bolts over may say less of them
      if (bolt.length && facts && !facts->length.empty()) {
        const Unit& unit = *build.limit(facts->length)->unit;
        item.set("length", Value::text(fmt::format("{} {}", bolt.length->text(), unit.name)));
      }
      bolts[bolt.identity] = std::move(item);
    }
  }
  if (pulls.empty() && bolts.empty()) return {};
  Value wrenches = Value::array();
  for (const auto& [gauge, count] : pulls)
    wrenches.push(Value::object({{"gauge", Value::text(gauge)}, {"pulls", Value::integer(count)}}));
  Value list = Value::array();
  for (auto& [identity, item] : bolts) list.push(std::move(item));
  return Value::object({{"wrenches", std::move(wrenches)}, {"bolts", std::move(list)}});
}

} // namespace

void list_exceptions(const Build& build, std::size_t step, Value& body) {
  std::vector<std::string> conceded, accepted, worn;
  const auto& state = build.step(step);
  for (std::size_t e = 0; e < state.entries.size(); ++e) {
    const std::string& id = build.plan->step(step).entries[e].id;
    bool concession = false, close = false, used = false;
    const auto look = [&](const Judged& judged) {
      concession = concession || judged.conceded;
      close = close || judged.accepted;
      used = used || judged.standing == Standing::worn;
    };
    for (const auto& cell : state.entries[e].cells) look(cell.judged);
    for (const auto& it : state.entries[e].calculated) look(it.judged);
    for (const auto& fastener : state.entries[e].fasteners)
      for (const auto& done : fastener) look(done.judged);
    look(state.entries[e].judged);
    if (concession) conceded.push_back(id);
    if (close) accepted.push_back(id);
    if (used) worn.push_back(id);
  }
  if (!conceded.empty()) body.set("conceded", text_list(conceded));
  if (!accepted.empty()) body.set("accepted", text_list(accepted));
  if (!worn.empty()) body.set("worn", text_list(worn));
}

std::vector<Blocker> sign_blockers(const Shop& shop, const Build& build, std::size_t step, const Context& context) {
  const Actor& who = *context.who();
  const auto& signatures = build.step(step).signatures;
  auto out = blockers(shop, build, step, context.now, who.person);
  if (signatures.empty()) return out;
  // Either somebody else, or in a one-person shop the same person, whose second look adds blockers of its own.
  const bool again = may_look_again(shop, build, step, who.person);
  const bool another = context.authority && (again || who.person != signatures.front().person);
  std::erase_if(out, [&](const Blocker& blocker) {
    // The second person looks at the finished work: the notices were for whoever did it.
    return blocker.code == "caution-unread" || (another && blocker.code == "second-person-needed");
  });
  return out;
}

Result<Decision> sign(const Case& it) {
  Asked asked(it.action, {"build", "step", "person", "passphrase"});
  const auto step = named_step(it.build, asked);
  if (!step) return step.error();
  const auto& state = it.build.step(*step);
  const auto& planned = it.build.plan->step(*step);
  if (state.signed_off) return refusal("step-signed", fmt::format("\"{}\" is signed already.", planned.title));
  if (step_on(it.build, *step) == Holds::no)
    return refusal("not-on-this-engine", fmt::format("\"{}\" is not on this engine.", planned.title));
  const Actor& who = *it.context.who();
  const bool second = !state.signatures.empty();
  const bool same_person = second && who.person == state.signatures.front().person;
  if (!second && !who.roles.count(Role::builder))
    return refusal("role-needed", fmt::format("{} is not enrolled as a builder; a builder signs first.", who.name));
  const auto in_the_way = sign_blockers(it.shop, it.build, *step, it.context);
  if (!in_the_way.empty())
    return refusal("blocked", in_the_way.size() == 1
                                  ? in_the_way.front().message
                                  : fmt::format("{} And {} more.", in_the_way.front().message, in_the_way.size() - 1));
  const bool done = second || !planned.hold;
  Value body = begun(it, *step);
  body.set("signature", Value::integer(second ? 2 : 1));
  body.set("state", Value::text(std::string(name_of(done ? StepStanding::signed_off : StepStanding::wants_second))));
  list_exceptions(it.build, *step, body);
  if (Value fitted = fitted_with(it.build, *step); !second && !fitted.is(json::Kind::null))
    body.set("fitted", std::move(fitted));
  if (Value used = used_in(it.build, *step); !used.is(json::Kind::null)) body.set("used", std::move(used));
  Decision out;
  out.meaning = !second                            ? meaning_done
                : same_person                      ? meaning_checked_again
                : who.roles.count(Role::inspector) ? meaning_checked
                                                   : meaning_witnessed;
  if (same_person) body.set("independent", Value::boolean(false));
  const Build after = as_it_would_be(it, body);
  out.answer = Value::object({{"state", body.at("state")}, {"next", next_step(after, *step)}});
  out.body = std::move(body);
  return out;
}

namespace {

Result<Value> reopen_body(const Case& it) {
  Asked asked(it.action, {"build", "step", "positions", "reason", "preview"});
  const auto step = named_step(it.build, asked);
  if (!step) return step.error();
  const bool preview = asked.truth("preview").value_or(false);
  asked.line("reason", !preview);
  std::set<std::size_t> positions;
  for (const auto& name : asked.texts("positions")) {
    const auto position = named_position(it.build.plan->step(*step), name);
    if (!position) return position.error();
    positions.insert(*position);
  }
  if (const auto wrong = asked.wrong()) return *wrong;
  if (!has_anything(it.build.step(*step)))
    return bad_value(
        fmt::format("There is nothing in \"{}\" yet that could be reopened.", it.build.plan->step(*step).title));
  Reopening reopening(it.build);
  reopening.take(*step, positions);
  std::vector<Changed> lost;
  Value body = begun(it, *step);
  body.set("reopened", reopening.list(lost));
  Build next = as_it_would_be(it, body);
  if (const auto done = follow(next, body, lost); !done) return done.error();
  return body;
}

Value reopen_answer(const Value& body) {
  Value ids = Value::array();
  Value lost = Value::array();
  Value asks = Value::array();
  Value out = Value::array();
  for (const auto& item : body.at("reopened").items()) {
    ids.push(item.at("step"));
    for (const auto& entry : item.at("entries").items())
      (entry.at("does").as_text() == "lost" ? lost : asks)
          .push(Value::object({{"step", item.at("step")}, {"entry", entry.at("entry")}}));
    if (const auto* gone = item.find("taken_out"))
      for (const auto& one : gone->items()) out.push(one);
  }
  Value answer = Value::object({{"reopened", std::move(ids)}, {"lost", std::move(lost)}, {"asks", std::move(asks)}});
  if (!out.items().empty()) answer.set("taken_out", std::move(out));
  return answer;
}

} // namespace

Result<Decision> reopen(const Case& it) {
  auto body = reopen_body(it);
  if (!body) return body.error();
  Decision out;
  out.answer = reopen_answer(*body);
  out.body = std::move(*body);
  return out;
}

Result<Value> preview_reopen(const Shop& shop, const Build& build, const Value& action, const Context& context) {
  const auto body = reopen_body(Case{shop, build, action, context});
  if (!body) return body.error();
  return reopen_answer(*body);
}

std::vector<Blocker> what_blocks(const Shop& shop, const Build& build, const Value& action, const Context& context) {
  Asked asked(action, {"build", "step", "person", "passphrase", "deferred", "reason", "outcome"});
  if (action.text_or_empty("do") == "release")
    return release_blockers(shop, build, asked.texts("deferred"), context.now);
  const auto step = named_step(build, asked);
  return step ? sign_blockers(shop, build, *step, context) : std::vector<Blocker>();
}

} // namespace build

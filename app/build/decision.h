// Shared by the files of the gate: finding the step and entry an action names, and the conditions most actions share.
#pragma once

#include "build/apply.h"
#include "build/asked.h"
#include "build/blockers.h"
#include "build/decide.h"
#include "build/follow.h"
#include "build/gauge.h"

namespace build {

using json::Value;

// Everything a handler of one action on a build needs.
struct Case {
  const Shop& shop;
  const Build& build;
  const Value& action;
  const Context& context;
  std::string kind() const { return action.text_or_empty("do"); }
};

Error refusal(std::string_view code, std::string message);

Result<std::size_t> named_step(const Build& build, Asked& asked);
Result<EntryAt> named_entry(const Build& build, Asked& asked); // "step" and "entry"

// The same, when it is a tightening.
Result<EntryAt> tightening_entry(const Case& it, Asked& asked);
Value next_fastener_answer(const Build& build, EntryAt at); // {fastener, stage}, or null

// A position by its name in the step; code "bad-value".
Result<std::size_t> named_position(const procedure::Step& step, const std::string& name);

// The step is on this engine and not signed; the entry is asked for on this engine.
Result<void> may_write(const Build& build, std::size_t step);
Result<void> may_write(const Build& build, EntryAt at);
// Its turn has come, or the entry belongs to a loose part and may be measured ahead.
Result<void> in_turn(const Build& build, EntryAt at, bool may_be_ahead);
// The person acting has read the step's DANGER and WARNING notices in this pass.
Result<void> cautions_read(const Build& build, std::size_t step, const Context& context);

// No part of which the entry tells at these positions is away at the machine shop; code "part-away".
Result<void> is_here(const Build& build, EntryAt at, const std::set<std::size_t>& positions);

// The body begun: the action as asked, the step and the entry.
Value begun(const Case& it);
Value begun(const Case& it, std::size_t step);
Value begun(const Case& it, EntryAt at);

// The build as the body would make it, so that what follows can be worked out. Only for bodies made by the gate.
Build as_it_would_be(const Case& it, const Value& body);

// The calculated part of an ok answer: [{entry, results, verdict}] from a body.
Value calculated_answer(const Value& body);

// "Dial on the crank nose is a set of readings; ..." for an action that does not fit its entry.
Error wrong_kind(const procedure::Entry& entry, std::string_view what_to_do);

Value text_list(const std::vector<std::string>& list);
Value place_list(const std::vector<std::size_t>& places);

// Into a body: what the name is put to although it is not plainly within.
void list_exceptions(const Build& build, std::size_t step, Value& body);

// "customer" of a concession, as its event holds it: who agreed, when and how; "not asked" when it is absent.
Result<Value> customer_agreed(Asked& asked);

// What keeps whoever acts from signing the step now.
std::vector<Blocker> sign_blockers(const Shop& shop, const Build& build, std::size_t step, const Context& context);

// Handlers, by file.
Result<Decision> record(const Case& it); // record, again
Result<Decision> correct(const Case& it);
Result<Decision> take_back(const Case& it);
Result<Decision> zero(const Case& it);
Result<Decision> acknowledge(const Case& it);
Result<Decision> confirm(const Case& it);
Result<Decision> pick(const Case& it);
Result<Decision> identify(const Case& it);
Result<Decision> start_wait(const Case& it);
Result<Decision> part(const Case& it);
Result<Decision> note(const Case& it);
Result<Decision> attach(const Case& it);
Result<Decision> finding(const Case& it);
Result<Decision> clear(const Case& it);
Result<Decision> send(const Case& it);
Result<Decision> back(const Case& it);
Result<Decision> fill_limit(const Case& it);
Result<Decision> tighten(const Case& it);
Result<Decision> loosen(const Case& it);
Result<Decision> bolt(const Case& it);
Result<Decision> extension(const Case& it);
Result<Decision> dispose(const Case& it);
Result<Decision> accept(const Case& it);
Result<Decision> sign(const Case& it);
Result<Decision> reopen(const Case& it);
Result<Decision> release(const Case& it);
Result<Decision> addendum(const Case& it);

} // namespace build

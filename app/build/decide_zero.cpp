// zero: a comparator put back on its setting, and what it shows there.
#include "build/comparator.h"
#include "build/decision.h"
#include "build/second_look.h"

#include <fmt/format.h>

namespace build {

namespace {

// The entry's step may be signed once when the set is of a second look at it.
Result<void> may_put_back(const Case& it, EntryAt at, int set) {
  const bool looks = only_in_second_look(it.build.entry(at), set) &&
                     may_look_again(it.shop, it.build, at.step, it.context.who()->person);
  if (!looks)
    if (const auto may = may_write(it.build, at); !may) return may.error();
  return cautions_read(it.build, at.step, it.context);
}

Result<Exact> drift_shown(const Case& it, const procedure::Entry& entry) {
  const Unit* unit = entry.unit;
  if (const auto* named = it.action.find("unit")) {
    unit = named->is(json::Kind::text) ? quantity::find_unit(named->as_text()) : nullptr;
    if (!unit || unit->dimension != entry.unit->dimension)
      return Error{"bad-unit", fmt::format("\"unit\" of {} must be one of {}.", entry.title,
                                           quantity::name_of(entry.unit->dimension))};
  }
  const auto typed = typed_value(it.action.at("value"), *unit);
  if (!typed) return Error{typed.error().code, fmt::format("{}: {}", entry.title, typed.error().message)};
  const auto value = quantity::in_unit(*typed, *entry.unit);
  if (!value) return value.error();
  return value->value;
}

// The cells of the set are forgotten, as when a reading is disposed of; what was read before strip-down or at a second
// look is taken out too.
Result<void> give_up(const Case& it, EntryAt at, int set, Value& body) {
  const auto& state = it.build.entry(at);
  const auto& step = it.build.plan->step(at.step);
  const auto cells = cells_of_set(state.cells, set);
  const auto found = cells_of_set(state.as_found, set);
  const auto look = cells_of_set(state.second_look, set);
  if (!found.empty()) body.set("as_found", place_list(found));
  if (!look.empty()) body.set("second_look", place_list(look));
  if (!cells.empty())
    body.set("opened", Value::array({Value::object({{"step", Value::text(step.id)},
                                                    {"entry", Value::text(it.build.plan->entry(at).id)},
                                                    {"places", place_list(cells)}})}));
  if (cells.empty() && found.empty()) return {}; // nothing is worked out from a second look
  const std::size_t per = procedure::cells_of(step, it.build.plan->entry(at)).per_position();
  std::set<std::size_t> positions;
  for (const auto* places : {&cells, &found})
    for (const auto cell : *places) positions.insert(cell / per);
  Build next = as_it_would_be(it, body);
  return follow(next, body, {{at, positions}});
}

} // namespace

Result<Decision> zero(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "value", "unit"});
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  asked.any("value");
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto& entry = it.build.plan->entry(*at);
  const auto& state = it.build.entry(*at);
  const auto* set = open_set(state);
  if (!set)
    return bad_value(fmt::format("{}: no gauge is waiting to be put back on its setting; it is asked after readings "
                                 "with \"set_at\".",
                                 entry.title));
  const int number = number_of(state, *set);
  if (const auto may = may_put_back(it, *at, number); !may) return may.error();
  const auto drift = drift_shown(it, entry);
  if (!drift) return drift.error();
  if (beyond_a_dial(*drift, set->at))
    return refusal("implausible",
                   fmt::format("{}: type what the dial shows on its setting, near 0, not {}; {} was set at {}.",
                               entry.title, drift->text(), set->gauge, setting_text(*set, *entry.unit)));
  const bool kept = drift->abs() <= set->division;
  Value body = begun(it, *at);
  body.set("set", Value::integer(number));
  body.set("unit", Value::text(std::string(entry.unit->name)));
  body.set("set_at", Value::text(set->at.text()));
  body.set("set_gauge", Value::text(set->gauge));
  if (!set->with.empty()) body.set("set_with", Value::text(set->with));
  body.set("division", Value::text(set->division.text()));
  body.set("drift", Value::text(drift->text()));
  body.set("kept", Value::boolean(kept));
  if (!kept)
    if (const auto done = give_up(it, *at, number, body); !done) return done.error();
  Decision out;
  out.answer = Value::object({{"drift", body.at("drift")}, {"kept", body.at("kept")}});
  if (const auto* opened = body.find("opened")) out.answer.set("opened", *opened);
  out.body = std::move(body);
  return out;
}

} // namespace build

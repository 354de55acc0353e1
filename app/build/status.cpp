#include "build/status.h"

#include "build/doubt.h"
#include "build/findings.h"

namespace build {

using json::Value;

Value to_json(const Blocker& blocker, bool with_step) {
  Value out = Value::object({{"code", Value::text(blocker.code)}, {"message", Value::text(blocker.message)}});
  if (!blocker.entry.empty()) out.set("entry", Value::text(blocker.entry));
  if (with_step) out.set("step", Value::text(blocker.step));
  return out;
}

Value to_json(const std::vector<Blocker>& list, bool with_step) {
  Value out = Value::array();
  for (const auto& blocker : list) out.push(to_json(blocker, with_step));
  return out;
}

namespace {

// What a released engine's owner must be told: readings whose gauge was found out, and not in an addendum yet.
Value addendum_due(const Shop& shop, const Build& build) {
  Value out = Value::array();
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (std::size_t e = 0; e < build.plan->step(s).entries.size(); ++e)
      if (const auto it = in_doubt(shop, build, {s, e}); it.doubt)
        out.push(Value::object({{"step", Value::text(build.plan->step(s).id)},
                                {"entry", Value::text(build.plan->entry({s, e}).id)},
                                {"message", Value::text(what_is_doubted(build, {s, e}, *it.doubt) + ".")}}));
  return out;
}

} // namespace

Value status(const Shop& shop, const Build& build, const Moment& now) {
  Value steps = Value::array();
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    steps.push(Value::object({{"step", Value::text(build.plan->step(s).id)},
                              {"state", Value::text(std::string(name_of(standing_of(build, s))))},
                              {"blockers", to_json(blockers(shop, build, s, now))}}));
  Value options = Value::object();
  for (const auto& option : build.plan->procedure().options) {
    const std::string value = build.option(option.id);
    options.set(option.id, value.empty() ? Value() : Value::text(value));
  }
  Value out = Value::object({{"steps", std::move(steps)}, {"options", std::move(options)}});
  if (!build.findings.empty()) out.set("findings", findings_status(shop, build, now));
  out.set("released", Value::boolean(build.released()));
  if (build.released()) {
    out.set("outcome", Value::text(build.outcome));
    if (Value due = addendum_due(shop, build); !due.items().empty()) out.set("addendum_due", std::move(due));
  }
  out.set("now", Value::text(calc::offset_text(now)));
  return out;
}

} // namespace build

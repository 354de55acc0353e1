// Tightening: stages gone through fastener by fastener in the order given, or a whole stage at once.
#include "build/decision.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using procedure::By;
using procedure::StageKind;

namespace {

constexpr int implausible_factor = 3; // a torque beyond this many times its target is a slip of digit or unit

bool turns(StageKind kind) {
  return kind == StageKind::torque || kind == StageKind::angle || kind == StageKind::stretch;
}

bool with_wrench(StageKind kind) {
  return kind == StageKind::torque || kind == StageKind::check;
}

// Everything a tightening is decided from.
struct Pull {
  const Case& it;
  EntryAt at;
  const procedure::Entry& entry;
  NextFastener next;
  const procedure::Stage& stage;
  std::vector<std::size_t> which;
  bool out_of_order = false;
};

std::string name_of(const Pull& pull, std::size_t fastener) {
  return pull.entry.fasteners[fastener].id;
}

// All that the stage still wants, in order.
std::vector<std::size_t> still_wanted(const Build& build, EntryAt at, std::size_t stage) {
  const auto& fasteners = build.entry(at).fasteners;
  std::vector<std::size_t> out;
  for (std::size_t f = 0; f < fasteners.size(); ++f)
    if (fasteners[f].size() <= stage || fasteners[f][stage].below) out.push_back(f);
  return out;
}

// Which fasteners this action speaks of: the one named, or all that the stage still wants.
Result<void> find_fasteners(Pull& pull, const std::string& name) {
  const auto& fasteners = pull.entry.fasteners;
  const auto wanted = still_wanted(pull.it.build, pull.at, pull.next.stage);
  if (name == "all") {
    if (pull.stage.by == By::fastener && wanted.size() > 1)
      return refusal("one-by-one", fmt::format("Stage {} is stated fastener by fastener; next is {}.", pull.stage.id,
                                               name_of(pull, pull.next.fastener)));
    pull.which = wanted;
    return {};
  }
  const auto known = std::find_if(fasteners.begin(), fasteners.end(), [&](const auto& f) { return f.id == name; });
  if (known == fasteners.end()) return bad_value(fmt::format("{} has no fastener \"{}\".", pull.entry.title, name));
  const auto f = static_cast<std::size_t>(known - fasteners.begin());
  const bool has_it = std::find(wanted.begin(), wanted.end(), f) == wanted.end();
  // An angle or a growth adds up: order and number of turns matter. A torque is gone round again; the rest only looks.
  const bool adds_up = pull.stage.kind == StageKind::angle || pull.stage.kind == StageKind::stretch;
  if (has_it && !adds_up)
    return refusal("already-recorded", fmt::format("Fastener {} has stage {} already; next is {}.", name, pull.stage.id,
                                                   name_of(pull, pull.next.fastener)));
  if (has_it)
    return refusal("out-of-order", fmt::format("Fastener {} has stage {} already. If it was turned twice, loosen the "
                                               "joint and start at the first stage; next is {}.",
                                               name, pull.stage.id, name_of(pull, pull.next.fastener)));
  if (adds_up && f != pull.next.fastener)
    return refusal("out-of-order", fmt::format("Next is fastener {}, stage {}. If {} was turned out of order, loosen "
                                               "the joint and start at the first stage.",
                                               name_of(pull, pull.next.fastener), pull.stage.id, name));
  pull.out_of_order = f != pull.next.fastener && pull.stage.kind == StageKind::torque;
  pull.which = {f};
  return {};
}

// What must be true of the bolts before they are tightened.
Result<void> bolts_ready(const Pull& pull) {
  if (!turns(pull.stage.kind) || !pull.entry.bolt || pull.entry.retorque) return {};
  const auto& asked = *pull.entry.bolt;
  for (const std::size_t f : pull.which) {
    const BoltState& bolt = bolt_at(pull.it.build, pull.at, f);
    const bool begins = pull.it.build.entry(pull.at).fasteners[f].empty();
    if (!begins) continue;
    const std::string name = fmt::format("{}, fastener {}", pull.entry.title, name_of(pull, f));
    if ((asked.uses || !asked.length.empty()) && bolt.state.empty())
      return refusal("bolt-unknown", fmt::format("{}: say first whether the bolt is new or reused.", name));
    if (bolt.replace)
      return refusal("bolt-used-up", fmt::format("{}: this bolt is not used again; take a new one.", name));
    if (asked.uses && bolt.uses >= *asked.uses)
      return refusal("bolt-used-up", fmt::format("{}: tightened {} times, {} is the most; take a new bolt.", name,
                                                 bolt.uses, *asked.uses));
    if (bolt.measure || (!asked.length.empty() && bolt.state == "reused" && !bolt.length))
      return refusal("bolt-length-missing", fmt::format("{}: measure the length of the bolt first.", name));
    if (bolt.judged.blocks())
      return refusal("bolt-used-up", fmt::format("{}: its length is outside the limit; take a new bolt.", name));
  }
  return {};
}

struct Set {
  Exact value;         // at the fastener, in the limit's unit
  Exact on_the_wrench; // the same without a lever
  Exact prevailing;
  const Gauge* gauge = nullptr;
  Trust trust;
};

Result<Exact> number_asked(const Pull& pull, const char* key, const Unit& wanted) {
  const Unit* unit = &wanted;
  if (const auto* named = pull.it.action.find("unit")) {
    unit = named->is(json::Kind::text) ? quantity::find_unit(named->as_text()) : nullptr;
    if (!unit || unit->dimension != wanted.dimension)
      return Error{"bad-unit", fmt::format("{}, stage {} is given in {}; name a unit of that kind.", pull.entry.title,
                                           pull.stage.id, wanted.name)};
  }
  const auto typed = typed_value(*pull.it.action.find(key), *unit);
  if (!typed) return Error{typed.error().code, fmt::format("{}: {}", pull.entry.title, typed.error().message)};
  const Exact value = quantity::convert(typed->value, *typed->unit, wanted);
  if (value.sign() <= 0)
    return bad_value(fmt::format("{}: {} {} is nothing to tighten to.", pull.entry.title, value.text(), wanted.name));
  return value;
}

// How many pulls the wrench has done, with those that the shop has not noted yet.
int pulls_of(const Build& build, const Gauge& gauge) {
  int all = gauge.uses;
  for (std::size_t s = 0; s < build.plan->size(); ++s)
    for (const auto& entry : build.step(s).entries)
      if (const auto it = entry.pulls.find(gauge.id); it != entry.pulls.end()) all += it->second;
  return all;
}

// The wrench, once its kind, dates and range are good, for this stage.
Result<void> wrench_good(const Pull& pull, const Aim& aim, const Set& set) {
  const Gauge& gauge = *set.gauge;
  const Unit& unit = *aim.limit->unit;
  if (gauge.use_limit && pulls_of(pull.it.build, gauge) + static_cast<int>(pull.which.size()) > *gauge.use_limit)
    return refusal("gauge-unfit", fmt::format("{} has done its {} pulls; have it calibrated or take another.", gauge.id,
                                              *gauge.use_limit));
  if (aim.bounds && calc::too_coarse(set.trust.u, *aim.bounds))
    return refusal("gauge-unfit",
                   fmt::format("{} is too coarse for {}: it may be off by {} {} either way; take a better one.",
                               gauge.id, text(*aim.bounds, unit), set.trust.u.text(), unit.name));
  if (gauge.tool == Tool::setting && pull.stage.kind == StageKind::check)
    return refusal("gauge-unfit",
                   fmt::format("{} clicks at what it is set to and cannot show more; a check needs one that indicates.",
                               gauge.id));
  if (gauge.tool == Tool::indicating && pull.which.size() > 1)
    return refusal("one-by-one", fmt::format("{} shows a peak for every fastener: give each its own; next is {}.",
                                             gauge.id, name_of(pull, pull.next.fastener)));
  return {};
}

Result<Set> value_set(const Pull& pull, const Aim& aim) {
  const Unit& wanted = *aim.limit->unit;
  const auto number = number_asked(pull, "value", wanted);
  if (!number) return number.error();
  Set set;
  set.on_the_wrench = *number;
  const auto& lever = pull.it.build.entry(pull.at).lever;
  set.value = lever && with_wrench(pull.stage.kind) ? *number / lever->ratio : *number;
  if (pull.stage.prevailing) {
    if (!pull.it.action.find("prevailing"))
      return bad_value(
          fmt::format("{}, stage {}: give \"prevailing\", the torque that turns the nut before it seats; it is "
                      "added.",
                      pull.entry.title, pull.stage.id));
    const auto extra = number_asked(pull, "prevailing", wanted);
    if (!extra) return extra.error();
    set.prevailing = *extra;
  } else if (pull.it.action.find("prevailing")) {
    return bad_value(fmt::format("{}, stage {}: no prevailing torque is added here.", pull.entry.title, pull.stage.id));
  }
  if (set.value > (aim.largest + set.prevailing) * implausible_factor && aim.largest.sign() > 0)
    return refusal("implausible",
                   fmt::format("{} {} is more than {} times the {} {} of stage {}; a digit or the unit is wrong.",
                               set.value.text(), wanted.name, implausible_factor, aim.largest.text(), wanted.name,
                               pull.stage.id));
  const std::string id = pull.it.action.text_or_empty("gauge");
  if (id.empty() && pull.stage.kind == StageKind::angle) return set; // counted on the wrench's own marks
  set.gauge = pull.it.shop.gauge(id);
  if (!set.gauge)
    return refusal("gauge-unknown", id.empty()
                                        ? fmt::format("{}: say which {} it was done with.", pull.entry.title,
                                                      with_wrench(pull.stage.kind) ? "wrench" : "gauge")
                                        : fmt::format("There is no wrench \"{}\" in the shop; add it first.", id));
  const bool wrench = with_wrench(pull.stage.kind);
  const auto may = (wrench ? may_tighten : may_gauge)(pull.it.shop, *set.gauge, wanted, pull.it.context.now);
  if (!may) return may.error();
  if (const auto range = in_range(*set.gauge, set.on_the_wrench, wanted); !range) return range.error();
  set.trust = trust(*set.gauge, set.on_the_wrench, wanted);
  if (lever && wrench) set.trust.u = set.trust.u / lever->ratio;
  if (wrench)
    if (const auto good = wrench_good(pull, aim, set); !good) return good.error();
  return set;
}

struct Verdict {
  Standing standing = Standing::recorded;
  bool below = false;
};

// A bare target is met when set to within one division of the wrench; limits judge as any limit does.
Verdict judged(const Pull& pull, const Aim& aim, const Set& set) {
  Verdict out;
  if (aim.bounds) {
    Bounds bounds = *aim.bounds;
    if (bounds.low) bounds.low = *bounds.low + set.prevailing;
    if (bounds.high) bounds.high = *bounds.high + set.prevailing;
    switch (calc::judge(set.value, set.trust.u, bounds, aim.limit->rule)) {
    case calc::Verdict::within: out.standing = Standing::within; break;
    case calc::Verdict::undecided: out.standing = Standing::undecided; break;
    case calc::Verdict::outside: out.standing = Standing::outside; break;
    }
    out.below = out.standing == Standing::outside && bounds.low && set.value < *bounds.low;
    return out;
  }
  Exact division;
  if (set.gauge) division = quantity::convert_difference(set.gauge->resolution, *set.gauge->unit, *aim.limit->unit);
  const auto& lever = pull.it.build.entry(pull.at).lever;
  if (lever && with_wrench(pull.stage.kind)) division = division / lever->ratio;
  const Exact off = set.value - *aim.target - set.prevailing;
  out.standing = off.abs() <= division ? Standing::within : Standing::outside;
  out.below = out.standing == Standing::outside && off.sign() < 0;
  return out;
}

// The last stage that turns it: with it the bolt has been used once.
bool uses_bolt(const procedure::Entry& entry, std::size_t stage) {
  return !entry.retorque && turns(entry.stages[stage].kind) &&
         std::none_of(entry.stages.begin() + static_cast<std::ptrdiff_t>(stage) + 1, entry.stages.end(),
                      [](const auto& later) { return turns(later.kind); });
}

Value fastener_list(const Pull& pull, const std::optional<Exact>& value, const Verdict& verdict) {
  Value list = Value::array();
  const bool above = verdict.standing == Standing::outside && !verdict.below;
  for (const std::size_t f : pull.which) {
    Value item =
        Value::object({{"at", Value::integer(static_cast<std::int64_t>(f))}, {"name", Value::text(name_of(pull, f))}});
    if (value) item.set("value", Value::text(value->text()));
    item.set("verdict", Value::text(std::string(build::name_of(verdict.standing))));
    if (verdict.below) item.set("below", Value::boolean(true));
    if (pull.entry.bolt && turns(pull.stage.kind)) {
      if ((uses_bolt(pull.entry, pull.next.stage) && !verdict.below) || above) item.set("used", Value::boolean(true));
      if (above && pull.stage.beyond == procedure::Beyond::replace)
        item.set("replace", Value::boolean(true));
      else if (above && !pull.entry.bolt->length.empty())
        item.set("measure", Value::boolean(true));
    }
    list.push(std::move(item));
  }
  return list;
}

void write_judging(Value& body, const Aim& aim, const Set& set) {
  Applied by;
  by.limit = aim.limit;
  by.bounds = aim.bounds;
  by.column = aim.bounds ? "standard" : "";
  Value how = facts(by);
  if (aim.target) how.set("target", Value::text(aim.target->text()));
  if (!aim.bounds) how.set("tolerance", Value::text("maker gives no tolerance"));
  if (set.prevailing.sign() > 0) how.set("prevailing", Value::text(set.prevailing.text()));
  body.set("by", std::move(how));
}

void write_gauge(Value& body, const Pull& pull, const Aim& aim, const Set& set) {
  const auto how = [&](const char* word) { body.set("how", Value::text(word)); };
  if (pull.stage.kind == StageKind::angle) how("turned");
  if (pull.stage.kind == StageKind::stretch) how("measured");
  if (!set.gauge) return;
  if (with_wrench(pull.stage.kind)) how(set.gauge->tool == Tool::setting ? "set" : "peak");
  body.set("gauge", facts(*set.gauge, set.trust, *aim.limit->unit));
  body.set("gauge_id", Value::text(set.gauge->id));
  const auto& lever = pull.it.build.entry(pull.at).lever;
  if (!lever || !with_wrench(pull.stage.kind)) return;
  body.set("lever", Value::object({{"wrench_length", Value::text(lever->wrench_length.text())},
                                   {"extension", Value::text(lever->extension.text())},
                                   {"angle", Value::text(lever->angle.text())},
                                   {"on_the_wrench", Value::text(set.on_the_wrench.text())}}));
}

// What the end of a stage brings: the stage again when it was done out of order, or a time to wait.
void write_end_of_stage(const Pull& pull, Value& body) {
  const Build after = as_it_would_be(pull.it, body);
  if (!still_wanted(after, pull.at, pull.next.stage).empty()) return;
  if (after.entry(pull.at).disordered) {
    body.set("round_again", Value::boolean(true));
    return;
  }
  const std::size_t following = pull.next.stage + 1;
  if (following >= pull.entry.stages.size() || pull.entry.stages[following].kind != StageKind::wait) return;
  Moment until = pull.it.context.now;
  until.utc_ms += static_cast<std::int64_t>((*pull.entry.stages[following].seconds * 1000).to_double());
  body.set("wait", Value::object({{"stage", Value::text(pull.entry.stages[following].id)},
                                  {"until", Value::text(calc::offset_text(until))}}));
}

Result<void> may_go_on(const Pull& pull) {
  const auto& state = pull.it.build.entry(pull.at);
  if (pull.it.context.now.utc_ms < state.until.utc_ms)
    return refusal("waiting", fmt::format("{}: wait until {}.", pull.entry.title, calc::local_text(state.until)));
  if (!interrupted(pull.it.build, pull.at, pull.it.context.now, pull.it.context.actor->person)) return {};
  return refusal("interrupted",
                 fmt::format("The last sure one is fastener {}, by {} at {}. Confirm that it is, or loosen this stage.",
                             last_sure(pull.it.build, pull.at)->id, state.sure_by, calc::local_text(state.sure_at)));
}

Result<Decision> tighten_to(const Pull& pull) {
  const auto aim = aim_of(pull.it.build, pull.entry, pull.stage);
  if (!aim) return aim.error();
  const auto set = value_set(pull, *aim);
  if (!set) return set.error();
  const Verdict verdict = judged(pull, *aim, *set);
  Value body = begun(pull.it, pull.at);
  body.set("stage", Value::text(pull.stage.id));
  body.set("unit", Value::text(std::string(aim->limit->unit->name)));
  body.set("fasteners", fastener_list(pull, set->value, verdict));
  write_judging(body, *aim, *set);
  write_gauge(body, pull, *aim, *set);
  if (pull.out_of_order) body.set("out_of_order", Value::boolean(true));
  Decision out;
  out.answer = Value::object({{"verdict", Value::text(std::string(build::name_of(verdict.standing)))}});
  out.body = std::move(body);
  return out;
}

// Marked, or let go again: nothing is measured.
Result<Decision> tighten_without_value(const Pull& pull) {
  for (const char* key : {"value", "unit", "gauge", "prevailing"})
    if (pull.it.action.find(key))
      return bad_value(fmt::format("{}, stage {}: nothing is measured there; leave \"{}\" out.", pull.entry.title,
                                   pull.stage.id, key));
  Decision out;
  out.body = begun(pull.it, pull.at);
  out.body.set("stage", Value::text(pull.stage.id));
  out.body.set("fasteners", fastener_list(pull, std::nullopt, {}));
  out.body.set("how", Value::text(pull.stage.text));
  if (pull.out_of_order) out.body.set("out_of_order", Value::boolean(true));
  out.answer = Value::object({{"verdict", Value::text("recorded")}});
  return out;
}

} // namespace

Result<Decision> tighten(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "fastener", "stage", "value", "unit", "gauge", "prevailing"});
  const auto at = tightening_entry(it, asked);
  if (!at) return at.error();
  const std::string fastener = asked.text("fastener");
  const std::string stage_id = asked.text("stage");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  if (const auto read = cautions_read(it.build, at->step, it.context); !read) return read.error();
  if (const auto turn = in_turn(it.build, *at, false); !turn) return turn.error();
  const auto& entry = it.build.plan->entry(*at);
  const auto next = next_fastener(it.build, *at);
  if (!next)
    return refusal("already-recorded",
                   fmt::format("{} is tightened through all its stages; loosen it to start again.", entry.title));
  Pull pull{it, *at, entry, *next, entry.stages[next->stage], {}};
  if (pull.stage.id != stage_id)
    return refusal("out-of-order", fmt::format("Next is fastener {}, stage {}; a stage begins when every fastener has "
                                               "finished the one before.",
                                               entry.fasteners[next->fastener].id, pull.stage.id));
  const bool measured = procedure::has_limit(pull.stage.kind);
  asked.any("value", measured);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto found = find_fasteners(pull, fastener); !found) return found.error();
  if (const auto may = may_go_on(pull); !may) return may.error();
  if (const auto ready = bolts_ready(pull); !ready) return ready.error();
  auto out = measured ? tighten_to(pull) : tighten_without_value(pull);
  if (!out) return out;
  write_end_of_stage(pull, out->body);
  out->answer.set("next", next_fastener_answer(as_it_would_be(it, out->body), *at));
  if (const auto* wait = out->body.find("wait")) out->answer.set("until", wait->at("until"));
  if (out->body.find("round_again")) out->answer.set("round_again", Value::boolean(true));
  return out;
}

} // namespace build

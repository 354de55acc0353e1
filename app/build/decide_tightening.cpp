// Tightening: stages gone through fastener by fastener in the order given, or a whole stage at once; and loosening.
#include "build/decision.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using procedure::EntryKind;

namespace {

constexpr int implausible_factor = 3; // a torque beyond this many times its target is a slip of digit or unit

struct Aim {
  const procedure::Limit* limit = nullptr;
  std::optional<Exact> target;
  std::optional<Bounds> bounds;
  Exact largest; // of what is aimed at: for plausibility
};

Result<Aim> aim_of(const Build& build, const procedure::Entry& entry, const procedure::Stage& stage) {
  const Effective now = effective(build, stage.limit);
  if (!now.values)
    return refusal(now.unset ? "option-unset" : "limit-missing",
                   fmt::format("{}, stage {}: {}.", entry.title, stage.id,
                               now.unset ? "its option is not picked yet" : "the value is not filled in yet"));
  Aim aim{now.limit, now.values->target, now.values->standard, {}};
  if (aim.bounds && aim.bounds->high) aim.largest = *aim.bounds->high;
  if (aim.target) aim.largest = quantity::max(aim.largest, *aim.target);
  return aim;
}

Result<EntryAt> tightening_entry(const Case& it, Asked& asked) {
  const auto at = named_entry(it.build, asked);
  if (!at) return at.error();
  const auto& entry = it.build.plan->entry(*at);
  if (entry.kind == EntryKind::tightening) return *at;
  return wrong_kind(entry, "nothing is tightened there");
}

// Which fasteners this action speaks of: the one named, if it is next; or all that the stage still wants.
Result<std::vector<std::size_t>> fasteners_of(const Build& build, EntryAt at, const std::string& name,
                                              const NextFastener& next) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  std::vector<std::size_t> out;
  if (name == "all") {
    for (std::size_t f = 0; f < state.fasteners.size(); ++f)
      if (state.fasteners[f].size() == next.stage) out.push_back(f);
    return out;
  }
  const auto known = std::find_if(entry.fasteners.begin(), entry.fasteners.end(),
                                  [&](const auto& fastener) { return fastener.id == name; });
  if (known == entry.fasteners.end()) return bad_value(fmt::format("{} has no fastener \"{}\".", entry.title, name));
  if (entry.fasteners[next.fastener].id != name)
    return refusal("out-of-order", fmt::format("Next is fastener {}, stage {}; {} is not its turn.",
                                               entry.fasteners[next.fastener].id, entry.stages[next.stage].id, name));
  out.push_back(next.fastener);
  return out;
}

struct Set {
  Exact value; // in the limit's unit
  const Gauge* gauge = nullptr;
  Trust trust;
};

Result<Set> value_set(const Case& it, const procedure::Entry& entry, const procedure::Stage& stage, const Aim& aim) {
  const Unit& wanted = *aim.limit->unit;
  const Unit* unit = &wanted;
  if (const auto* named = it.action.find("unit")) {
    unit = named->is(json::Kind::text) ? quantity::find_unit(named->as_text()) : nullptr;
    if (!unit || unit->dimension != wanted.dimension)
      return Error{"bad-unit", fmt::format("{}, stage {} is given in {}; name a unit of that kind.", entry.title,
                                           stage.id, wanted.name)};
  }
  const auto typed = typed_value(*it.action.find("value"), *unit);
  if (!typed) return Error{typed.error().code, fmt::format("{}: {}", entry.title, typed.error().message)};
  Set set;
  set.value = quantity::convert(typed->value, *typed->unit, wanted);
  if (set.value.sign() <= 0)
    return bad_value(fmt::format("{}: {} {} is nothing to tighten to.", entry.title, set.value.text(), wanted.name));
  if (set.value > aim.largest * implausible_factor)
    return refusal("implausible",
                   fmt::format("{} {} is more than {} times the {} {} of stage {}; a digit or the unit is wrong.",
                               set.value.text(), wanted.name, implausible_factor, aim.largest.text(), wanted.name,
                               stage.id));
  const std::string id = it.action.text_or_empty("gauge");
  if (id.empty() && stage.kind == procedure::StageKind::angle) return set; // counted on the wrench's own marks
  set.gauge = it.shop.gauge(id);
  if (!set.gauge)
    return refusal("gauge-unknown", id.empty()
                                        ? fmt::format("{}: say which wrench it was tightened with.", entry.title)
                                        : fmt::format("There is no wrench \"{}\" in the shop; add it first.", id));
  if (const auto may = may_tighten(it.shop, *set.gauge, wanted, it.context.now); !may) return may.error();
  if (const auto range = in_range(*set.gauge, set.value, wanted); !range) return range.error();
  set.trust = trust(*set.gauge, set.value, wanted);
  return set;
}

// A bare target is met when set to within one division of the wrench; limits judge as any limit does.
Standing judged(const Aim& aim, const Set& set) {
  if (aim.bounds) {
    switch (calc::judge(set.value, set.trust.u, *aim.bounds, aim.limit->rule)) {
    case calc::Verdict::within: return Standing::within;
    case calc::Verdict::undecided: return Standing::undecided;
    case calc::Verdict::outside: return Standing::outside;
    }
  }
  const Exact division =
      set.gauge ? quantity::convert_difference(set.gauge->resolution, *set.gauge->unit, *aim.limit->unit) : Exact();
  return (set.value - *aim.target).abs() <= division ? Standing::within : Standing::outside;
}

Value next_answer(const Build& build, EntryAt at) {
  const auto next = next_fastener(build, at);
  if (!next) return {};
  const auto& entry = build.plan->entry(at);
  return Value::object({{"fastener", Value::text(entry.fasteners[next->fastener].id)},
                        {"stage", Value::text(entry.stages[next->stage].id)}});
}

} // namespace

Result<Decision> tighten(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "fastener", "stage", "value", "unit", "gauge"});
  const auto at = tightening_entry(it, asked);
  if (!at) return at.error();
  const std::string fastener = asked.text("fastener");
  const std::string stage_id = asked.text("stage");
  asked.any("value");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  if (const auto read = cautions_read(it.build, at->step, it.context); !read) return read.error();
  if (const auto turn = in_turn(it.build, *at, false); !turn) return turn.error();
  const auto& entry = it.build.plan->entry(*at);
  const auto next = next_fastener(it.build, *at);
  if (!next)
    return refusal("already-recorded",
                   fmt::format("{} is tightened through all its stages; loosen it to start again.", entry.title));
  const auto& stage = entry.stages[next->stage];
  if (stage.id != stage_id)
    return refusal("out-of-order", fmt::format("Next is fastener {}, stage {}; a stage begins when every fastener has "
                                               "finished the one before.",
                                               entry.fasteners[next->fastener].id, stage.id));
  const auto which = fasteners_of(it.build, *at, fastener, *next);
  if (!which) return which.error();
  const auto aim = aim_of(it.build, entry, stage);
  if (!aim) return aim.error();
  const auto set = value_set(it, entry, stage, *aim);
  if (!set) return set.error();
  const Standing standing = judged(*aim, *set);
  Value body = begun(it, *at);
  body.set("stage", Value::text(stage.id));
  body.set("unit", Value::text(std::string(aim->limit->unit->name)));
  Value list = Value::array();
  for (const std::size_t f : *which)
    list.push(Value::object({{"at", Value::integer(static_cast<std::int64_t>(f))},
                             {"name", Value::text(entry.fasteners[f].id)},
                             {"value", Value::text(set->value.text())},
                             {"verdict", Value::text(std::string(name_of(standing)))}}));
  body.set("fasteners", std::move(list));
  Applied by;
  by.limit = aim->limit;
  by.bounds = aim->bounds;
  by.column = aim->bounds ? "standard" : "";
  Value how = facts(by);
  if (aim->target) how.set("target", Value::text(aim->target->text()));
  if (!aim->bounds) how.set("tolerance", Value::text("maker gives no tolerance"));
  body.set("by", std::move(how));
  if (set->gauge) {
    body.set("gauge", facts(*set->gauge, set->trust, *aim->limit->unit));
    body.set("gauge_id", Value::text(set->gauge->id));
  }
  const Build after = as_it_would_be(it, body);
  Decision out;
  out.answer =
      Value::object({{"verdict", Value::text(std::string(name_of(standing)))}, {"next", next_answer(after, *at)}});
  out.body = std::move(body);
  return out;
}

Result<Decision> loosen(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "fasteners", "reason"});
  const auto at = tightening_entry(it, asked);
  if (!at) return at.error();
  asked.line("reason");
  const auto* which = asked.any("fasteners");
  if (const auto wrong = asked.wrong()) return *wrong;
  const bool all = which->is(json::Kind::text) && which->as_text() == "all";
  const auto named = all ? std::vector<std::string>() : asked.texts("fasteners");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  const auto& entry = it.build.plan->entry(*at);
  const auto& state = it.build.entry(*at);
  std::vector<std::size_t> places;
  for (const auto& name : named)
    if (std::none_of(entry.fasteners.begin(), entry.fasteners.end(), [&](const auto& f) { return f.id == name; }))
      return bad_value(fmt::format("{} has no fastener \"{}\".", entry.title, name));
  for (std::size_t f = 0; f < entry.fasteners.size(); ++f) {
    const bool meant = all || std::find(named.begin(), named.end(), entry.fasteners[f].id) != named.end();
    if (meant && !state.fasteners[f].empty()) places.push_back(f);
  }
  if (places.empty()) return refusal("entry-missing", fmt::format("{}: none of these is tightened yet.", entry.title));
  Value body = begun(it, *at);
  body.set("loosened", place_list(places));
  const Build after = as_it_would_be(it, body);
  Decision out;
  out.answer = Value::object({{"next", next_answer(after, *at)}});
  out.body = std::move(body);
  return out;
}

} // namespace build

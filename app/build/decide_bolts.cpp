// What goes with a tightening: loosening, which bolts are in and how long they are, the adapter on the wrench.
#include "build/decision.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

Result<std::vector<std::size_t>> fasteners_named(const procedure::Entry& entry, Asked& asked) {
  const auto* which = asked.any("fasteners");
  if (const auto wrong = asked.wrong()) return *wrong;
  std::vector<std::size_t> out;
  if (which->is(json::Kind::text) && which->as_text() == "all") {
    for (std::size_t f = 0; f < entry.fasteners.size(); ++f) out.push_back(f);
    return out;
  }
  for (const auto& name : asked.texts("fasteners", true)) {
    const auto found = std::find_if(entry.fasteners.begin(), entry.fasteners.end(),
                                    [&](const auto& fastener) { return fastener.id == name; });
    if (found == entry.fasteners.end()) return bad_value(fmt::format("{} has no fastener \"{}\".", entry.title, name));
    out.push_back(static_cast<std::size_t>(found - entry.fasteners.begin()));
  }
  if (const auto wrong = asked.wrong()) return *wrong;
  if (out.empty()) return bad_value(fmt::format("{}: name the fasteners, or \"all\".", entry.title));
  return out;
}

struct Length {
  Exact value; // in the limit's unit
  Standing standing = Standing::recorded;
  Value by;
  Value gauge;
};

Result<Length> length_measured(const Case& it, EntryAt at, Asked& asked) {
  const auto& entry = it.build.plan->entry(at);
  const auto* limit = entry.bolt && !entry.bolt->length.empty() ? it.build.limit(entry.bolt->length) : nullptr;
  if (!limit) return bad_value(fmt::format("{}: no length is asked of these bolts.", entry.title));
  const std::string id = asked.text("gauge");
  if (const auto wrong = asked.wrong()) return *wrong;
  const auto* gauge = it.shop.gauge(id);
  if (!gauge) return refusal("gauge-unknown", fmt::format("There is no gauge \"{}\" in the shop; add it first.", id));
  const Unit& unit = *limit->unit;
  if (const auto may = may_gauge(it.shop, *gauge, unit, it.context.now); !may) return may.error();
  const auto typed = typed_value(*it.action.find("length"), unit);
  if (!typed) return typed.error();
  Length out;
  out.value = quantity::convert(typed->value, *typed->unit, unit);
  if (out.value.sign() <= 0) return bad_value(fmt::format("{}: a bolt has a length above 0.", entry.title));
  if (const auto range = in_range(*gauge, out.value, unit); !range) return range.error();
  const Trust its = trust(*gauge, out.value, unit);
  const Applied applied_limit = applied(it.build, at, limit->id, 0);
  out.by = facts(applied_limit);
  out.standing = applied_limit.bounds ? judge(applied_limit, out.value, its.u) : applied_limit.lacking;
  out.gauge = facts(*gauge, its, unit);
  return out;
}

} // namespace

Result<Decision> bolt(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "fasteners", "state", "identity", "length", "gauge"});
  const auto at = tightening_entry(it, asked);
  if (!at) return at.error();
  const auto& entry = it.build.plan->entry(*at);
  const auto which = fasteners_named(entry, asked);
  if (!which) return which.error();
  const std::string state = asked.text("state", false);
  const std::string identity = asked.line("identity", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  if (state.empty() && !asked.has("length")) return bad_value("Say \"state\" (new or reused), or give \"length\".");
  if (!state.empty() && state != "new" && state != "reused") return bad_value("\"state\" must be new or reused.");
  if (!identity.empty() && state.empty()) return bad_value("\"identity\" goes with \"state\".");
  if (asked.has("length") && which->size() > 1)
    return bad_value(fmt::format("{}: each bolt has its own length; name one fastener.", entry.title));
  for (const std::size_t f : *which)
    if (!state.empty() && !it.build.entry(*at).fasteners[f].empty())
      return refusal("already-recorded", fmt::format("{}, fastener {}: the bolt in it is tightened; loosen it before "
                                                     "another goes in.",
                                                     entry.title, entry.fasteners[f].id));
  std::optional<Length> length;
  if (asked.has("length")) {
    auto measured = length_measured(it, *at, asked);
    if (!measured) return measured.error();
    length = std::move(*measured);
  }
  Value body = begun(it, *at);
  body.set("joint", Value::text(joint_of(it.build, *at)));
  Value list = Value::array();
  for (const std::size_t f : *which) {
    const std::string& name = entry.fasteners[f].id;
    Value item = Value::object({{"name", Value::text(name)}});
    if (!state.empty()) {
      // A set shares one mark; each bolt of it is known by its place.
      const std::string its_own =
          identity.empty() || which->size() == 1 ? identity : fmt::format("{}/{}", identity, name);
      const auto known = its_own.empty() ? it.shop.bolts.end() : it.shop.bolts.find(its_own);
      const int before = state == "reused" ? (known == it.shop.bolts.end() ? 1 : known->second.uses) : 0;
      if (state == "new" && known != it.shop.bolts.end())
        return bad_value(fmt::format("The bolt \"{}\" has been used {} times in this shop; it is not new.", its_own,
                                     known->second.uses));
      item.set("state", Value::text(state));
      if (!its_own.empty()) item.set("identity", Value::text(its_own));
      item.set("uses", Value::integer(before));
      if (known != it.shop.bolts.end() && !known->second.length.empty())
        item.set("length_before", Value::text(known->second.length));
    }
    if (length) {
      item.set("length", Value::text(length->value.text()));
      item.set("verdict", Value::text(std::string(name_of(length->standing))));
    }
    list.push(std::move(item));
  }
  body.set("bolts", std::move(list));
  Decision out;
  out.answer = Value::object();
  if (length) {
    body.set("by", std::move(length->by));
    body.set("gauge", std::move(length->gauge));
    out.answer.set("verdict", Value::text(std::string(name_of(length->standing))));
  }
  out.body = std::move(body);
  return out;
}

Result<Decision> extension(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "wrench_length", "extension", "angle", "off"});
  const auto at = tightening_entry(it, asked);
  if (!at) return at.error();
  const bool off = asked.truth("off").value_or(false);
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  Value body = begun(it, *at);
  Decision out;
  out.answer = Value::object();
  if (off) {
    if (asked.has("wrench_length") || asked.has("extension") || asked.has("angle"))
      return bad_value("\"off\" takes the adapter away; give no lengths with it.");
    out.body = std::move(body);
    return out;
  }
  const Unit& mm = *quantity::find_unit("mm");
  const Unit& deg = *quantity::find_unit("deg");
  const auto number = [&](const char* key, const Unit& unit) -> Result<Exact> {
    const auto* given = asked.any(key);
    if (const auto wrong = asked.wrong()) return *wrong;
    const auto typed = typed_value(*given, unit);
    if (!typed) return typed.error();
    return quantity::convert(typed->value, *typed->unit, unit);
  };
  const auto wrench = number("wrench_length", mm);
  if (!wrench) return wrench.error();
  const auto adapter = number("extension", mm);
  if (!adapter) return adapter.error();
  const auto angle = asked.has("angle") ? number("angle", deg) : Result<Exact>(Exact(0));
  if (!angle) return angle.error();
  const auto quantity_of = [](const Exact& value, const char* unit) {
    return Value::object({{"value", Value::number(value.text())}, {"unit", Value::text(unit)}});
  };
  const auto worked = calc::compute(*calc::find_computation("wrench-setting"),
                                    Value::object({{"torque", quantity_of(1, "N.m")},
                                                   {"wrench_length", quantity_of(*wrench, "mm")},
                                                   {"extension", quantity_of(*adapter, "mm")},
                                                   {"angle", quantity_of(*angle, "deg")}}));
  if (!worked) return bad_value(fmt::format("The adapter cannot be reckoned with: {}.", worked.error().message));
  const Exact ratio = worked->find("setting")->quantity()->value;
  body.set("wrench_length", Value::text(wrench->text()));
  body.set("extension", Value::text(adapter->text()));
  body.set("angle", Value::text(angle->text()));
  body.set("ratio", Value::text(ratio.text()));
  out.answer.set("ratio", Value::text(ratio.text()));
  out.body = std::move(body);
  return out;
}

namespace {

// From which stage on a loosened joint is done again: "stage" in a joint of torque alone, else the first.
Result<std::size_t> back_to(const procedure::Entry& entry, const std::string& stage_id, bool all) {
  if (stage_id.empty()) return std::size_t{0};
  const auto found =
      std::find_if(entry.stages.begin(), entry.stages.end(), [&](const auto& s) { return s.id == stage_id; });
  if (found == entry.stages.end()) return bad_value(fmt::format("{} has no stage \"{}\".", entry.title, stage_id));
  const auto stage = static_cast<std::size_t>(found - entry.stages.begin());
  if (!all) return bad_value(fmt::format("{}: a stage is gone round again with all fasteners.", entry.title));
  if (!only_torque_from(entry, stage))
    return bad_value(fmt::format("{}: after an angle or a stretch a joint starts at its first stage.", entry.title));
  return stage;
}

} // namespace

Result<Decision> loosen(const Case& it) {
  Asked asked(it.action, {"build", "step", "entry", "fasteners", "stage", "reason"});
  const auto at = tightening_entry(it, asked);
  if (!at) return at.error();
  asked.line("reason");
  const auto* which = asked.any("fasteners");
  const std::string stage_id = asked.text("stage", false);
  if (const auto wrong = asked.wrong()) return *wrong;
  const bool all = which->is(json::Kind::text) && which->as_text() == "all";
  const auto named = all ? std::vector<std::string>() : asked.texts("fasteners");
  if (const auto wrong = asked.wrong()) return *wrong;
  if (const auto may = may_write(it.build, *at); !may) return may.error();
  const auto& entry = it.build.plan->entry(*at);
  const auto& state = it.build.entry(*at);
  const auto stage = back_to(entry, stage_id, all);
  if (!stage) return stage.error();
  std::vector<std::size_t> places;
  for (const auto& name : named)
    if (std::none_of(entry.fasteners.begin(), entry.fasteners.end(), [&](const auto& f) { return f.id == name; }))
      return bad_value(fmt::format("{} has no fastener \"{}\".", entry.title, name));
  for (std::size_t f = 0; f < entry.fasteners.size(); ++f) {
    const bool meant = all || std::find(named.begin(), named.end(), entry.fasteners[f].id) != named.end();
    if (meant && state.fasteners[f].size() > *stage) places.push_back(f);
  }
  if (places.empty()) return refusal("entry-missing", fmt::format("{}: none of these is tightened yet.", entry.title));
  Value body = begun(it, *at);
  body.set("loosened", place_list(places));
  if (*stage > 0) body.set("to", Value::integer(static_cast<std::int64_t>(*stage)));
  const Build after = as_it_would_be(it, body);
  Decision out;
  out.answer = Value::object({{"next", next_fastener_answer(after, *at)}});
  out.body = std::move(body);
  return out;
}

} // namespace build

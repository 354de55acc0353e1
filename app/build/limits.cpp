#include "build/limits.h"

#include "procedure/transcribed.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

Holds holds(const Build& build, const procedure::When& when) {
  bool unset = false;
  for (const auto& condition : when) {
    const std::string now = build.option(condition.option);
    if (now.empty())
      unset = true;
    else if (std::find(condition.is.begin(), condition.is.end(), now) == condition.is.end())
      return Holds::no;
  }
  return unset ? Holds::unset : Holds::yes;
}

Holds step_on(const Build& build, std::size_t step) {
  return holds(build, build.plan->step(step).when);
}

Holds entry_on(const Build& build, EntryAt at) {
  const Holds whole = step_on(build, at.step);
  if (whole != Holds::yes) return whole;
  return holds(build, build.plan->entry(at).when);
}

Effective effective(const Build& build, std::string_view id) {
  Effective found;
  found.limit = build.limit(id);
  if (!found.limit) return found;
  for (const auto& one : found.limit->cases) {
    const Holds it = holds(build, one.when);
    if (it == Holds::unset) {
      found.unset = true;
      return found;
    }
    if (it == Holds::yes) {
      if (!one.values.empty()) found.values = &one.values;
      return found;
    }
  }
  if (!found.limit->values.empty()) found.values = &found.limit->values;
  return found;
}

std::string_view doubt_of(const Build& build, std::string_view limit) {
  const Effective now = effective(build, limit);
  return now.values ? procedure::doubt_of(*now.limit, *now.values) : "";
}

namespace {

bool all_reused(const Build& build, EntryAt at, std::size_t position) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  if (entry.parts.empty()) return false;
  return std::all_of(entry.parts.begin(), entry.parts.end(), [&](const std::string& id) {
    const auto* part = build.plan->procedure().part(id);
    const bool placed = part && !part->positions.empty() && position < step.positions.size();
    const auto it = build.parts.find({id, placed ? step.positions[position] : std::string()});
    return it != build.parts.end() && it->second.state == "reused";
  });
}

Bounds service_bounds(const procedure::LimitValues& values) {
  Bounds bounds = *values.service;
  if (values.standard) {
    if (!bounds.low) bounds.low = values.standard->low;
    if (!bounds.high) bounds.high = values.standard->high;
  }
  return bounds;
}

} // namespace

Applied applied(const Build& build, EntryAt at, std::string_view limit, std::size_t position) {
  Applied out;
  const Effective now = effective(build, limit);
  out.limit = now.limit;
  if (!now.values) {
    // Somebody looked it up, and the maker gives none; a bare "none" was never looked up.
    const bool answered = now.limit && now.limit->basis == procedure::Basis::none && now.limit->values.entered;
    if (now.unset)
      out.lacking = Standing::option_unset;
    else if (!answered)
      out.lacking = Standing::limit_missing;
    return out;
  }
  if (now.limit->basis == procedure::Basis::none) return out;
  const auto& entry = build.plan->entry(at);
  const bool service = entry.column == procedure::Column::service ||
                       (entry.column == procedure::Column::by_parts && all_reused(build, at, position));
  if (now.values->service && (service || !now.values->standard)) {
    out.bounds = service_bounds(*now.values);
    out.standard = now.values->standard;
    out.column = "service";
  } else if (now.values->standard) {
    out.bounds = now.values->standard;
    out.column = "standard";
  }
  return out;
}

Standing judge(const Applied& applied, const Exact& value, const Exact& u) {
  if (!applied.bounds) return applied.lacking;
  switch (calc::judge(value, u, *applied.bounds, applied.limit->rule)) {
  case calc::Verdict::outside: return Standing::outside;
  case calc::Verdict::undecided: return Standing::undecided;
  case calc::Verdict::within: break;
  }
  const bool worn =
      applied.standard && calc::judge(value, u, *applied.standard, calc::Rule::simple) == calc::Verdict::outside;
  return worn ? Standing::worn : Standing::within;
}

std::string text(const Bounds& bounds, const Unit& unit) {
  if (bounds.low && bounds.high) {
    // The trade writes both ends to the same place: 0.020 to 0.062.
    const auto places = [](const std::string& number) {
      const auto dot = number.find('.');
      return dot == std::string::npos ? 0 : static_cast<int>(number.size() - dot - 1);
    };
    const int most = std::max(places(bounds.low->text()), places(bounds.high->text()));
    return fmt::format("{} to {} {}", bounds.low->fixed(most), bounds.high->fixed(most), unit.name);
  }
  if (bounds.high) return fmt::format("at most {} {}", bounds.high->text(), unit.name);
  if (bounds.low) return fmt::format("at least {} {}", bounds.low->text(), unit.name);
  return "no bound";
}

json::Value facts(const Applied& applied) {
  json::Value out = json::Value::object();
  if (!applied.limit) return out;
  out.set("limit", json::Value::text(applied.limit->id));
  out.set("basis", json::Value::text(std::string(procedure::name_of(applied.limit->basis))));
  if (!applied.limit->source.empty()) out.set("source", json::Value::text(applied.limit->source));
  if (!applied.bounds) return out;
  out.set("column", json::Value::text(applied.column));
  if (applied.bounds->low) out.set("low", json::Value::text(applied.bounds->low->text()));
  if (applied.bounds->high) out.set("high", json::Value::text(applied.bounds->high->text()));
  out.set("unit", json::Value::text(std::string(applied.limit->unit->name)));
  out.set("rule", json::Value::text(std::string(calc::name_of(applied.limit->rule))));
  return out;
}

} // namespace build

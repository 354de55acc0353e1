// The sheet to fill in by hand at the engine: every step and entry that the release left open, from the procedure.
#include "build/blockers.h"
#include "build/tightening.h"
#include "handover/content_parts.h"
#include "handover/values.h"
#include "handover/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace handover {

using build::EntryAt;
using procedure::EntryKind;

namespace {

std::string good_at(const Build& build, EntryAt at, const std::string& limit, std::size_t position) {
  const auto applied = build::applied(build, at, limit, position);
  if (!applied.bounds) return std::string(build::name_of(applied.lacking));
  const auto doubt = build::doubt_of(build, limit);
  return bounds_text(*applied.bounds, *applied.limit) + (doubt.empty() ? "" : fmt::format(" ({})", doubt));
}

// What is good at each position, said once when it is the same at all.
std::string good(const Build& build, EntryAt at, const std::string& limit, std::size_t positions) {
  if (limit.empty()) return "";
  std::vector<std::string> out;
  for (std::size_t p = 0; p < std::max<std::size_t>(positions, 1); ++p) out.push_back(good_at(build, at, limit, p));
  if (std::all_of(out.begin(), out.end(), [&](const auto& text) { return text == out.front(); })) return out.front();
  return fmt::format("{}", fmt::join(out, "; "));
}

std::string duration(const quantity::Exact& seconds) {
  const auto [size, unit] = seconds < quantity::Exact(3600) ? std::pair{60, "min"} : std::pair{3600, "h"};
  return fmt::format("{} {}", (seconds / quantity::Exact(size)).text(), unit);
}

std::vector<Blanks> stages_to_do(const Build& build, const procedure::Entry& entry) {
  std::vector<std::string> fasteners;
  for (const auto& fastener : entry.fasteners) fasteners.push_back(fastener.id);
  std::vector<Blanks> out;
  for (std::size_t s = 0; s < entry.stages.size(); ++s) {
    const auto& stage = entry.stages[s];
    const std::string aim = aim_text(build, entry, stage);
    out.push_back({fmt::format("{}{}{}{}", entry.stages.size() > 1 ? fmt::format("Stage {}: ", s + 1) : "",
                               procedure::name_of(stage.kind), aim.empty() ? "" : ", ", aim),
                   fasteners, "", true});
  }
  return out;
}

Blanks cells_to_fill(const procedure::Step& step, const procedure::Entry& entry) {
  Blanks out;
  for (std::size_t c = 0; c < procedure::cells_of(step, entry).count(); ++c)
    out.names.push_back(procedure::name_of_cell(step, entry, c));
  out.unit = unit_name(*entry.unit);
  return out;
}

ToDo to_do(const Build& build, EntryAt at) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  ToDo out{entry.title, "", {}};
  switch (entry.kind) {
  case EntryKind::reading:
  case EntryKind::readings:
    out.limits = good(build, at, entry.limit, step.positions.size());
    out.blanks.push_back(cells_to_fill(step, entry));
    break;
  case EntryKind::confirm:
  case EntryKind::photograph: out.blanks.push_back({"", {""}, "", true}); break;
  case EntryKind::choice: out.blanks.push_back({"", entry.choices, "", true}); break;
  case EntryKind::identity: out.blanks.push_back({"", {""}, "", false}); break;
  case EntryKind::wait:
    if (entry.least) out.limits = "at least " + duration(*entry.least);
    if (entry.most) out.limits += (out.limits.empty() ? "at most " : ", at most ") + duration(*entry.most);
    out.blanks.push_back({"", {"from", "to"}, "", false});
    break;
  case EntryKind::tightening:
    if (!entry.retorque) out.blanks = stages_to_do(build, entry);
    break;
  case EntryKind::calculated:
    for (const auto& [result, limit] : entry.judge)
      out.blanks.push_back({fmt::format("{}: {}", readable(result), good(build, at, limit, step.positions.size())),
                            entry.over_all || step.positions.empty() ? std::vector<std::string>{""} : step.positions,
                            "", false});
    break;
  }
  if (build::has_anything(build.entry(at))) out.limits += out.limits.empty() ? "begun already" : ", begun already";
  if (entry.optional) out.limits += out.limits.empty() ? "may be left out" : ", may be left out";
  return out;
}

// "Tighten the head, signed 2026-04-24 08:52: torque, 25 N.m; torque, 50 N.m; angle, 88 to 94 deg"
std::string first_time(const Build& build, const procedure::Entry& again) {
  const auto slash = again.fasteners_of.find('/');
  const auto step = build.plan->find_step(again.fasteners_of.substr(0, slash));
  if (!step || slash == std::string::npos) return "";
  const auto at = build.plan->find_entry(*step, again.fasteners_of.substr(slash + 1));
  if (!at) return "";
  const auto& entry = build.plan->entry({*step, *at});
  std::vector<std::string> stages;
  for (const auto& stage : entry.stages) {
    const std::string aim = aim_text(build, entry, stage);
    stages.push_back(fmt::format("{}{}{}", procedure::name_of(stage.kind), aim.empty() ? "" : ", ", aim));
  }
  const auto& signatures = build.step(*step).signatures;
  const std::string when = signatures.empty() ? "" : ", signed " + calc::local_text(signatures.back().time);
  return fmt::format("{}{}: {}", build.plan->step(*step).title, when, fmt::join(stages, "; "));
}

Retorque retorque_of(const Build& build, EntryAt at) {
  const auto& entry = build.plan->entry(at);
  Retorque out{fmt::format("{}: {}", build.plan->step(at.step).title, entry.title), first_time(build, entry),
               stages_to_do(build, entry), at, false};
  const auto placed = [](const auto& one) { return one.at.has_value(); };
  out.figure = entry.fasteners.size() > 3 && std::all_of(entry.fasteners.begin(), entry.fasteners.end(), placed);
  return out;
}

void tell_step(const Build& build, std::size_t s, Sheet& out) {
  const auto& step = build.plan->step(s);
  StepToDo todo{step.title, step.hold, {}};
  for (std::size_t e = 0; e < step.entries.size(); ++e) {
    const EntryAt at{s, e};
    if (build::entry_on(build, at) == build::Holds::no) continue;
    todo.entries.push_back(to_do(build, at));
    if (step.entries[e].retorque) out.retorques.push_back(retorque_of(build, at));
  }
  for (const auto& caution : step.cautions)
    out.notices.push_back({std::string(procedure::name_of(caution.word)), caution.hazard + " " + caution.avoid});
  out.steps.push_back(std::move(todo));
}

} // namespace

Sheet sheet_of(const Build& build) {
  Sheet out;
  std::size_t s = 0;
  for (const auto& section : build.plan->procedure().sections)
    for (std::size_t i = 0; i < section.steps.size(); ++i, ++s) {
      const bool open = std::find(build.deferred.begin(), build.deferred.end(), section.id) != build.deferred.end();
      if (!open || build.step(s).signed_off || build::step_on(build, s) == build::Holds::no) continue;
      tell_step(build, s, out);
    }
  std::set<std::string> seen;
  std::erase_if(out.notices, [&](const Notice& it) { return !seen.insert(it.word + it.text).second; });
  worst_first(out.notices);
  return out;
}

} // namespace handover

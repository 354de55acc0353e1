// What a tightening entry refers to: positions, limits of its stages and bolts, another entry's fasteners.
#include "procedure/check.h"

#include "json/utf8.h"

#include <fmt/format.h>

#include <set>

namespace procedure {

using json::shown;

namespace {

// What the limit of a stage measures.
quantity::Dimension measured(StageKind kind) {
  using enum quantity::Dimension;
  return kind == StageKind::angle ? angle : kind == StageKind::stretch ? length : torque;
}

void check_stage(const Index& index, Notes& notes, const EntryView& at, std::size_t number) {
  const Stage& stage = at.entry.stages[number];
  const std::string pointer = fmt::format("{}/stages/{}/{}", at.pointer, number, name_of(stage.kind));
  if (stage.limit.empty()) return;
  const Limit* limit = index.procedure().limit(stage.limit);
  if (!limit) {
    notes.error(pointer, fmt::format("{}: there is no limit {}", at.what(), shown(stage.limit)));
    return;
  }
  const auto wanted = measured(stage.kind);
  if (limit->unit && limit->unit->dimension != wanted)
    notes.error(pointer, fmt::format("{}: stage {} needs {}, but limit {} is in {}", at.what(), shown(stage.id),
                                     name_of(wanted), shown(limit->id), limit->unit->name));
  bool aims = true;
  bool both = true;
  each_values(*limit, [&](const LimitValues& values, const std::string&) {
    if (values.empty()) return;
    const auto high = values.standard ? values.standard->high : std::nullopt;
    const auto aim = values.target ? values.target : high;
    aims = aims && aim && aim->sign() > 0;
    both = both && values.standard && values.standard->low && high;
  });
  const bool read = stage.kind == StageKind::check; // nothing is aimed at: it is read as it stands
  if (!aims && !read)
    notes.error(pointer, fmt::format("{}: stage {} needs a \"target\" above 0, or a standard high, in every set of "
                                     "numbers of limit {}",
                                     at.what(), shown(stage.id), shown(limit->id)));
  if (!both && stage.slot)
    notes.error(pointer, fmt::format("{}: stage {} goes on to the next slot, so limit {} needs a standard low and high",
                                     at.what(), shown(stage.id), shown(limit->id)));
}

void check_bolt(const Index& index, Notes& notes, const EntryView& at) {
  if (!at.entry.bolt) return;
  const Entry* from = taken_over_from(index, at.entry);
  if (from && from->bolt && from->bolt->length == at.entry.bolt->length) return; // told there
  check_judging_limit(index, notes, at, at.pointer + "/bolt/length", at.entry.bolt->length,
                      quantity::Dimension::length);
}

void check_fasteners_of(const Index& index, Notes& notes, const EntryView& at) {
  if (at.entry.fasteners_of.empty()) return;
  const std::string pointer = at.pointer + "/fasteners-of";
  const Entry* from = taken_over_from(index, at.entry);
  if (!from)
    notes.error(pointer, fmt::format("{}: there is no tightening {}; write \"STEP/ENTRY\"", at.what(),
                                     shown(at.entry.fasteners_of)));
  else if (from == &at.entry)
    notes.error(pointer, fmt::format("{}: takes its own fasteners over; name another entry", at.what()));
  else if (!from->fasteners_of.empty())
    notes.error(pointer, fmt::format("{}: {} takes its fasteners over too; name {}", at.what(),
                                     shown(at.entry.fasteners_of), shown(from->fasteners_of)));
}

} // namespace

const Entry* taken_over_from(const Index& index, const Entry& entry) {
  const std::string_view path = entry.fasteners_of;
  const std::size_t slash = path.find('/');
  if (slash == std::string_view::npos) return nullptr;
  const Entry* from = index.entry(path.substr(0, slash), path.substr(slash + 1));
  return from && from->kind == EntryKind::tightening ? from : nullptr;
}

void check_tightening(const Index& index, Notes& notes, const EntryView& at) {
  check_fasteners_of(index, notes, at);
  const std::set<std::string_view> positions(at.step.positions.begin(), at.step.positions.end());
  for (std::size_t i = 0; i < at.entry.fasteners.size(); ++i) {
    const Fastener& fastener = at.entry.fasteners[i];
    if (!fastener.position.empty() && !positions.contains(fastener.position))
      notes.error(at.entry.fasteners_of.empty() ? fmt::format("{}/fasteners/{}/position", at.pointer, i)
                                                : at.pointer + "/fasteners-of",
                  fmt::format("{}: the step has no position {}", at.what(), shown(fastener.position)));
  }
  for (std::size_t i = 0; i < at.entry.stages.size(); ++i) check_stage(index, notes, at, i);
  check_bolt(index, notes, at);
}

} // namespace procedure

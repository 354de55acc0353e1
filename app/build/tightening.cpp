#include "build/tightening.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

bool is_done(const std::vector<Tightened>& done, std::size_t stage) {
  return done.size() > stage && !done[stage].below;
}

} // namespace

std::optional<NextFastener> next_fastener(const Build& build, EntryAt at) {
  const auto& state = build.entry(at);
  for (std::size_t stage = 0; stage < build.plan->entry(at).stages.size(); ++stage)
    for (std::size_t f = 0; f < state.fasteners.size(); ++f)
      if (!is_done(state.fasteners[f], stage)) return NextFastener{f, stage};
  return std::nullopt;
}

bool half_done(const Build& build, EntryAt at, std::size_t stage) {
  const auto& fasteners = build.entry(at).fasteners;
  const auto done = [&](const auto& one) { return is_done(one, stage); };
  return std::any_of(fasteners.begin(), fasteners.end(), done) &&
         !std::all_of(fasteners.begin(), fasteners.end(), done);
}

bool only_torque_from(const procedure::Entry& entry, std::size_t stage) {
  return std::all_of(entry.stages.begin() + static_cast<std::ptrdiff_t>(stage), entry.stages.end(),
                     [](const auto& one) {
                       return one.kind != procedure::StageKind::angle && one.kind != procedure::StageKind::stretch;
                     });
}

bool interrupted(const Build& build, EntryAt at, const Moment& now, std::string_view person) {
  const auto next = next_fastener(build, at);
  if (!next || !half_done(build, at, next->stage)) return false;
  const auto& state = build.entry(at);
  if (state.sure_by.empty()) return false; // recorded before this was asked
  return state.sure_by != person || now.utc_ms - state.sure_at.utc_ms > std::int64_t{sure_for_minutes} * 60'000;
}

const procedure::Fastener* last_sure(const Build& build, EntryAt at) {
  const auto next = next_fastener(build, at);
  if (!next) return nullptr;
  const auto& state = build.entry(at);
  const procedure::Fastener* last = nullptr;
  for (std::size_t f = 0; f < state.fasteners.size(); ++f)
    if (is_done(state.fasteners[f], next->stage)) last = &build.plan->entry(at).fasteners[f];
  return last;
}

std::string joint_of(const Build& build, EntryAt at) {
  const auto& entry = build.plan->entry(at);
  return entry.fasteners_of.empty() ? build.plan->step(at.step).id + "/" + entry.id : entry.fasteners_of;
}

const BoltState& bolt_at(const Build& build, EntryAt at, std::size_t fastener) {
  static const BoltState nothing;
  const auto it = build.bolts.find({joint_of(build, at), build.plan->entry(at).fasteners[fastener].id});
  return it == build.bolts.end() ? nothing : it->second;
}

Exact Aim::nominal() const {
  if (target) return *target;
  if (bounds && bounds->low && bounds->high) return (*bounds->low + *bounds->high) / 2;
  if (bounds) return bounds->low ? *bounds->low : *bounds->high;
  return {};
}

Result<Aim> aim_of(const Build& build, const procedure::Entry& entry, const procedure::Stage& stage) {
  const Effective now = effective(build, stage.limit);
  if (!now.values)
    return Error{now.unset ? "option-unset" : "limit-missing",
                 fmt::format("{}, stage {}: {}.", entry.title, stage.id,
                             now.unset ? "its option is not picked yet" : "the value is not filled in yet")};
  Aim aim{now.limit, now.values->target, now.values->standard, {}};
  if (aim.bounds && aim.bounds->high) aim.largest = *aim.bounds->high;
  if (aim.target) aim.largest = quantity::max(aim.largest, *aim.target);
  return aim;
}

std::string text(const Aim& aim) {
  if (aim.bounds) return text(*aim.bounds, *aim.limit->unit);
  return aim.target ? fmt::format("{} {}", aim.target->text(), aim.limit->unit->name) : std::string();
}

std::optional<Jump> jump_in(const std::vector<const Cell*>& in_order) {
  Exact largest;
  for (std::size_t i = 1; i < in_order.size(); ++i) {
    const Cell& before = *in_order[i - 1];
    const Cell& now = *in_order[i];
    if (before.tries.empty() || now.tries.empty()) return std::nullopt;
    const Exact rise = now.value - before.value;
    if (i > 1 && rise > largest * 2 && rise > before.u + now.u) return Jump{i, before.value, now.value};
    largest = quantity::max(largest, rise);
  }
  return std::nullopt;
}

} // namespace build

#include "build/reopening.h"

#include "build/consumables.h"
#include "build/decision.h"

#include <algorithm>

namespace build {

using json::Value;
using procedure::EntryKind;
using procedure::TakenApart;

void Reopening::take(std::size_t step, const std::set<std::size_t>& positions) {
  const auto it = taken_.find(step);
  if (it != taken_.end()) {
    if (it->second.empty() || std::includes(it->second.begin(), it->second.end(), positions.begin(), positions.end()))
      return;
    if (positions.empty())
      it->second.clear();
    else
      it->second.insert(positions.begin(), positions.end());
  } else {
    taken_.emplace(step, positions);
  }
  const std::set<std::size_t> now = taken_.at(step);
  for (const std::size_t next : build_.plan->resting_on(step)) {
    const bool same = build_.plan->step(next).positions == build_.plan->step(step).positions;
    take(next, same ? now : std::set<std::size_t>());
  }
}

void Reopening::lose(EntryAt at, const std::set<std::size_t>& positions) {
  lost_[at].insert(positions.begin(), positions.end());
}

Value Reopening::list(std::vector<Changed>& lost) const {
  Value out = Value::array();
  for (const auto& [step, positions] : taken_) {
    const auto& state = build_.step(step);
    if (!has_anything(state)) continue;
    Value item = Value::object({{"step", Value::text(build_.plan->step(step).id)}});
    if (!positions.empty()) {
      Value names = Value::array();
      for (const auto p : positions) names.push(Value::text(build_.plan->step(step).positions[p]));
      item.set("positions", std::move(names));
    }
    Value entries = Value::array();
    for (std::size_t e = 0; e < state.entries.size(); ++e) add_entry({step, e}, positions, entries, lost);
    item.set("entries", std::move(entries));
    if (Value out_of_it = taken_out_of(build_, step, positions); !out_of_it.is(json::Kind::null))
      item.set("taken_out", std::move(out_of_it));
    out.push(std::move(item));
  }
  return out;
}

void Reopening::add_entry(EntryAt at, const std::set<std::size_t>& positions, Value& entries,
                          std::vector<Changed>& lost) const {
  const auto& entry = build_.plan->entry(at);
  const auto add = [&](bool gone, const std::vector<std::size_t>& places) {
    if (places.empty()) return;
    entries.push(Value::object({{"entry", Value::text(entry.id)},
                                {"does", Value::text(gone ? "lost" : "asks")},
                                {"places", place_list(places)}}));
  };
  auto places = filled_places(build_, at, positions);
  if (const auto named = lost_.find(at); named != lost_.end()) {
    const auto gone = filled_places(build_, at, named->second);
    add(true, gone);
    if (!gone.empty()) lost.push_back({at, named->second});
    std::erase_if(places, [&](std::size_t p) { return std::find(gone.begin(), gone.end(), p) != gone.end(); });
  }
  if (places.empty() || entry.taken_apart == TakenApart::keeps) return;
  // A calculated value goes with its readings; by itself it only asks whether it is still true.
  const bool gone = entry.taken_apart == TakenApart::lost && entry.kind != EntryKind::calculated;
  add(gone, places);
  if (gone) lost.push_back({at, positions});
}

std::vector<std::size_t> filled_places(const Build& build, EntryAt at, const std::set<std::size_t>& positions) {
  const auto& state = build.entry(at);
  const auto& entry = build.plan->entry(at);
  const auto& step = build.plan->step(at.step);
  const auto meant = [&](std::size_t position) { return positions.empty() || positions.count(position) > 0; };
  std::vector<std::size_t> out;
  const std::size_t per = procedure::cells_of(step, entry).per_position();
  for (std::size_t c = 0; c < state.cells.size(); ++c)
    if (state.cells[c].filled() && meant(c / per)) out.push_back(c);
  for (std::size_t p = 0; p < state.calculated.size(); ++p)
    if (state.calculated[p].filled() && (entry.over_all || meant(p))) out.push_back(p);
  for (std::size_t f = 0; f < state.fasteners.size(); ++f) {
    const auto& own = entry.fasteners[f].position;
    const auto place = std::find(step.positions.begin(), step.positions.end(), own);
    const bool here = own.empty() || meant(static_cast<std::size_t>(place - step.positions.begin()));
    if (!state.fasteners[f].empty() && here) out.push_back(f);
  }
  if (state.done) out.push_back(0);
  return out;
}

} // namespace build

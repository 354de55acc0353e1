// Copying what events say of readings.
#include "build/copying.h"

#include "build/event.h"

#include <stdexcept>

namespace build {

using json::Value;

namespace {

// Try or Cell: u, and the two parts of it when something is shared.
template <typename It>
void take_u(It& it, const Value& item) {
  it.u = exact(item.at("u"));
  const auto* shared = item.find("shared");
  it.own = shared ? exact(item.at("own")) : it.u;
  if (shared) it.shared = exact(*shared);
}

Warmth warmth_from(const Value& item) {
  Warmth out;
  out.read = exact(item.at("read"));
  out.part_at = exact(item.at("part_at"));
  out.gauge_at = exact(item.at("gauge_at"));
  out.gauge_assumed = item.find("gauge_assumed") != nullptr;
  out.alpha = exact(item.at("alpha"));
  out.correction = exact(item.at("correction"));
  return out;
}

Try try_from(const Value& item) {
  Try out;
  out.value = exact(item.at("value"));
  take_u(out, item);
  out.gauge = optional_text(item, "gauge");
  out.set_aside = item.find("set_aside") != nullptr;
  if (const auto* repeat = item.find("repeat")) out.repeat = exact(*repeat);
  if (const auto* set = item.find("set")) out.set = static_cast<int>(set->as_integer().value());
  out.set_with = optional_text(item, "set_with");
  if (const auto* warmth = item.find("warmth")) out.warmth = warmth_from(*warmth);
  return out;
}

Cell cell_from(const Value& item) {
  Cell cell;
  if (item.find("skipped")) {
    cell.skipped = true;
    cell.judged.standing = Standing::recorded;
    return cell;
  }
  for (const auto& one : item.at("tries").items()) cell.tries.push_back(try_from(one));
  if (cell.tries.empty()) return cell;
  cell.value = exact(item.at("value"));
  take_u(cell, item);
  cell.judged.standing = standing(item.at("verdict"));
  return cell;
}

// A try stays the one it was, at its time, unless it was typed just now or with another gauge.
void date_tries(Cell& now, const Cell& was, const Event& event) {
  for (std::size_t t = 0; t < now.tries.size(); ++t) {
    const bool same = event.kind != "record" && t < was.tries.size() && was.tries[t].gauge == now.tries[t].gauge;
    now.tries[t].at = same ? was.tries[t].at : event.time;
  }
}

// A set that is begun; one that goes on is there already.
void take_set(EntryState& entry, const Value& item) {
  const auto number = static_cast<std::size_t>(item.at("number").as_integer().value());
  if (number != entry.sets.size() + 1) {
    if (number < 1 || number > entry.sets.size()) throw std::logic_error("no such set");
    return;
  }
  ComparatorSet set;
  set.at = exact(item.at("at"));
  set.gauge = item.at("gauge").as_text();
  set.with = optional_text(item, "with");
  set.division = exact(item.at("division"));
  entry.sets.push_back(std::move(set));
}

} // namespace

// record, again, correct, take-back: the cells as they are from now on.
void take_cells(Build& build, const Event& event) {
  const EntryAt at = entry_of(build, event.body);
  EntryState& entry = build.change(at);
  const bool as_found = event.body.find("as_found") != nullptr;
  const bool second_look = event.body.find("second_look") != nullptr;
  const bool aside = as_found || second_look;
  auto& cells = as_found ? entry.as_found : second_look ? entry.second_look : entry.cells;
  if (aside && cells.empty()) cells.resize(entry.cells.size());
  if (const auto* set = event.body.find("setting")) take_set(entry, *set);
  std::vector<std::size_t> touched;
  for (const auto& item : event.body.at("cells").items()) {
    const std::size_t c = index(item.at("cell"), cells.size());
    Cell now = cell_from(item);
    for (const auto& one : now.tries)
      if (one.set < 0 || static_cast<std::size_t>(one.set) > entry.sets.size()) throw std::logic_error("no such set");
    date_tries(now, cells[c], event);
    cells[c] = std::move(now);
    touched.push_back(c);
  }
  if (aside) return;
  entry.last_cells = std::move(touched);
  if (event.kind != "take-back") entry.recorded_by = event.person;
  entry.last_seq = event.seq;
  const bool newest = event.kind == "record" || event.kind == "again";
  build.last_recorded = at;
  build.last_recorded_seq = newest ? event.seq : 0;
}

// A comparator put back on its setting.
void zero(Build& build, const Event& event) {
  const EntryAt at = entry_of(build, event.body);
  EntryState& entry = build.change(at);
  const std::size_t number = index(event.body.at("set"), entry.sets.size() + 1);
  if (number == 0) throw std::logic_error("no such set");
  ComparatorSet& set = entry.sets[number - 1];
  set.drift = exact(event.body.at("drift"));
  set.kept = event.body.at("kept").as_boolean();
  for (auto [name, cells] : {std::pair{"as_found", &entry.as_found}, std::pair{"second_look", &entry.second_look}})
    if (const auto* places = event.body.find(name))
      for (const auto& place : places->items()) (*cells)[index(place, cells->size())] = Cell{};
  const auto* opened = event.body.find("opened");
  if (!opened) return;
  for (const auto& item : opened->items()) {
    // All of it is in this entry.
    for (const auto& place : item.at("places").items()) set.lost.push_back(index(place, entry.cells.size()));
    forget(build, entry_of(build, item), item.at("places"));
  }
}

} // namespace build

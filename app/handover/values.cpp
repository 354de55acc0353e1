#include "handover/values.h"

#include "build/comparator.h"
#include "handover/words.h"

#include <fmt/format.h>

#include <algorithm>

namespace handover {

using build::Build;
using build::EntryAt;
using build::Exact;
using build::Standing;
using procedure::EntryKind;

namespace {

std::vector<OneValue> read_there(const Build& build, EntryAt at) {
  const auto& entry = build.plan->entry(at);
  const auto& cells = build.entry(at).cells;
  const auto shape = procedure::cells_of(build.plan->step(at.step), entry);
  std::vector<OneValue> out;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const auto& cell = cells[c];
    if (!cell.filled()) continue;
    OneValue it;
    it.place = c;
    it.where = place_name(build, at, c);
    it.left_out = cell.skipped;
    it.value = cell.value;
    it.u = cell.u;
    it.unit = entry.unit;
    it.judged = cell.judged;
    it.asked = cell.asked;
    if (const auto& before = build.entry(at).as_found; c < before.size() && before[c].filled() && !before[c].skipped)
      it.as_found = shown(before[c].value, before[c].u, std::nullopt);
    it.judged_at_all = !entry.limit.empty();
    if (it.judged_at_all) {
      it.by = build::applied(build, at, entry.limit, c / shape.per_position());
      it.doubt = build::doubt_of(build, entry.limit);
    }
    const auto counted = cell.counted();
    it.tries = counted.size();
    for (const auto* one : counted) {
      if (!one->gauge.empty()) add_once(it.gauges, one->gauge);
      for (const auto& how : build::how_read(build.entry(at), *one)) add_once(it.how, how);
    }
    out.push_back(std::move(it));
  }
  return out;
}

std::optional<OneValue> result_of(const Build& build, EntryAt at, std::size_t place, const json::Member& member) {
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at).calculated[place];
  if (!member.value.is(json::Kind::object) || !member.value.find("value") || !member.value.find("unit"))
    return std::nullopt;
  OneValue it;
  it.result = member.key;
  it.place = place;
  it.where = place_name(build, at, place);
  const auto value = Exact::written(member.value.text_or_empty("value"));
  it.unit = quantity::find_unit(member.value.text_or_empty("unit"));
  if (!value || !it.unit) return std::nullopt;
  it.value = *value;
  if (const auto* u = member.value.find("u"); u && u->is(json::Kind::text))
    if (const auto read = Exact::written(u->as_text())) it.u = *read;
  it.asked = state.asked;
  it.judged.standing = Standing::recorded;
  for (const auto& [result, limit] : entry.judge) {
    if (result != member.key) continue;
    it.judged_at_all = true;
    it.by = build::applied(build, at, limit, place);
    it.doubt = build::doubt_of(build, limit);
    it.judged.standing = build::standing_named(member.value.text_or_empty("verdict")).value_or(Standing::recorded);
    // A concession or acceptance is of the whole entry there; it speaks of those results that needed it.
    it.judged.conceded = state.judged.conceded;
    it.judged.accepted = state.judged.accepted;
    it.judged.used_again = state.judged.used_again;
  }
  return it;
}

} // namespace

Exact OneValue::in_limit_unit() const {
  return by.limit ? quantity::convert(value, *unit, *by.limit->unit) : value;
}

Exact OneValue::u_in_limit_unit() const {
  return by.limit ? quantity::convert_difference(u, *unit, *by.limit->unit) : u;
}

std::string OneValue::number() const {
  const bool same = by.limit && by.limit->unit == unit;
  return left_out ? "left out" : shown(value, u, same ? by.bounds : std::nullopt);
}

void add_once(std::vector<std::string>& list, const std::string& text) {
  if (std::find(list.begin(), list.end(), text) == list.end()) list.push_back(text);
}

std::vector<OneValue> values_of(const Build& build, EntryAt at) {
  if (build.plan->entry(at).kind != EntryKind::calculated) return read_there(build, at);
  std::vector<OneValue> out;
  const auto& calculated = build.entry(at).calculated;
  for (std::size_t p = 0; p < calculated.size(); ++p) {
    if (!calculated[p].filled()) continue;
    for (const auto& member : calculated[p].results.members())
      if (auto one = result_of(build, at, p, member)) out.push_back(std::move(*one));
  }
  return out;
}

std::string limits_text(const OneValue& value) {
  if (!value.judged_at_all) return "recorded, not judged";
  if (!value.by.bounds) return std::string(build::name_of(value.by.lacking));
  const auto& limit = *value.by.limit;
  return fmt::format("{} ({}{}{}{}{})", bounds_text(value), procedure::name_of(limit.basis),
                     limit.source.empty() ? "" : ": ", limit.source, value.doubt.empty() ? "" : "; ", value.doubt);
}

std::string bounds_text(const OneValue& value) {
  const std::string out = bounds_text(*value.by.bounds, *value.by.limit);
  return value.by.column == "service" ? out + ", service limit" : out;
}

double room_of(const OneValue& value) {
  const Exact at = value.in_limit_unit();
  const auto& [low, high] = *value.by.bounds;
  const double whole = low && high ? (*high - *low).to_double() : (high ? *high : *low).abs().to_double();
  double room = 1e9;
  if (low) room = std::min(room, (at - *low).to_double());
  if (high) room = std::min(room, (*high - at).to_double());
  return whole > 0 ? room / whole : room;
}

bool close_to_limit(const OneValue& value) {
  if (value.left_out || !value.by.bounds || value.u.sign() == 0) return false;
  if (value.judged.standing != Standing::within && value.judged.standing != Standing::worn) return false;
  const Exact at = value.in_limit_unit();
  const Exact u = value.u_in_limit_unit();
  const auto& bounds = *value.by.bounds;
  return (bounds.low && at - *bounds.low < u) || (bounds.high && *bounds.high - at < u);
}

} // namespace handover

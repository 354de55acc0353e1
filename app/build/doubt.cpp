#include "build/doubt.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

using json::Value;

namespace {

bool concerns(const Doubt& doubt, std::string_view gauge, const Moment& taken) {
  return doubt.gauge == gauge && taken.utc_ms < doubt.found.utc_ms &&
         (!doubt.since || !(calc::local_date(taken) < *doubt.since));
}

bool concerns(const Doubt& doubt, const Try& one) {
  return concerns(doubt, one.gauge, one.at) || concerns(doubt, one.set_with, one.at);
}

bool rests_on(const Doubt& doubt, const Cell& cell) {
  if (cell.tries.empty()) return false;
  const auto counted = cell.counted();
  return std::any_of(counted.begin(), counted.end(), [&](const Try* one) { return concerns(doubt, *one); });
}

bool rests_on(const Doubt& doubt, const std::vector<Tightened>& done) {
  return std::any_of(done.begin(), done.end(),
                     [&](const Tightened& one) { return concerns(doubt, one.gauge, one.at); });
}

} // namespace

InDoubt in_doubt(const Shop& shop, const Build& build, EntryAt at) {
  const EntryState& state = build.entry(at);
  InDoubt out;
  for (auto doubt = shop.doubts.rbegin(); doubt != shop.doubts.rend() && doubt->seq > state.sound_seq; ++doubt) {
    for (std::size_t c = 0; c < state.cells.size(); ++c)
      if (rests_on(*doubt, state.cells[c])) out.places.push_back(c);
    for (std::size_t f = 0; f < state.fasteners.size(); ++f)
      if (rests_on(*doubt, state.fasteners[f])) out.places.push_back(f);
    if (out.places.empty()) continue;
    out.doubt = &*doubt;
    return out;
  }
  return out;
}

bool doubted(const Shop& shop, const Try& one) {
  return std::any_of(shop.doubts.begin(), shop.doubts.end(), [&](const Doubt& doubt) { return concerns(doubt, one); });
}

std::string what_is_doubted(const Build& build, EntryAt at, const Doubt& doubt) {
  const auto& entry = build.plan->entry(at);
  const auto& sets = build.entry(at).sets;
  const bool set_on = std::any_of(sets.begin(), sets.end(), [&](const auto& set) { return set.with == doubt.gauge; });
  return fmt::format("{}: {} {}, found out on {}", entry.title,
                     entry.kind == procedure::EntryKind::tightening ? "tightened with"
                     : set_on                                       ? "its gauge was set on"
                                                                    : "measured with",
                     doubt.gauge, calc::text(calc::local_date(doubt.found)));
}

Value to_json(const Doubt& doubt) {
  return Value::object({{"gauge", Value::text(doubt.gauge)},
                        {"found", Value::text(calc::text(calc::local_date(doubt.found)))},
                        {"seq", Value::integer(doubt.seq)}});
}

} // namespace build

#include "build/second_look.h"

#include "build/follow.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

bool another_signed_since(const Build& build, std::size_t step) {
  const std::int64_t first = build.step(step).signatures.front().seq;
  for (std::size_t s = 0; s < build.plan->size(); ++s) {
    if (s == step) continue;
    const auto& signatures = build.step(s).signatures;
    if (std::any_of(signatures.begin(), signatures.end(), [&](const Signature& it) { return it.seq > first; }))
      return true;
  }
  return false;
}

// |first - second| over the root sum of squares of both U, compared without a root. By eye nothing is known of either.
bool apart(const Cell& first, const Cell& second) {
  const Exact difference = first.value - second.value;
  const Exact allowed = first.u * first.u + second.u * second.u;
  return allowed.sign() > 0 && difference * difference > allowed;
}

// What is missing, outside or apart at the points of one reading.
void look_at(const Build& build, EntryAt at, std::vector<Blocker>& out) {
  const auto& step = build.plan->step(at.step);
  const auto& entry = build.plan->entry(at);
  const auto& state = build.entry(at);
  const auto add = [&](const char* code, std::string message) {
    out.push_back({code, std::move(message), entry.id, step.id});
  };
  const auto text = [&](const Exact& value) { return quantity::text({value, entry.unit, std::nullopt}); };
  std::vector<std::string> missing;
  for (std::size_t c = 0; c < state.cells.size(); ++c) {
    const Cell& first = state.cells[c];
    if (first.skipped || !first.filled()) continue;
    const std::string name = procedure::name_of_cell(step, entry, c);
    const std::string place = state.cells.size() > 1 ? fmt::format("{} ({})", entry.title, name) : entry.title;
    if (state.second_look.empty() || !state.second_look[c].filled()) {
      missing.push_back(name);
      continue;
    }
    const Cell& second = state.second_look[c];
    if (second.judged.standing == Standing::outside && !first.judged.conceded)
      add("reading-outside",
          fmt::format("{} is outside at the second look: measure it again, or reopen the step.", place));
    else if (apart(first, second))
      add("second-look-differs",
          fmt::format("{}: {} the first time and {} the second, further apart than the gauges allow; measure it again, "
                      "or reopen the step.",
                      place, text(first.value), text(second.value)));
  }
  if (missing.empty()) return;
  const bool several = state.cells.size() > 1;
  add("entry-missing",
      several ? fmt::format("{}: measure once more for the second look, next at {}{}.", entry.title, missing.front(),
                            missing.size() > 1 ? fmt::format(" and then {} more", missing.size() - 1) : "")
              : fmt::format("{}: measure once more for the second look.", entry.title));
}

} // namespace

bool may_look_again(const Shop& shop, const Build& build, std::size_t step, std::string_view person) {
  const auto& state = build.step(step);
  return shop.one_person && !state.signed_off && state.signatures.size() == 1 &&
         state.signatures.front().person == person;
}

std::vector<Blocker> before_second_look(const Build& build, std::size_t step, const Moment& now) {
  const auto& its = build.plan->step(step);
  const Moment& first = build.step(step).signatures.front().time;
  Moment from = first;
  from.utc_ms += second_look_after_minutes * 60'000LL;
  std::vector<Blocker> out;
  if (now.utc_ms < from.utc_ms)
    out.push_back({"waiting", fmt::format("The second look may begin at {}.", calc::local_text(from)), "", its.id});
  if (!another_signed_since(build, step))
    out.push_back({"waiting", "Sign another step before you look at this one a second time.", "", its.id});
  return out;
}

std::vector<Blocker> second_look_blockers(const Build& build, std::size_t step, const Moment& now) {
  auto out = before_second_look(build, step, now);
  for (std::size_t e = 0; e < build.plan->step(step).entries.size(); ++e) {
    const EntryAt at{step, e};
    if (entry_on(build, at) != Holds::no) look_at(build, at, out);
  }
  return out;
}

} // namespace build

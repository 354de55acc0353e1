#include "build/fitting.h"

#include <algorithm>
#include <fmt/format.h>

namespace build {

namespace {

bool among(const std::vector<std::string>& list, std::string_view wanted) {
  return std::find(list.begin(), list.end(), wanted) != list.end();
}

// Every position of the step is one of the part's: each then stands for its own, and not for all of it.
bool position_by_position(const procedure::Step& step, const procedure::Part& part) {
  return !step.positions.empty() && std::all_of(step.positions.begin(), step.positions.end(),
                                                [&](const auto& it) { return among(part.positions, it); });
}

} // namespace

bool fits_there(const Build& build, std::size_t index, std::string_view id, std::string_view position) {
  const auto& step = build.plan->step(index);
  if (!among(step.fits, id)) return false;
  const auto* part = build.plan->procedure().part(id);
  if (position.empty() || !part || !position_by_position(step, *part)) return true;
  return among(step.positions, position);
}

std::set<std::size_t> tells_of(const Build& build, EntryAt at, std::string_view id, std::string_view position) {
  const auto& step = build.plan->step(at.step);
  if (!among(build.plan->entry(at).parts, id)) return {};
  std::set<std::size_t> out;
  const auto* part = build.plan->procedure().part(id);
  const bool each = part && position_by_position(step, *part);
  for (std::size_t p = 0; p < std::max<std::size_t>(1, step.positions.size()); ++p)
    if (!each || position.empty() || step.positions[p] == position) out.insert(p);
  return out;
}

std::string part_text(const Build& build, std::string_view id, std::string_view position) {
  const auto* part = build.plan->procedure().part(id);
  return fmt::format("{}{}{}", part ? part->title : std::string(id), position.empty() ? "" : " ", position);
}

} // namespace build

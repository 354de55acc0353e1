// Parts at the machine shop. While one is away its readings are not taken, and the steps that fit it or tell of it
// wait; when it comes back remade, all that was measured of it before is measured again.
#pragma once

#include "build/blockers.h"

namespace build {

const Order* find_order(const Build& build, std::string_view id);

struct Away {
  const Order* order = nullptr;
  const Sent* line = nullptr;
};

// What is away at this very place; null when nothing is.
std::optional<Away> away_at(const Build& build, std::string_view part, std::string_view position);
// The first that the step fits or tells of.
std::optional<Away> away_of(const Build& build, std::size_t step);
// The first of which the entry tells at one of these positions of its step.
std::optional<Away> away_of(const Build& build, EntryAt at, const std::set<std::size_t>& positions);

// "Cylinder 1 and 3 more are at Brook Lane Machining (m1)": the part meant, and how many went with it.
std::string away_text(const Build& build, const Away& away);

void add_away_blockers(const Build& build, std::size_t step, std::vector<Blocker>& out);
void add_away_blockers_of_release(const Build& build, std::vector<Blocker>& out);

} // namespace build

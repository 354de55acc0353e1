// Parts that are used up by fitting them (seal, gasket) and parts with a last day of use (sealant). The first signature
// of a step that fits one says that it is in; reopening the step there says that it came out. What came out does not go
// in again by oversight, and what is past its last day does not go in without a reason.
#pragma once

#include "build/blockers.h"

#include <set>

namespace build {

// For the body of a first signature, what goes in with the step and was not in yet: [{part, position, lot, expires}];
// null when nothing does.
json::Value fitted_with(const Build& build, std::size_t step);

// For the body of a reopening, what had gone in with the step and comes out at these of its positions (empty: all):
// [{part, position}]; null when nothing does.
json::Value taken_out_of(const Build& build, std::size_t step, const std::set<std::size_t>& positions);

// The day itself is still good. `expires` as in an event: "2026-08-31".
bool past_last_day(const std::string& expires, const Moment& now);

void add_consumable_blockers(const Build& build, std::size_t step, const Moment& now, std::vector<Blocker>& out);

} // namespace build

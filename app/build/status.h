// Where a build stands, as the answer to `status`.
#pragma once

#include "build/blockers.h"

namespace build {

json::Value to_json(const Blocker& blocker, bool with_step = false);
json::Value to_json(const std::vector<Blocker>& list, bool with_step = false);

// {steps: [{step, state, blockers}], options, released, outcome, addendum_due: [{step, entry, message}], now}
json::Value status(const Shop& shop, const Build& build, const Moment& now);

} // namespace build

// Folding a build: `apply` copies what an event says. Nothing is judged or computed here, so that a corrected formula
// cannot change an old record.
#pragma once

#include "build/state.h"

namespace build {

// The first event of a build's chain ("open-build") begins it. Code "bad-event".
Result<Build> begin(const Event& event, std::shared_ptr<const Plan> plan);

// Every later event. An event that does not fit the build is an error, code "bad-event", and the build is unchanged.
Result<void> apply(Build& build, const Event& event);

// What an event of a kind does to the build, from its body alone (person, time and place in the chain come from the
// event): for `decide`, which looks at the build as it would be. Throws std::logic_error on a body that does not fit.
void apply_body(Build& build, const Event& event);

} // namespace build

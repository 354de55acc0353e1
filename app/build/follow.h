// What follows from a change: calculated entries worked out again and values judged again, written into the event so
// that `apply` only copies.
#pragma once

#include "build/calculate.h"

#include <set>

namespace build {

struct Changed {
  EntryAt at;
  std::set<std::size_t> positions; // of the entry's step (0 when it has none); empty: all
};

enum class SignedSteps { refuse, sign_again };

// `next` is the build with the change itself already in it; what follows is added to it and to `body` as "calculated"
// and "rejudged". A signed step whose values would change refuses ("step-signed"); under `sign_again` it only refuses
// when a verdict would change, and is listed in "sign_again" otherwise.
Result<void> follow(Build& next, json::Value& body, const std::vector<Changed>& changed,
                    SignedSteps signed_steps = SignedSteps::refuse);

// The same after an option, a part or a limit has changed: every value of `entries` is judged or worked out again.
Result<void> follow_judging(Build& next, json::Value& body, const std::vector<EntryAt>& entries,
                            const std::vector<Changed>& changed = {});

// Copies one item of "calculated" or "rejudged" into the build.
void apply_calculated(Build& build, const json::Value& item);
void apply_rejudged(Build& build, const json::Value& item);

// Judges a cell by its limit: the verdict's part of the event.
Standing standing_of(const Build& build, EntryAt at, std::size_t cell, const Exact& value, const Exact& u,
                     json::Value& by);

} // namespace build

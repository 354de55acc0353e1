// A one-person shop: whoever did a step with a hold point closes it alone, after a second look. Half an hour and
// another signed step later they type each reading again, with the first hidden; the record says that nobody else
// looked.
#pragma once

#include "build/blockers.h"

namespace build {

constexpr int second_look_after_minutes = 30;

// The person has signed the step once, and the shop lets them look again instead of a second person.
bool may_look_again(const Shop& shop, const Build& build, std::size_t step, std::string_view person);

// What is missing before the second look may begin; nothing when it may.
std::vector<Blocker> before_second_look(const Build& build, std::size_t step, const Moment& now);

// What keeps the same person's second signature away: the above, readings not typed again, outside, or apart from the
// first by more than both uncertainties allow (E number over 1, ISO 13528).
std::vector<Blocker> second_look_blockers(const Build& build, std::size_t step, const Moment& now);

} // namespace build

// What keeps a step, or the whole engine, from being signed; and where a step stands.
#pragma once

#include "build/shop.h"
#include "build/tightening.h"

namespace build {

struct Blocker {
  std::string code;
  std::string message; // one sentence a person can act on
  std::string entry;   // id, or ""
  std::string step;    // id
};

// Of one step, worked out from scratch. `person`: who would sign ("" : anybody who has read the cautions will do).
std::vector<Blocker> blockers(const Shop& shop, const Build& build, std::size_t step, const Moment& now,
                              std::string_view person = "");

// Of a step that is open: nobody, or this person, has read its DANGER and WARNING in this pass.
bool cautions_unread(const Build& build, std::size_t step, std::string_view person);

// Of one entry that is on this engine.
std::vector<Blocker> entry_blockers(const Shop& shop, const Build& build, EntryAt at, const Moment& now);

// Of the release: every step on this engine that is not signed, but for those in the deferred sections; and what is in
// doubt in those that are.
std::vector<Blocker> release_blockers(const Shop& shop, const Build& build, const std::vector<std::string>& deferred,
                                      const Moment& now);

enum class StepStanding { not_yet, open, half_done, wants_second, signed_off, reopened, away, not_on_this_engine };
std::string_view name_of(StepStanding standing); // "not yet", "wants a second person", ...
StepStanding standing_of(const Build& build, std::size_t step);

// The first of the steps that must be signed before and is not; null when it is this step's turn.
const procedure::Step* waits_for(const Build& build, std::size_t step);

bool has_anything(const EntryState& entry);
bool has_anything(const StepState& step); // signed, something recorded, or a part gone in with it
// The verdict that troubles most in what is recorded there.
Standing worst_of(const EntryState& entry);

} // namespace build

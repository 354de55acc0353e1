// Where a tightening entry stands: what comes next, which bolts are in, what a stage aims at.
#pragma once

#include "build/limits.h"

namespace build {

// What a tightening entry asks for next: the first fastener of the lowest stage not done; nothing when all are done.
struct NextFastener {
  std::size_t fastener = 0;
  std::size_t stage = 0;
};
std::optional<NextFastener> next_fastener(const Build& build, EntryAt at);

// The stage is begun, but not every fastener has it.
bool half_done(const Build& build, EntryAt at, std::size_t stage);

// Minutes after which whoever goes on in the middle of a stage is asked whether the last fastener is sure. Common
// practice, no source.
constexpr int sure_for_minutes = 15;
// From this stage on nothing is turned by an angle or stretched, so a stage may be gone round again.
bool only_torque_from(const procedure::Entry& entry, std::size_t stage);

// In the middle of a stage, and left for longer than that, or done by somebody else so far.
bool interrupted(const Build& build, EntryAt at, const Moment& now, std::string_view person);
// The last fastener done in the order of tightening, in the stage at work; null when the stage is not begun.
const procedure::Fastener* last_sure(const Build& build, EntryAt at);

// Bolts belong to the joint: entries that take their fasteners over share them.
std::string joint_of(const Build& build, EntryAt at);
const BoltState& bolt_at(const Build& build, EntryAt at, std::size_t fastener); // empty when nothing is said of it

// What a stage aims at: a target, bounds or both. Codes "limit-missing", "option-unset".
struct Aim {
  const procedure::Limit* limit = nullptr;
  std::optional<Exact> target;
  std::optional<Bounds> bounds;
  Exact largest; // of what is aimed at: for plausibility

  Exact nominal() const; // the target, the middle of the bounds, or the bound there is
};
Result<Aim> aim_of(const Build& build, const procedure::Entry& entry, const procedure::Stage& stage);

// What is good: "78 to 82 N.m", or the bare target "40 N.m".
std::string text(const Aim& aim);

// Readings of a set taken one after the other while a joint goes together, as torque to turn the crank after each cap:
// the first that rises by more than twice the largest rise before it and by more than both readings' U together names
// the cap that binds (common practice, no source). In the order of the values.
struct Jump {
  std::size_t at = 0;
  Exact from, to;
};
std::optional<Jump> jump_in(const std::vector<const Cell*>& in_order);

} // namespace build

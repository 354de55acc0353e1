// The right part for another engine: a value outside its limit here that would be good under another choice of an
// option that the limit depends on (a standard piston in an oversize bore, or the other way about). Advice only, never
// part of an event.
#pragma once

#include "build/state.h"

namespace build {

struct OtherChoice {
  std::string option, choice; // ids
  auto operator<=>(const OtherChoice&) const = default;
};

// One option changed at a time; empty when the value is not outside.
std::vector<OtherChoice> other_choices(const Build& build, EntryAt at, std::size_t cell);                // of a reading
std::vector<OtherChoice> other_choices_of_calculated(const Build& build, EntryAt at, std::size_t place); // of a result

// "it is the size for \"Main journals ground under size, mm\" = 0.25; is it the part for this engine?"
std::string told(const Build& build, const std::vector<OtherChoice>& choices);

} // namespace build

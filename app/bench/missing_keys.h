// Which key leads on from what is missing: the gate says in a sentence what stands in the way (build/blockers.h), here
// stands which key of the window clears it.
#pragma once

#include "bench/ui.h"

#include <span>
#include <string_view>

namespace bench {

struct MissingKeys {
  std::string_view code;  // of a blocker
  std::string_view words; // "F8 says what is done about it"
};

// Of every code there is; what an entry lacks depends on its kind, see below.
std::span<const MissingKeys> missing_keys();

// The gate's sentence, and behind it the key: "Crank number is not written down yet. Enter writes it down.". Of another
// entry than the one at work: "Down goes there". While nobody is signed in: how one signs in.
std::string with_key(const Ui& ui, const build::Build& build, const build::Blocker& blocker);

// Goes to where something that stands in the way of the step at work can be cleared: another step of the sheet, the
// findings, the parts. False when nothing stands in its way elsewhere.
bool go_to_what_is_in_the_way(Ui& ui, const build::Build& build);

} // namespace bench

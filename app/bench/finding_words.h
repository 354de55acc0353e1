// What is said of findings, and in which order they stand. Whether one is open, what it holds up and what proves it is
// build's to say (build/findings.h).
#pragma once

#include "build/findings.h"

namespace bench {

// Open ones first: by the step that each holds up next, then those that hold up the release alone, then the slight
// ones; behind them what is cleared, first where its cause is still missing. Else as they were found.
// Copies: an action that is sent changes the build at once where nobody waits for it.
std::vector<build::Finding> findings_in_order(const build::Shop& shop, const build::Build& build,
                                              const calc::Moment& now);

// "3 findings open", "1 cause not written"; "" when nothing of that holds anything up.
std::string words_of_open(const build::Shop& shop, const build::Build& build, const calc::Moment& now);

bool lacks_cause(const build::Finding& finding);

// One sentence each.
struct Told {
  std::string standing; // "open", "cleared: rework", ...
  std::string found;    // by whom, when, where on it, with which reading
  std::string holds_up; // "" when it holds nothing up any more
  std::string proof;    // what clears it; "" once it is cleared
  std::string done;     // "" while nothing was
  std::string cause;    // "" where none is asked or written
  std::string usually;  // "" where the procedure does not say
};
Told told(const build::Shop& shop, const build::Build& build, const build::Finding& finding, const calc::Moment& now);

// Of a step that is signed: what is open on its parts all the same.
std::vector<std::string> open_though_signed(const build::Shop& shop, const build::Build& build, std::size_t step,
                                            const calc::Moment& now);

} // namespace bench
